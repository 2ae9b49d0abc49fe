/** The words in which the page asks about columns. */
import type { ColumnChoice } from "../../src/manifest/manifest-schema.ts";
import type { UnitSystem } from "../../src/quantities/format.ts";
import { convert, UNITS } from "../../src/quantities/units.ts";
import {
  COUNT_VARIABLES,
  DIG_VARIABLES,
  LOG_VARIABLES,
  SEED_LOT_VARIABLES,
  SOIL_VARIABLES,
  WEATHER_VARIABLES,
} from "../../src/vocabulary/variables.ts";
import { type ColumnQuestion, columnsOf, unitOf } from "../protocol/answers.ts";
import type { ValueName } from "../protocol/ground.ts";
import { formatQuantity, groupThousands } from "./format.ts";
import { VARIABLES } from "./variables.ts";

type Described = Readonly<Record<string, { title: string; unit: string }>>;

/** The variables that each part of a field may hold, by its role. */
export const DESCRIBED: Readonly<Record<string, Described>> = {
  plantingLog: LOG_VARIABLES,
  soilZones: SOIL_VARIABLES,
  seedLots: SEED_LOT_VARIABLES,
  standCounts: COUNT_VARIABLES,
  digs: DIG_VARIABLES,
  weather: WEATHER_VARIABLES,
};

const UNITS_SAID: Readonly<Record<string, string>> = {
  in: "inches",
  mm: "millimetres",
  cm: "centimetres",
  ft: "feet",
  m: "metres",
  lbf: "pounds",
  N: "newtons",
  daN: "decanewtons",
  kgf: "kilograms of force",
  "mi/h": "miles an hour",
  "km/h": "kilometres an hour",
  "m/s": "metres a second",
  "%": "percent",
  share: "shares from 0 to 1",
  deg: "degrees",
  rad: "radians",
  "seeds/ac": "seeds an acre",
  "1000 seeds/ac": "thousands of seeds an acre",
  "seeds/ha": "seeds a hectare",
  "1000 seeds/ha": "thousands of seeds a hectare",
  "plants/ac": "plants an acre",
  "1000 plants/ac": "thousands of plants an acre",
  "plants/ha": "plants a hectare",
  C: "degrees Celsius",
  F: "degrees Fahrenheit",
  "m/d/y": "the month first",
  "d/m/y": "the day first",
};

export function variableTitle({ role, variable }: Pick<ColumnQuestion, "role" | "variable">): string {
  return DESCRIBED[role]?.[variable]?.title ?? variable;
}

/** A sentence of the library with the names of variables, as a manifest has them, in words. */
export function titled(role: string, sentence: string): string {
  const names = Object.entries(DESCRIBED[role] ?? {}).filter(([name]) => /[A-Z]/.test(name));
  return names.reduce(
    (text, [name, { title }]) => text.replaceAll(new RegExp(`\\b${name}\\b`, "g"), title),
    sentence,
  );
}

/** "Which column is the seeding depth?", "In what unit is Depth, the seeding depth?" */
export function questionSaid(question: ColumnQuestion): string {
  const title = variableTitle(question);
  const given = question.answers.filter((answer) => answer !== null);
  const columns = new Set(given.map(columnSaid));
  const [only] = columns;
  if (columns.size > 1) return `Which column is the ${title}?`;
  if (given.some((answer) => isDayOrder(unitOf(answer)))) return `How are the dates of ${only} written?`;
  if (given.length === 1) return `Is ${only} the ${title}?`;
  return `In what unit is ${only}${only?.toLowerCase() === title ? "" : `, the ${title}`}?`;
}

/** What one answer says; for a unit also what the middle value of the column would be by it. */
export function answerSaid(question: ColumnQuestion, answer: ColumnChoice, system: UnitSystem): string {
  const given = question.answers.filter((each) => each !== null);
  if (answer === null) {
    const no = given.length > 1 ? "Can't tell" : "No";
    return `${no}: leave the ${variableTitle(question)} out`;
  }
  const unit = unitOf(answer);
  if (new Set(given.map(columnSaid)).size > 1)
    return unit === null ? columnSaid(answer) : `${columnSaid(answer)}, in ${unitSaid(unit)}`;
  if (given.length === 1) return unit === null ? "Yes" : `Yes, in ${unitSaid(unit)}`;
  if (unit === null) return columnSaid(answer);
  const middle = isDayOrder(unit) ? null : middleSaid(question, unit, system);
  return middle === null ? unitSaid(unit) : `${unitSaid(unit)}: the middle value would be ${middle}`;
}

function unitSaid(unit: string): string {
  return UNITS_SAID[unit] ?? unit;
}

function isDayOrder(unit: string | null): boolean {
  return unit === "m/d/y" || unit === "d/m/y";
}

/** "Depth", or "Depth_1 to Depth_24" for one column a row unit. */
function columnSaid(choice: ColumnChoice): string {
  const names = columnsOf(choice);
  return names.length > 1 ? `${names[0]} to ${names.at(-1)}` : (names[0] ?? "");
}

function middleSaid(question: ColumnQuestion, unit: string, system: UnitSystem): string | null {
  const middle = question.columns[0]?.middle ?? null;
  const inside = DESCRIBED[question.role]?.[question.variable]?.unit;
  if (middle === null || inside === undefined) return null;
  if (UNITS[unit]?.dimension !== UNITS[inside]?.dimension || !UNITS[unit]) return null;
  const value = convert(middle, unit, inside);
  const words = question.role === "plantingLog" ? VARIABLES[question.variable as ValueName] : undefined;
  return words
    ? formatQuantity(value, words.kind, system)
    : `${groupThousands(String(Number(value.toPrecision(3))))} ${inside}`;
}
