/**
 * How the catalogues describe a variable: what it is called in files and how large it usually is.
 * Typical ranges are those of the middle of a column and choose a unit; possible ranges bound single values.
 * Both are our judgement of ordinary corn and soybean planting unless a source stands beside them.
 */
import { convert, type Dimension, UNITS } from "../quantities/units.ts";

/** One way to name a variable: canonical words (see `column-words.ts`) that must all be there. */
export interface NamePattern {
  words: readonly string[];
  /** 0..1: how sure the name is when nothing else stands in it. */
  weight: number;
  /** The name must also end with a unit of this dimension. */
  needs?: Dimension;
  /** Only for a family of numbered columns. */
  familyOnly?: boolean;
}

type ValueKind = "quantity" | "number" | "label" | "time" | "flag" | "category" | "list";

export interface VariableDescription {
  kind: ValueKind;
  /** Dimension of a quantity. */
  dimension?: Dimension;
  /** Unit inside the library. */
  insideUnit?: string;
  patterns: readonly NamePattern[];
  /** Words that rule the variable out. */
  not?: readonly string[];
  /** Units considered when the name has none; else those of the dimension would be too many. */
  candidateUnits?: readonly string[];
  /** Units looked at only where the values are usual in none of the candidates, or another measure names one. */
  rareUnits?: readonly string[];
  /** Low and high end of the usual middle of the column (see `middle`), inside unit. */
  typical?: readonly [number, number];
  /** Which figure of the column `typical` speaks of. Default the median of the values that are not zero. */
  middle?: "median" | "p95";
  /** Single values beyond these are not possible and are left out, inside unit. */
  possible?: readonly [number, number];
  /** Reads a cell of text that is no plain number; null where it cannot. */
  readCell?: (text: string) => number | null;
  /** What a family of numbered columns is: one column per row unit (default), parts to add up, or nothing. */
  family?: "row units" | "sum" | "none";
  /** Without this word in its name a column of numbers may be something else, and is asked about. */
  sureWord?: { word: string; doubt: string };
  /** May be given in percent ("%") of the target of the same quantity. */
  percentOfTarget?: boolean;
  /** Seeds in a kilogram, where a rate by weight can be read with it. */
  seedsPerKg?: number;
  /** The name may say how much ground was counted ("plants per 17'5\""). */
  groundInName?: boolean;
  /** Nothing hangs on it: where its unit stays open it is not used, and nobody is asked. */
  dispensable?: boolean;
  /** A column that is zero throughout is a sensor that is not there. */
  zeroMeansAbsent?: boolean;
}

export const pattern = (words: string, weight: number, needs?: Dimension): NamePattern => ({
  words: words.split(" "),
  weight,
  ...(needs === undefined ? {} : { needs }),
});

/** A value of a variable in its inside unit; a rate by weight becomes one by number where the size of the seed is known. */
export function insideValue(
  value: number,
  unit: string,
  { insideUnit, seedsPerKg }: VariableDescription,
): number {
  if (seedsPerKg !== undefined && UNITS[unit]?.dimension === "massPerArea")
    return convert(value, unit, "kg/ha") * seedsPerKg;
  return convert(value, unit, insideUnit ?? unit);
}

export const SHARE_UNITS = ["%", "share"] as const;
export const OTHER_STATISTIC = ["deviation", "variation"] as const;

export const DEPTH = {
  kind: "quantity",
  dimension: "length",
  insideUnit: "mm",
  candidateUnits: ["in", "mm", "cm"],
  typical: [25, 90],
  possible: [0, 250],
} as const;

export const SHARE = {
  kind: "quantity",
  dimension: "share",
  insideUnit: "share",
  candidateUnits: SHARE_UNITS,
  possible: [0, 1],
} as const;

/** The variables of a layer; the order is the one they are shown in. */
export type Catalogue = Readonly<Record<string, VariableDescription>>;
