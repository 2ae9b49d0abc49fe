/** What the user answers about columns, and the field manifest with the answers in it. */
import type { ColumnChoice } from "../../src/manifest/manifest-schema.ts";

/** One question about a file: which column a variable is, or in what unit. */
export interface ColumnQuestion {
  /** Key of the layer in the manifest. */
  role: string;
  variable: string;
  /** What is unclear and why, as the library says it. */
  why: string;
  /** What may stand in `columns` of the layer; null leaves the variable out. */
  answers: ColumnChoice[];
  columns: ColumnGlimpse[];
}

/** What one column holds, as far as it helps to tell what it is. */
export interface ColumnGlimpse {
  name: string;
  records: number;
  /** Records without a value. */
  missing: number;
  /** The first few different values, as text. */
  samples: string[];
  /** Middle value (median), in the file's unit; null for text. */
  middle: number | null;
  /** Null for text, and where there is no value. */
  histogram: Histogram | null;
}

/** Bars of one width from `low` to `high`, in the file's unit. */
export interface Histogram {
  low: number;
  high: number;
  counts: number[];
  /** How many values are lower or higher than the bars, and the ends of all values. */
  beyond: number;
  least: number;
  most: number;
}

/** The manifest with a choice for each question, in the order of the questions; the one given is left as it is. */
export function withAnswers(
  manifest: Readonly<Record<string, unknown>>,
  questions: readonly Pick<ColumnQuestion, "role" | "variable">[],
  answers: readonly ColumnChoice[],
): Record<string, unknown> {
  const answered: Record<string, unknown> = { ...manifest };
  questions.forEach(({ role, variable }, index) => {
    const layer = answered[role] as { columns?: Record<string, unknown> };
    answered[role] = { ...layer, columns: { ...layer.columns, [variable]: answers[index] } };
  });
  return answered;
}

/** Names of the columns a choice takes; none for a variable left out. */
export function columnsOf(choice: ColumnChoice): string[] {
  if (choice === null) return [];
  if (typeof choice === "string") return [choice];
  return Array.isArray(choice) ? choice : [choice.column].flat();
}

/** Unit a choice names; null where it names none. */
export function unitOf(choice: ColumnChoice): string | null {
  return choice !== null && typeof choice === "object" && !Array.isArray(choice)
    ? (choice.unit ?? null)
    : null;
}
