/**
 * How far apart the log's records are, and what a record's length does to its figures. A record is a mean over its length:
 * short ones show more of the bounce than long ones, so limits on the spread of depth and on time without load have to
 * follow the interval. Dug seed by seed, spread is another figure again.
 */
import { median } from "../numerics/descriptive.ts";
import { normalCdf, normalQuantile } from "../numerics/distributions.ts";
import type { Passes } from "../passes/passes.ts";
import { THRESHOLDS } from "./thresholds.ts";

/** Interval at which the limits of {@link THRESHOLDS} hold as they stand, m (our judgement: 2 to 3 s at 5 mph). */
export const REFERENCE_INTERVAL_M = 6;
/** Distance over which bounce forgets itself, m (our judgement). */
const BOUNCE_LENGTH_M = 1;
/** Records longer or shorter than these say nothing the model was made for, m. */
const SHORTEST_M = 0.5;
const LONGEST_M = 50;

/** Usual length of a record along the track, m; the reference where it is not known. */
export function loggingIntervalM(passes: Passes): number {
  const { distanceM, passOf } = passes;
  const lengths = new Float64Array(distanceM.length);
  let count = 0;
  for (let i = 0; i < distanceM.length; i++)
    if (passOf[i]! > 0 && distanceM[i]! > 0) lengths[count++] = distanceM[i]!;
  return count > 0 ? median(lengths.subarray(0, count)) : REFERENCE_INTERVAL_M;
}

/**
 * SD of records of this length over the SD of records of the reference length: the SD of a mean over L of a process whose
 * correlation falls as exp(-distance / c) goes as sqrt(2 (c/L)^2 (L/c - 1 + exp(-L/c))) (variance of a block mean, e.g.
 * Vanmarcke 1983), with c = 1 m.
 */
export function spreadScale(intervalM: number): number {
  const ofMean = (lengthM: number): number => {
    const lengths = lengthM / BOUNCE_LENGTH_M;
    return Math.sqrt((2 * (lengths - 1 + Math.exp(-lengths))) / lengths ** 2);
  };
  const held = Math.min(LONGEST_M, Math.max(SHORTEST_M, intervalM));
  return ofMean(held) / ofMean(REFERENCE_INTERVAL_M);
}

/** Spread (SD) of logged depth above which the stand suffers, mm, at this interval. */
export function unevenKneeMm(intervalM: number): number {
  return THRESHOLDS.unevenKnee.value * spreadScale(intervalM);
}

/**
 * Share of readings without load from which ground counts as run light, at this interval: the same load of the ground with
 * the spread of that interval (normal law).
 */
export function noLoadShareLimit(intervalM: number): number {
  return normalCdf(normalQuantile(THRESHOLDS.noLoadShare.value) / spreadScale(intervalM));
}
