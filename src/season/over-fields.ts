/** Differences found within fields, put together over them: the fields as replicates (Student's t). */
import { mean, standardDeviation } from "../numerics/descriptive.ts";
import { studentTCdf, studentTQuantile } from "../numerics/distributions.ts";
import type { Estimate } from "../numerics/estimate.ts";

export interface OverFields {
  fields: number;
  difference: Estimate;
  pValue: number;
  /** Corrected for all tests of the season; null until they are all known. */
  qValue: number | null;
}

const LEVEL = 0.9;
/** Fewer fields than this say nothing (our judgement). */
const FEWEST_FIELDS = 3;

/** @returns null of too few fields */
export function overFields(values: readonly number[]): OverFields | null {
  if (values.length < FEWEST_FIELDS) return null;
  const df = values.length - 1;
  const estimate = mean(values);
  const error = standardDeviation(values) / Math.sqrt(values.length);
  const half = studentTQuantile(0.5 + LEVEL / 2, df) * error;
  return {
    fields: values.length,
    difference: { estimate, low: estimate - half, high: estimate + half, level: LEVEL },
    pValue: error > 0 ? 2 * studentTCdf(-Math.abs(estimate) / error, df) : 1,
    qValue: null,
  };
}

/** The values of each name and variable, in the order of the names. */
export function byNameAndVariable<Variable extends string>(
  differences: readonly { name: string; variable: Variable; value: number }[],
): { name: string; variable: Variable; values: number[] }[] {
  const groups = new Map<string, { name: string; variable: Variable; values: number[] }>();
  for (const { name, variable, value } of differences) {
    const key = `${name}\n${variable}`;
    const group = groups.get(key) ?? { name, variable, values: [] };
    group.values.push(value);
    groups.set(key, group);
  }
  return [...groups.values()].sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
}
