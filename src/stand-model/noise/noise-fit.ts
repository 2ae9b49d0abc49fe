/** The noise of the stand from what a model leaves: how patchy each part is beside the whole, and the covariance of the rest. */
import type { CovarianceModel } from "./covariance.ts";
import { fitByRestrictedLikelihood, fitByRobustVariogram, usualSpacing } from "./covariance-fit.ts";
import { type Patchiness, type PatchinessInput, patchinessByPlace, patchinessByZone } from "./patchiness.ts";
import { zoneColumns } from "./zone-model.ts";

export interface NoiseFit {
  covariance: CovarianceModel;
  /** k at any points of the field. */
  patchinessAt: Patchiness;
}

/** From this many points the variogram is used: it costs little there and is as good. */
const MANY_POINTS = 350;

/** How the covariance of so many points is fitted. */
export function noiseMethod(points: number): "restricted likelihood" | "robust variogram" {
  return points >= MANY_POINTS ? "robust variogram" : "restricted likelihood";
}

/**
 * Fits patchiness and covariance; with many points patchiness goes by place, with few by zone.
 * @param near an earlier covariance to start from, or null
 */
export function fitStandNoise(seen: PatchinessInput, near: CovarianceModel | null): NoiseFit {
  const isDense = noiseMethod(seen.x.length) === "robust variogram";
  const patchinessAt = isDense
    ? patchinessByPlace(seen, usualSpacing(seen.x, seen.y))
    : patchinessByZone(seen);
  return { patchinessAt, covariance: covarianceUnder(patchinessAt(seen), seen, near) };
}

/**
 * Covariance of what is left once the patchiness, one k a point, is taken out.
 * @param near an earlier covariance to start from, or null
 */
export function covarianceUnder(
  patchiness: Float64Array,
  { x, y, zone, residual, countingVariance, loss }: PatchinessInput,
  near: CovarianceModel | null,
): CovarianceModel {
  const even = (values: Float64Array, power = 1): Float64Array =>
    values.map((value, i) => value / patchiness[i]! ** power);
  const data = {
    x,
    y,
    residual: even(residual),
    columns: zoneColumns(zone).columns.map((column) => even(column)),
    countingVariance: countingVariance && even(countingVariance, 2),
    loss: loss ?? null,
  };
  return noiseMethod(x.length) === "robust variogram"
    ? fitByRobustVariogram(data)
    : fitByRestrictedLikelihood(data, near);
}
