/** A finding: its heading, where it lies, what was seen, what else could do it. Figures come with their units. */
import { lists } from "./lists.ts";

export const findings = {
  cannotTell: (title: string, causes: readonly string[]): string => `${title}: ${causes.join(" or ")}`,
  /** `title` begins with a small letter where the language has nouns small. */
  titleOfUnit: (rows: string, title: string): string => `Row unit ${rows}: ${title}`,
  titleOfRows: (rows: string, title: string): string => `Rows ${rows}: ${title}`,
  /** Titles begin small behind a colon. */
  isTitleLowered: true,
  under1Percent: "under 1 %",
  over99Percent: "over 99 %",
  couldBe: (causes: string): string => `Could be: ${causes}.`,
  couldAlsoBe: (causes: string): string => `Could also be: ${causes}.`,
  allOthers: (percent: string): string => `All other causes together: ${percent}.`,
  soils: (names: readonly string[]): string => names.join(" and "),
  inEveryPass: "in every pass",
  inPasses: (some: number, all: number): string => `in ${some} of ${all} passes`,
  passes: (count: number, numbers: string): string => `${count === 1 ? "pass" : "passes"} ${numbers}`,
  planted: (isoDate: string): string => `planted ${isoDate}`,
  figure: (name: string, here: string): string => `${name}: ${here} here`,
  figureElsewhere: (name: string, here: string, elsewhere: string): string =>
    `${name}: ${here} here, ${elsewhere} elsewhere`,
  aim: (figure: string, target: string): string => `${figure} (aim ${target})`,
  range: (low: string, high: string): string => `${low} to ${high}`,
  asElsewhere: (names: readonly string[]): string => `the log is as elsewhere here: ${lists.all(names)}`,
  digs: (signs: readonly string[]): string => `digs: ${signs.join(", ")}`,
  sign: (sign: string, seen: number, looked: number): string => `${sign} in ${seen} of ${looked}`,
  alongSoilBorder:
    "most of it lies along the border of two soils: where the soil map is off, ground that is only the other soil looks short",
  wetByNature: (here: string, elsewhere: string): string =>
    `soil map: ${here} of it somewhat poorly drained by nature or wetter, ${elsewhere} of the rest; drains laid since are not in the map`,
  tooWetThatDay:
    "by the weather and the soil map most of it was too wet to plant that day: the advice would have been to wait",
  plantedTwice: (area: string, parts: number): string =>
    `${area} lie under two passes or more, in ${parts} ${parts === 1 ? "part" : "parts"} at least half a bar wide`,
  notPlanted: (area: string, parts: number): string =>
    `the log has no record on ${area}, in ${parts} ${parts === 1 ? "part" : "parts"} at least half a bar wide: not planted, or not logged`,
};

export const digSigns = {
  "smeared wall": "furrow wall smeared",
  "leafed out underground": "seed leafed out underground",
  rotted: "seed rotted",
  swollen: "seed swollen, not sprouted",
  hollow: "seed hollow",
  "dug shallow": "seed shallower than the target",
  "dug deep": "seed deeper than the target",
  "open furrow": "furrow open",
  "residue in furrow": "residue in the furrow",
};
