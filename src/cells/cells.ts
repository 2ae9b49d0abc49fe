/**
 * Cells: pieces of a pass about 12 m long and as wide as the bar. They carry what the causes and the
 * search for groups need; one entry a cell.
 */
import type { PlantingVariable } from "../vocabulary/variables.ts";
import type { ZoneShares } from "./zone-shares.ts";

export interface Cells {
  count: number;
  /** Our pass number and the piece along it (0-based). */
  pass: Int32Array;
  piece: Int32Array;
  /** Centre, local metres, and area. */
  x: Float64Array;
  y: Float64Array;
  areaM2: Float64Array;
  headingDeg: Float64Array;
  /** Soil zone index of the most records, -1 where none. */
  zone: Int32Array;
  /** Share of each cell in each zone, which tells how near a border it lies; left out where the cells were not made from records. */
  zoneShares?: ZoneShares;
  /** Mean of each variable over the cell's records; NaN where none has a value. Only variables the log has. */
  mean: Partial<Record<PlantingVariable, Float64Array>>;
  /** Pooled within-row-unit SD of seeding depth, mm. */
  depthSdMm: Float64Array | null;
  /** 10th percentile of the margin (type 7), N, and share of records with (nearly) no load. */
  marginP10N: Float64Array | null;
  noLoadShare: Float64Array | null;
  records: Int32Array;
}
