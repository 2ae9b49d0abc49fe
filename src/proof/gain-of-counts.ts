/** The stand beside the strips less that in them, with the error that patches of the field leave. */
import { LEVEL, studentTQuantile, Z90 } from "../numerics/distributions.ts";
import type { Estimate } from "../numerics/estimate.ts";
import { combineEffects, type Measured } from "../numerics/random-effects.ts";
import type { Spots } from "../stand/spots.ts";
import { ORDINARY_RANGE_M, ORDINARY_SD } from "../stand-model/fit-stand.ts";
import { type CovarianceModel, covarianceMatrix } from "../stand-model/noise/covariance.ts";
import { fitStandModel } from "../stand-model/noise/noise-of-stand.ts";
import type { Sides } from "./sides.ts";

/** Counts on either side of a strip below which nothing is worked out (our judgement). */
export const LEAST_COUNTS = 3;
/** Counts of a field from which on its own noise is taken; below it that of an ordinary field (our judgement). */
const OWN_NOISE_FROM = 20;
/** Noise of an ordinary stand, as the model of the counts takes it. */
const ORDINARY: CovarianceModel = {
  spatialVariance: ORDINARY_SD.spatial ** 2,
  nuggetVariance: ORDINARY_SD.nugget ** 2,
  rangeM: ORDINARY_RANGE_M,
};
/** A gain worth showing, share of stand (our judgement): about what a few pounds too little or too much cost. */
const GAIN_TO_SHOW = 0.03;

/** Noise of the stand, apart from what the strips make of it. */
export function noiseOf(spots: Spots, sides: readonly Sides[]): CovarianceModel {
  if (spots.count < OWN_NOISE_FROM) return ORDINARY;
  const strip = new Float64Array(spots.count);
  for (const side of sides) for (const i of side.spots.strip) strip[i] = 1;
  const { x, y, response, zone, countingVariance } = spots;
  const losses: Record<string, Float64Array> = strip.includes(1) ? { strip } : {};
  const { covariance } = fitStandModel({ x, y, response, zone, losses, countingVariance });
  // So few counts may look calmer than any stand is.
  return {
    ...covariance,
    nuggetVariance: Math.max(covariance.nuggetVariance, 0.25 * ORDINARY.nuggetVariance),
  };
}

/** The difference at one strip and its variance; null with too few counts. */
export function gainAt({ spots: own }: Sides, spots: Spots, noise: CovarianceModel): Measured | null {
  const { strip, beside } = own;
  if (strip.length < LEAST_COUNTS || beside.length < LEAST_COUNTS) return null;
  const at = [...strip, ...beside];
  const pick = (values: Float64Array): Float64Array => Float64Array.from(at, (i) => values[i]!);
  const covariance = covarianceMatrix(noise, pick(spots.x), pick(spots.y), pick(spots.countingVariance));
  const weight = Float64Array.from(at, (_, k) => (k < strip.length ? -1 / strip.length : 1 / beside.length));
  let [value, variance] = [0, 0];
  for (let a = 0; a < at.length; a++) {
    value += weight[a]! * spots.response[at[a]!]!;
    for (let b = 0; b < at.length; b++) variance += weight[a]! * weight[b]! * covariance[a * at.length + b]!;
  }
  return { value, variance };
}

/** A difference with its interval; degrees of freedom by the counts it rests on. */
export function withInterval({ value, variance }: Measured, df: number): Estimate {
  const half = studentTQuantile((1 + LEVEL) / 2, df) * Math.sqrt(variance);
  return { estimate: value, low: value - half, high: value + half, level: LEVEL };
}

/**
 * Over the strips. Where three and more disagree beyond the error of the counts, their own differences make the interval (random
 * effects); else that error is all there is.
 * @param gains of the strips that have one, with the counts each rests on
 */
export function gainOver(gains: readonly { gain: Measured; counts: number }[]): Estimate | null {
  if (gains.length === 0) return null;
  const measured = gains.map(({ gain }) => gain);
  const combined = measured.length >= 3 ? combineEffects(measured) : null;
  if (combined && combined.between > 0)
    return withInterval({ value: combined.estimate, variance: combined.variance }, combined.df);
  const weights = measured.map(({ variance }) => 1 / variance);
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const value = measured.reduce((sum, gain, k) => sum + weights[k]! * gain.value, 0) / total;
  const counts = gains.reduce((sum, gain) => sum + gain.counts, 0);
  return withInterval({ value, variance: 1 / total }, counts - 2 * gains.length);
}

/** Counts a side, over all strips, after which a gain of {@link GAIN_TO_SHOW} would lie outside a 90 % interval around 0. */
export function countsToShow(noise: CovarianceModel, countingVariance: number): number {
  const variance = noise.nuggetVariance + countingVariance + noise.spatialVariance;
  return Math.ceil((2 * variance * Z90 ** 2) / GAIN_TO_SHOW ** 2);
}
