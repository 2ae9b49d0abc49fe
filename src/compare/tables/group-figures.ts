/** The plain figures of a group of records. */
import type { OrderFigures } from "../../numerics/value-bins.ts";
import type { ComparisonRow } from "./comparison.ts";
import type { GroupSums } from "./run-sums.ts";

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
  | "spreadAlongRow"
>;

/** Fewer steps along the row than this say nothing of its spread. */
const FEWEST_STEPS = 4;

/**
 * Figures of the records that have a value: mean, SD (n - 1), quantiles of type 7, robust SD, ground they stand for,
 * the shares of them below, above and outside the target (of those with a target), and what the variable has of
 * its own: depth the share on target and the spread along the row, load the share without load.
 */
export function groupFigures(
  variable: ComparisonRow["variable"],
  sums: GroupSums,
  order: OrderFigures,
): GroupFigures {
  const { count, judged, below, above, steps } = sums;
  const several = count > 1;
  const share = (part: number): number | null => (judged > 0 ? part / judged : null);
  return {
    records: count,
    areaHa: sums.areaM2 / 10_000,
    mean: sums.mean,
    sd: several ? Math.sqrt(sums.squares / (count - 1)) : null,
    p10: order.p10,
    p50: order.p50,
    p90: order.p90,
    shareOutside: share(below + above),
    robustSd: several ? order.robustSd : null,
    shareBelow: share(below),
    shareAbove: share(above),
    withinTolerance: variable === "seedingDepth" ? share(judged - below - above) : null,
    noLoadShare: variable === "downForceMargin" ? sums.withoutLoad / count : null,
    spreadAlongRow: steps >= FEWEST_STEPS ? Math.sqrt(sums.halfSquares / steps) : null,
  };
}
