/** A finding before it is priced and put into words. */
import type { Factor } from "../cells/predicted-loss.ts";
import type { GroundState } from "../compare/ground-state.ts";
import type { ContrastResult } from "../stand-model/contrast.ts";
import type { Basis, FindingKind } from "../vocabulary/causes.ts";
import type { LocalPolygon } from "../vocabulary/field.ts";
import type { Attribution, Deficit } from "./evidence/attribution.ts";
import type { WetShares } from "./evidence/wet-ground.ts";
import type { FillEffect } from "./find/fill-state.ts";
import type { PassTrend } from "./find/pass-trend.ts";

/** Variables whose departure from the rest of the field is listed by itself. */
export type DepartingVariable = "speed" | "downForceMargin" | "seedingDepth" | "misses" | "population";

/** One variable of a place that departs from the rest of the field, by the log alone; inside units. */
export interface LogDeparture {
  variable: DepartingVariable;
  inside: number;
  elsewhere: number;
  /** What was asked of the planter; null where nothing was. */
  target: number | [number, number] | null;
}

export interface Draft extends Attribution {
  kind: FindingKind;
  basis: Basis;
  detail: string | null;
  pValue: number | null;
  /** The contrast of the stand that the finding is about; left out for places and rows. */
  contrast?: ContrastResult;
  /** Outline in local metres, and the ground itself. */
  polygons: LocalPolygon[];
  areaM2: number;
  /** 1 for every record of the place. */
  inside: Uint8Array;
  /** True for a place that only counts show and that lies along a border of soils. */
  alongSoilBorder?: boolean;
  /** Shares of ground that the soil map calls wet by nature, in the place and on the rest; null where it says nothing. */
  wetShares?: WetShares | null;
  /** Our pass numbers where the place is specific to some passes, else empty. */
  passes: number[];
  rowUnits: number[];
  soilZones: string[];
  ground: GroundState;
  /** Predicted loss by factor over the place (for a row unit: of its variable's factor). */
  predicted: Record<Factor, number>;
  /** Deficit the counts show, null where they say nothing. */
  deficit: Deficit | null;
  /** Counted spots inside (indices into Spots) and digs inside (indices into Digs). */
  spots: number[];
  digs: number[];
  /** For a section: how its departure goes with the seed dropped since the last stop. */
  fill?: FillEffect | null;
  /** A steady change from pass to pass of what departs; null or left out where there is none. */
  trend?: PassTrend | null;
  /** Set for a place that is listed because the log departs there, whatever loss is expected of it. */
  logDepartures?: LogDeparture[];
  /** For a row unit, a set of rows or a pass: which variable departs and by how much (inside unit). */
  departure: { variable: string; shift: number; from: number; to: number; ofPasses: number } | null;
}
