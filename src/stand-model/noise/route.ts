/** How the noise of the stand is taken out of columns: by its whole matrix, or by the nearest neighbours of each point. */

import { denseWhitening, type Whitening } from "../../numerics/whitening.ts";
import { type CovarianceModel, covarianceAt, covarianceMatrix } from "./covariance.ts";
import { nearestBefore, nearestNeighbourWhitening } from "./nearest-neighbours.ts";

/** `exact`: the whole matrix, whose cost grows with the cube of the points. `sparse`: nearest neighbours, as the points. */
export type Route = "exact" | "sparse";

/**
 * Up to so many points the whole matrix costs less than what else is done with them. Beyond, the two ways say the same of 600
 * counts: places, causes, losses to a fifth of their error (`tests/truth/count-routes.full.test.ts`).
 */
const MOST_EXACT_POINTS = 350;

export function routeOf(points: number): Route {
  return points > MOST_EXACT_POINTS ? "sparse" : "exact";
}

export interface NoisePoints {
  /** Local metres. */
  x: Float64Array;
  y: Float64Array;
  /** Known variance of each point's value, or null. */
  countingVariance: Float64Array | null;
}

/**
 * Patchiness, spot and counting, without what zones and passes share.
 * @param patchiness k of each point
 */
export function noiseWhitening(
  model: CovarianceModel,
  { x, y, countingVariance }: NoisePoints,
  patchiness: Float64Array,
  route: Route,
): Whitening {
  if (route === "exact")
    return denseWhitening(covarianceMatrix(model, x, y, countingVariance, patchiness), x.length);
  const own = model.spatialVariance + model.nuggetVariance;
  return nearestNeighbourWhitening(nearestBefore(x, y), (a, b) =>
    a === b
      ? own * patchiness[a]! ** 2 + (countingVariance?.[a] ?? 0)
      : patchiness[a]! * patchiness[b]! * covarianceAt(model, Math.hypot(x[a]! - x[b]!, y[a]! - y[b]!)),
  );
}
