/** A finding: its heading, where it lies, what was seen, what else could do it. Not yet read by anyone who grew up with German. */
import type { ENGLISH } from "../en/english.ts";
import { lists } from "./lists.ts";

const inParts = (parts: number): string =>
  parts === 1
    ? "in einem Teil von mindestens halber Arbeitsbreite"
    : `in ${parts} Teilen von mindestens halber Arbeitsbreite`;

export const findings: Partial<(typeof ENGLISH)["findings"]> = {
  cannotTell: (title, causes) => `${title}: ${causes.join(" oder ")}`,
  titleOfUnit: (rows, title) => `Säaggregat ${rows}: ${title}`,
  titleOfRows: (rows, title) => `Reihen ${rows}: ${title}`,
  // Nouns keep their capital.
  isTitleLowered: false,
  under1Percent: "unter 1 %",
  over99Percent: "über 99 %",
  couldBe: (causes) => `Möglich: ${causes}.`,
  couldAlsoBe: (causes) => `Auch möglich: ${causes}.`,
  allOthers: (percent) => `Alle anderen Ursachen zusammen: ${percent}.`,
  soils: (names) => names.join(" und "),
  inEveryPass: "in jeder Überfahrt",
  inPasses: (some, all) => `in ${some} von ${all} Überfahrten`,
  passes: (count, numbers) => `${count === 1 ? "Überfahrt" : "Überfahrten"} ${numbers}`,
  planted: (isoDate) => `gesät ${isoDate}`,
  figure: (name, here) => `${name}: hier ${here}`,
  figureElsewhere: (name, here, elsewhere) => `${name}: hier ${here}, sonst ${elsewhere}`,
  aim: (figure, target) => `${figure} (Soll ${target})`,
  range: (low, high) => `${low} bis ${high}`,
  asElsewhere: (names) => `das Protokoll ist hier wie anderswo: ${lists.all!(names)}`,
  digs: (signs) => `Grabungen: ${signs.join(", ")}`,
  sign: (sign, seen, looked) => `${sign} bei ${seen} von ${looked}`,
  alongSoilBorder:
    "das meiste liegt an der Grenze zweier Böden: wo die Bodenkarte ungenau ist, sieht Boden, der nur der andere ist, nach zu wenig Pflanzen aus",
  wetByNature: (here, elsewhere) =>
    `Bodenkarte: ${here} davon von Natur aus mäßig schlecht dräniert oder nasser, ${elsewhere} des Rests; seither verlegte Dräne stehen nicht in der Karte`,
  tooWetThatDay:
    "nach Wetter und Bodenkarte war das meiste davon an diesem Tag zum Säen zu nass: der Rat wäre gewesen, zu warten",
  plantedTwice: (area, parts) => `${area} liegen unter zwei oder mehr Überfahrten, ${inParts(parts)}`,
  notPlanted: (area, parts) =>
    `das Protokoll hat auf ${area} keinen Datensatz, ${inParts(parts)}: nicht gesät oder nicht aufgezeichnet`,
};

export const digSigns: Partial<(typeof ENGLISH)["digSigns"]> = {
  "smeared wall": "Furchenwand verschmiert",
  "leafed out underground": "Keimling unter der Erde ergrünt",
  rotted: "Korn verfault",
  swollen: "Korn gequollen, nicht gekeimt",
  hollow: "Korn hohl",
  "dug shallow": "Korn flacher als das Soll",
  "dug deep": "Korn tiefer als das Soll",
  "open furrow": "Furche offen",
  "residue in furrow": "Ernterückstände in der Furche",
};
