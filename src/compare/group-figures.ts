/** The plain figures of a group of records. */
import { mean, standardDeviation } from "../numerics/descriptive.ts";
import { quantilesInPlace } from "../numerics/quantile.ts";
import type { Passes } from "../passes/passes.ts";
import type { ComparisonRow } from "./comparison.ts";
import type { TargetLimits } from "./target-limits.ts";

export type GroupFigures = Pick<
  ComparisonRow,
  "records" | "areaHa" | "mean" | "sd" | "p10" | "p50" | "p90" | "shareOutside"
>;

/**
 * Figures of the records that have a value: mean, SD (n - 1), quantiles of type 7, ground they stand for, and the
 * share of them outside the target (of those with a target).
 * @param work room for the values, at least as long as `records`; overwritten
 * @returns null when no record has a value
 */
export function groupFigures(
  values: Float64Array,
  records: Int32Array,
  passes: Passes,
  limits: TargetLimits | null,
  work: Float64Array,
): GroupFigures | null {
  let count = 0;
  let areaM2 = 0;
  let judged = 0;
  let outside = 0;
  for (const record of records) {
    const value = values[record]!;
    if (Number.isNaN(value)) continue;
    work[count++] = value;
    areaM2 += passes.distanceM[record]! * passes.widthM[record]!;
    if (!limits) continue;
    const low = limits.low(record);
    if (Number.isNaN(low)) continue;
    judged++;
    if (value < low || value > limits.high(record)) outside++;
  }
  if (count === 0) return null;
  const average = mean(work, 0, count);
  const sd = count > 1 ? standardDeviation(work, 0, count) : null;
  const [p10, p50, p90] = quantilesInPlace(work, [0.1, 0.5, 0.9], 0, count) as [number, number, number];
  return {
    records: count,
    areaHa: areaM2 / 10_000,
    mean: average,
    sd,
    p10,
    p50,
    p90,
    shareOutside: judged > 0 ? outside / judged : null,
  };
}
