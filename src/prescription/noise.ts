/**
 * The covariance of the stand between the spots, fitted anew to what load does not explain: the analysis fits it with the
 * usual knees, and a response with knees elsewhere would pass for patchiness there.
 */
import type { CovarianceModel } from "../cluster/covariance.ts";
import { fitByRestrictedLikelihood, fitByRobustVariogram } from "../cluster/covariance-fit.ts";
import { zoneColumns } from "../cluster/zone-model.ts";
import { mean } from "../numerics/descriptive.ts";
import { expectedStand, type Posterior, type ZoneSpots } from "./response.ts";

/** From this many spots the variogram is used: it costs little there and is as good. */
const MANY_SPOTS = 350;
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
  const even = (values: Float64Array, power: number): Float64Array =>
    values.map((value, i) => value / patchiness[i]! ** power);
  const data = {
    x: joined(({ spots }) => spots.x),
    y: joined(({ spots }) => spots.y),
    residual: even(residual, 1),
    columns: zoneColumns(zoneOf).columns.map((column) => even(column, 1)),
    countingVariance: even(
      joined(({ spots }) => spots.countingVariance),
      2,
    ),
  };
  return total >= MANY_SPOTS ? fitByRobustVariogram(data) : fitByRestrictedLikelihood(data);
}
