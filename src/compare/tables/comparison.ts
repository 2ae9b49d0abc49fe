/** Rows of the comparison tables: pass x soil zone, row unit x soil zone; null where a row runs over all. */
export interface ComparisonRow {
  pass: number | null;
  soilZone: string | null;
  rowUnit: number | null;
  variable:
    | "seedingDepth"
    | "downForceMargin"
    | "groundContact"
    | "singulation"
    | "multiples"
    | "misses"
    | "population"
    | "speed"
    | "acceleration"
    | "downForce"
    | "spacingVariation";
  /** Unit of the figures below: mm, N, share, seeds/ha, m/s, m/s2. */
  unit: string;
  records: number;
  areaHa: number;
  mean: number;
  /** Sample SD (n-1); null for one record. */
  sd: number | null;
  /** Quantiles type 7 (Hyndman & Fan 1996). */
  p10: number;
  p50: number;
  p90: number;
  /** Share of records outside the target; null when there is no target for the variable. */
  shareOutside: number | null;
  /** Mean minus the mean of the others (other passes of the zone, other row units at the same moments); null when there are none. */
  difference: number | null;
  low: number | null;
  high: number | null;
  level: number;
  /** SD that outliers do not move: 1.4826 times the median absolute deviation from the median (p50); null for one record. */
  robustSd: number | null;
  /** Share of records below and above the target; they sum to `shareOutside`; null when there is no target. */
  shareBelow: number | null;
  shareAbove: number | null;
  /** Depth only: share of records within 6 mm of the target; null for other variables and without a target. */
  withinTolerance: number | null;
  /** Depth only: SD along the row, mm, from steps between successive records of a row unit; null with fewer than four steps, for other variables and for a depth that is only set. */
  spreadAlongRow: number | null;
  /** Load (margin) only: share of records without load; null for other variables. */
  noLoadShare: number | null;
  /** Whether the pass is one of the end rows; null where the row runs over all passes. */
  headland: boolean | null;
}
