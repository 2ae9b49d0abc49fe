/**
 * The covariance of the stand between the spots, fitted anew to what load does not explain: the analysis fits it with the
 * usual knees, and a response with knees elsewhere would pass for patchiness there.
 */
import { mean } from "../numerics/descriptive.ts";
import type { CovarianceModel } from "../stand-model/noise/covariance.ts";
import { covarianceUnder } from "../stand-model/noise/noise-fit.ts";
import { expectedStand, type Posterior, type ZoneSpots } from "./response.ts";

/** With fewer spots than this a fit says little: the analysis' own is kept (our judgement). */
const FEWEST_SPOTS = 24;

/** A zone's spots and what has been learnt from them so far. */
export interface FittedZone {
  spots: ZoneSpots;
  posterior: Posterior;
}

/** Covariance by the residuals of all zones about their expected response; null where there are too few spots. */
export function fitNoise(zones: readonly FittedZone[]): CovarianceModel | null {
  const total = zones.reduce((sum, { spots }) => sum + spots.x.length, 0);
  if (total < FEWEST_SPOTS) return null;
  const joined = (part: (zone: FittedZone, index: number) => ArrayLike<number>): Float64Array =>
    Float64Array.from(zones.flatMap((zone, index) => Array.from(part(zone, index))));
  const patchiness = joined(({ spots }) => spots.patchiness);
  const residual = joined(({ spots, posterior }) => {
    const expected = expectedStand(posterior, spots.marginN);
    const left = spots.response.map((value, i) => value - expected[i]!);
    const level = mean(left);
    return left.map((value) => value - level);
  });
  const zoneOf = Int32Array.from(joined(({ spots }, index) => spots.x.map(() => index)));
  const seen = {
    x: joined(({ spots }) => spots.x),
    y: joined(({ spots }) => spots.y),
    zone: zoneOf,
    residual,
    countingVariance: joined(({ spots }) => spots.countingVariance),
  };
  return covarianceUnder(patchiness, seen, null);
}
