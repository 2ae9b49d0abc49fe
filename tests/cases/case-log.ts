/** The planting log of a case, as the text of a CSV. */
import { normal, type Random, seededRandom } from "../../src/numerics/random.ts";
import { type CaseGround, degreesAt, round, valueAt } from "./case-ground.ts";
import type { By, CaseSetup, LogColumn } from "./case-setup.ts";

const SECTION_ROWS = 4;
const MILE_PER_HOUR = 0.44704;
const FEET_PER_METRE = 1 / 0.3048;
const TURN_SECONDS = 30;
/** Share of the variance of a reading that goes on from moment to moment, and how strongly. */
const DRIFT_SHARE = 0.4;
const DRIFT_MEMORY = 0.7;
/** SD of the standing differences between sound row units. */
const UNIT_DEPTH_IN = 0.03;
const UNIT_LOAD_LBF = 4;

const NAMES: Record<LogColumn, string> = {
  time: "TIME",
  speed: "SPEED_MPH",
  depth: "DEPTH_IN",
  load: "LOAD_LBF",
  rate: "RATE_SEEDS_AC",
  skips: "SKIPS_PCT",
  doubles: "DOUBLES_PCT",
  swath: "SWATH_FT",
};

/** Every record, in order of time. */
export function caseLog(setup: CaseSetup, ground: CaseGround): string {
  const random = seededRandom(setup.seed * 7919 + 1);
  const units = Array.from({ length: setup.rows }, () => ({
    depth: UNIT_DEPTH_IN * normal(random),
    load: UNIT_LOAD_LBF * normal(random),
  }));
  const groups = rowGroups(setup);
  const position = { bar: [], section: ["SECTION"], row: ["ROW_UNIT"] }[setup.records];
  const names = [
    "LONGITUDE",
    "LATITUDE",
    ...position,
    ...setup.columns.map((column) => NAMES[column]),
    ...Object.keys(setup.moreColumns),
  ];
  const lines = [names.map((name) => setup.rename[name] ?? name).join(",")];
  const moments = Math.floor(setup.lengthM / setup.stepM);
  const clock = new Map<string, number>();
  for (let pass = 1; pass <= ground.lanes.length; pass++) {
    const date = setup.dateOf(pass, ground.lanes.length);
    let seconds = clock.get(date) ?? Date.parse(`${date}T13:00:00Z`) / 1000;
    const depthDrift = drifting(random);
    const loadDrift = drifting(random);
    for (let moment = 0; moment < moments; moment++) {
      const along = (moment + 0.5) * setup.stepM;
      const y = ground.isNorthward(pass) ? along : setup.lengthM - along;
      const [depthNow, loadNow] = [depthDrift(), loadDrift()];
      const speed = valueAt(setup.speedMph, ground.spot(pass, 1, y)) + 0.1 * normal(random);
      for (const [index, rows] of groups.entries()) {
        const spots = rows.map((row) => ground.spot(pass, row, y));
        const mean = (by: By<number>): number => meanOf(spots, (spot) => valueAt(by, spot));
        const skips = metered(mean(setup.skips), random);
        const doubles = metered(mean(setup.doubles), random);
        const wobble = (drift: number): number => drift + Math.sqrt(1 - DRIFT_SHARE) * normal(random);
        const load =
          mean(setup.loadLbf) +
          meanOf(rows, (row) => units[row - 1]!.load) +
          mean(setup.loadSpreadLbf) * wobble(loadNow);
        const values: Record<LogColumn, number | string> = {
          time: new Date(seconds * 1000).toISOString(),
          speed: round(speed, 2),
          depth: round(
            mean(setup.depthIn) +
              meanOf(rows, (row) => units[row - 1]!.depth) +
              setup.depthSpreadIn * wobble(depthNow),
            3,
          ),
          load: round(Math.max(0, load), 1),
          rate: round(mean(setup.rate ?? setup.target) * (1 - skips + doubles), 0),
          skips: round(100 * skips, 2),
          doubles: round(100 * doubles, 2),
          swath: round(rows.length * ground.spacingM * FEET_PER_METRE, 3),
        };
        const middle = spots[0]!.x / 2 + spots.at(-1)!.x / 2;
        const more = Object.values(setup.moreColumns).map((by) => {
          const each = spots.map((spot) => valueAt(by, spot));
          return typeof each[0] === "string" ? each[0] : round(meanOf(each as number[], Number), 2);
        });
        lines.push(
          [
            ...degreesAt(middle, y),
            ...(setup.records === "bar" ? [] : [index + 1]),
            ...setup.columns.map((column) => values[column]),
            ...more,
          ].join(","),
        );
      }
      seconds += setup.stepM / (speed * MILE_PER_HOUR);
    }
    clock.set(date, seconds + TURN_SECONDS);
  }
  return `${lines.join("\n")}\n`;
}

function rowGroups({ rows, records }: CaseSetup): number[][] {
  const size = { bar: rows, section: SECTION_ROWS, row: 1 }[records];
  return Array.from({ length: rows / size }, (_, group) =>
    Array.from({ length: size }, (_, k) => group * size + k + 1),
  );
}

function meanOf<Item>(items: readonly Item[], value: (item: Item) => number): number {
  return items.reduce((sum, item) => sum + value(item), 0) / items.length;
}

/** A share of seeds as a meter reads it over some hundred seeds. */
function metered(share: number, random: Random): number {
  return Math.max(0, share + 0.006 * normal(random));
}

/** Noise that goes on from one moment to the next, of variance {@link DRIFT_SHARE}. */
function drifting(random: Random): () => number {
  const scale = Math.sqrt(DRIFT_SHARE);
  let now = normal(random);
  return () => {
    now = DRIFT_MEMORY * now + Math.sqrt(1 - DRIFT_MEMORY ** 2) * normal(random);
    return scale * now;
  };
}
