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
    | "downForce"
    | "spacingVariation";
  /** Unit of the figures below: mm, N, share, seeds/ha, m/s. */
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
}
