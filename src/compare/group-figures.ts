/** The plain figures of a group of records. */
import { MAD_TO_SD, mean, standardDeviation } from "../numerics/descriptive.ts";
import { quantileInPlace, quantilesInPlace } from "../numerics/quantile.ts";
import type { Passes } from "../passes/passes.ts";
import type { ComparisonRow } from "./comparison.ts";
import type { TargetLimits } from "./target-limits.ts";
import { THRESHOLDS } from "./thresholds.ts";

export type GroupFigures = Pick<
  ComparisonRow,
  | "records"
  | "areaHa"
  | "mean"
  | "sd"
  | "p10"
  | "p50"
  | "p90"
  | "shareOutside"
  | "robustSd"
  | "shareBelow"
  | "shareAbove"
  | "withinTolerance"
  | "noLoadShare"
>;

/**
 * Figures of the records that have a value: mean, SD (n - 1), quantiles of type 7, robust SD, ground they stand for,
 * the shares of them below, above and outside the target (of those with a target), and what the variable has of
 * its own: depth the share on target, load the share without load.
 * @param work room for the values, at least as long as `records`; overwritten
 * @returns null when no record has a value
 */
export function groupFigures(
  variable: ComparisonRow["variable"],
  values: Float64Array,
  records: Int32Array,
  passes: Passes,
  limits: TargetLimits | null,
  work: Float64Array,
): GroupFigures | null {
  let count = 0;
  let areaM2 = 0;
  let judged = 0;
  let below = 0;
  let above = 0;
  let without = 0;
  for (const record of records) {
    const value = values[record]!;
    if (Number.isNaN(value)) continue;
    work[count++] = value;
    areaM2 += passes.distanceM[record]! * passes.widthM[record]!;
    if (value <= THRESHOLDS.noLoad.value) without++;
    if (!limits) continue;
    const low = limits.low(record);
    if (Number.isNaN(low)) continue;
    judged++;
    if (value < low) below++;
    else if (value > limits.high(record)) above++;
  }
  if (count === 0) return null;
  const average = mean(work, 0, count);
  const sd = count > 1 ? standardDeviation(work, 0, count) : null;
  const [p10, p50, p90] = quantilesInPlace(work, [0.1, 0.5, 0.9], 0, count) as [number, number, number];
  const onTarget = judged - below - above;
  const share = (part: number): number | null => (judged > 0 ? part / judged : null);
  return {
    records: count,
    areaHa: areaM2 / 10_000,
    mean: average,
    sd,
    p10,
    p50,
    p90,
    shareOutside: share(below + above),
    robustSd: count > 1 ? robustDeviation(work, p50, count) : null,
    shareBelow: share(below),
    shareAbove: share(above),
    withinTolerance: variable === "seedingDepth" ? share(onTarget) : null,
    noLoadShare: variable === "downForceMargin" ? without / count : null,
  };
}

/** 1.4826 times the median absolute deviation from the median; the first `count` values are overwritten. */
function robustDeviation(work: Float64Array, middle: number, count: number): number {
  for (let place = 0; place < count; place++) work[place] = Math.abs(work[place]! - middle);
  return MAD_TO_SD * quantileInPlace(work, 0.5, 0, count);
}
