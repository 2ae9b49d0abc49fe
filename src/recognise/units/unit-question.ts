/** A quantity whose unit is asked for, and the figures of its column in a unit. */
import { UNITS } from "../../quantities/units.ts";
import { insideValue, type VariableDescription } from "../../vocabulary/variable-description.ts";
import type { ColumnSummary } from "../column-summary.ts";
import type { SplitName } from "./unit-suffix.ts";

export interface UnitQuestion {
  variable: string;
  description: VariableDescription;
  split: SplitName;
  summary: ColumnSummary;
  /** Values of the (first) column, NaN where missing. */
  values: Float64Array;
  /** Unit the manifest gives, null where it gives none. */
  given: string | null;
  /** Unit written in the cells beside the numbers, null where there is none. */
  inCells: string | null;
}

/** What is known beside the columns. */
export interface UnitHints {
  /** Expected middle of a variable, inside unit, from the manifest's targets or planter. */
  expected: Readonly<Record<string, { value: number; source: string }>>;
  /** Median distance between successive records, metres; null where not known. */
  stepMetres: number | null;
  /** Median speed between the positions by the log's own times, m/s; null where not known. */
  metresPerSecond: number | null;
  /**
   * Median angle between headings and the direction to the next position, degrees; headings times `toDegrees` are
   * degrees clockwise from north. Null where the positions are not known.
   */
  turnDeg: ((headings: Float64Array, toDegrees: number) => number) | null;
  /** Whether nearly the whole way runs north, null where the positions are not known. */
  runsNorth: boolean | null;
  crop: "corn" | "soybean" | "other";
  /** Seeds in a kilogram; null where not known. */
  seedsPerKg: number | null;
}

/** Nothing is known. */
export const NO_HINTS: UnitHints = {
  expected: {},
  stepMetres: null,
  metresPerSecond: null,
  turnDeg: null,
  runsNorth: null,
  crop: "corn",
  seedsPerKg: null,
};

export interface Decided {
  unit: string;
  confidence: number;
  reason: string;
  note?: string;
}

export type UnitAnswer =
  | Decided
  /** Several units are left (or none fits well); the user has to say. */
  | { choices: string[]; reason: string };

/** The figure of a column that its usual range speaks of. */
export function middleOf({ description, summary }: UnitQuestion): number {
  if (description.middle === "p95") return Math.max(Math.abs(summary.p5), Math.abs(summary.p95));
  return Number.isNaN(summary.medianNonZero) ? summary.median : summary.medianNonZero;
}

/** True where the column's middle is usual in this unit, or at most `slack` times outside. */
export function isTypical(question: UnitQuestion, unit: string, slack = 1): boolean {
  const [low, high] = question.description.typical ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  const middle = insideValue(middleOf(question), unit, question.description);
  const lowest = low > 0 ? low / slack : low * slack;
  return middle >= lowest && middle <= high * slack && isPossible(question, unit);
}

/** Nine tenths of the values (for shares: all of them) are possible in this unit. */
export function isPossible({ description, summary }: UnitQuestion, unit: string): boolean {
  const [low, high] = description.possible ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  const largest = description.dimension === "share" ? summary.maximum : summary.p95;
  return (
    insideValue(largest, unit, description) <= high * (1 + 1e-9) &&
    insideValue(summary.p5, unit, description) >= low
  );
}

export function typicalUnits(question: UnitQuestion): string[] {
  const { candidateUnits = [], rareUnits = [] } = question.description;
  const usual = candidateUnits.filter((unit) => isTypical(question, unit));
  return usual.length > 0 ? usual : rareUnits.filter((unit) => isTypical(question, unit));
}

/** Range and median of the column as they stand in the file. */
export function figures({ summary }: UnitQuestion): string {
  return `${tidy(summary.minimum)} to ${tidy(summary.maximum)}, median ${tidy(summary.median)}`;
}

/** The column's middle in a unit and in the inside unit, for messages. */
export function shown(question: UnitQuestion, unit: string): string {
  const { description } = question;
  const middle = middleOf(question);
  const insideUnit = description.insideUnit ?? unit;
  const own = `${tidy(middle)} ${unit}`;
  const name = description.middle === "p95" ? "95 % of values up to" : "median";
  if (insideUnit === unit || UNITS[unit]?.dimension === "share") return `${name} ${own}`;
  return `${name} ${own} = ${tidy(insideValue(middle, unit, description))} ${insideUnit}`;
}

/** A number in at most four significant digits. */
export function tidy(value: number): string {
  if (!Number.isFinite(value)) return "none";
  const size = Math.abs(value);
  if (size >= 1000) return String(Math.round(value));
  return String(Number(value.toPrecision(4)));
}
