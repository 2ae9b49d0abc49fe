/** What strips left at the old setting show, format evenstand/proof/1. What is unknown is null, never absent. */
import type { LossMoney } from "../cost/money.ts";
import type { Estimate } from "../numerics/estimate.ts";

export const PROOF_SCHEMA = "evenstand/proof/1";

/**
 * gained, lost: the interval lies above, below 0; not-shown: it reaches across 0; too-few: fewer counts than can tell;
 * not-carried: the loads did not differ as asked, so that the counts say nothing of them.
 */
export type ProofVerdict = "gained" | "lost" | "not-shown" | "too-few" | "not-carried";

/** One side of a comparison: the strip, or the ground beside it with the new load. */
export interface ProofSide {
  /** Load asked for and carried, N. */
  askedN: number | null;
  carriedN: number | null;
  /** Share of records without load. */
  noLoadShare: number | null;
  depthMm: number | null;
  /** SD of the depth within a row unit, mm. */
  depthSdMm: number | null;
  /** Ground looked at in the log, ha. */
  areaHa: number;
  counts: number;
  /** Plants/ha, mean of the counts. */
  standPerHa: number | null;
}

export interface ProofStripResult {
  zone: string;
  soil: string;
  strip: ProofSide;
  beside: ProofSide;
  /** (carried beside - carried in the strip) / (asked beside - asked in the strip); null where one is not known. */
  carriedOut: number | null;
  /** Stand beside less that in the strip, share of the target. */
  gain: Estimate | null;
}

/** Where a count would tell most. */
export interface ProofSpot {
  zone: string;
  side: "strip" | "beside";
  longitude: number;
  latitude: number;
}

export interface ProofResult {
  schema: typeof PROOF_SCHEMA;
  field: { name: string; season: number | null; crop: string };
  verdict: ProofVerdict;
  /** Over the strips with enough counts. */
  gain: Estimate | null;
  /** The same in yield, share, and in money over that ground; below 0 where it lost. Null where no difference is shown. */
  yieldShare: Estimate | null;
  money: LossMoney | null;
  /** Ground with a new load on soils whose strip the verdict rests on, ha. */
  areaHa: number;
  strips: ProofStripResult[];
  /** Counts a side that would show a gain of three points of stand, over all strips. */
  countsToShow: number;
  toCount: ProofSpot[];
  notes: string[];
}
