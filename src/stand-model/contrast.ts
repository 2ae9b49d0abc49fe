/** One fixed contrast of the stand, tested before any search for places: what was set against what, and what came out. */
import type { Estimate } from "../numerics/estimate.ts";

/**
 * What is set against what: the field against its target; a soil zone, planting day, seed lot, planter, half of the bar,
 * section or hopper against the rest; track rows against plain rows; end rows against the middle; one direction of
 * travel against the other; what was planted from some pass on against what came before; a trend in the order of passes.
 */
export const CONTRAST_KINDS = [
  "field",
  "soil-zone",
  "planting-day",
  "seed-lot",
  "planter",
  "bar-half",
  "section",
  "track-rows",
  "end-rows",
  "direction",
  "change-point",
  "trend",
] as const;

export type ContrastKind = (typeof CONTRAST_KINDS)[number];

/** `short`: found; `could-be`: likely but not settled; `tested`: even as far as the counts can tell; `too-few`: not tested. */
export const CONTRAST_VERDICTS = ["short", "could-be", "tested", "too-few"] as const;

export type ContrastVerdict = (typeof CONTRAST_VERDICTS)[number];

export interface ContrastResult {
  kind: ContrastKind;
  /** What may be short, as a sentence names it in its middle: "silty clay", "planted 2026-04-25", "the left half of the bar". */
  name: string;
  /** What it is set against, likewise: "the rest of the field", "the target". */
  against: string;
  /** Counts on the side that may be short. */
  counts: number;
  /** How much shorter it stands, share of the target, with its interval; null where it was not tested. */
  shortShare: Estimate | null;
  /** Probability that it is short, 0..1. */
  probability: number;
  /** Corrected for the number of contrasts; null where no test was made. */
  pValue: number | null;
  verdict: ContrastVerdict;
}
