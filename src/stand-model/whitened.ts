/** The noise of the stand taken out of response and columns, so that plain inner products are those of the model. */
import { dot } from "../numerics/cholesky.ts";
import { denseWhitening, type Whitening, withSharedEffects } from "../numerics/whitening.ts";
import { type CovarianceModel, covarianceMatrix } from "./noise/covariance.ts";
import { noiseWhitening, type Route } from "./noise/route.ts";
import type { Points } from "./points.ts";

/** Natural differences that are always in the model, share of stand (SD; tuned on simulated fields). */
export const NATURAL_SD = { level: 0.025, zone: 0.02, pass: 0.006 } as const;

export interface Whitened {
  /** The covariance of the points: noise, counting, level, zones and passes. */
  noise: Whitening;
  /** Whitened response less its expected level. */
  response: Float64Array;
}

/**
 * Whitens the response.
 * @param level stand to be expected where nothing is wrong, share of target
 * @param patchiness k of each point
 */
export function whiten(
  points: Points,
  covariance: CovarianceModel,
  patchiness: Float64Array,
  level: number,
  route: Route,
): Whitened {
  const noise =
    route === "exact"
      ? wholeMatrix(points, covariance, patchiness)
      : withSharedEffects(noiseWhitening(covariance, points, patchiness, route), points.count, [
          { groupOf: new Int32Array(points.count), sd: NATURAL_SD.level },
          { groupOf: points.zone, sd: NATURAL_SD.zone },
          { groupOf: points.pass, sd: NATURAL_SD.pass },
        ]);
  return { noise, response: noise.whiten(points.response.map((value) => value - level)) };
}

function wholeMatrix(points: Points, covariance: CovarianceModel, patchiness: Float64Array): Whitening {
  const n = points.count;
  const matrix = covarianceMatrix(covariance, points.x, points.y, points.countingVariance, patchiness);
  const { level: levelSd, zone: zoneSd, pass: passSd } = NATURAL_SD;
  for (let a = 0; a < n; a++) {
    for (let b = 0; b <= a; b++) {
      let common = levelSd ** 2;
      if (points.zone[a] === points.zone[b]) common += zoneSd ** 2;
      if (points.pass[a] === points.pass[b]) common += passSd ** 2;
      matrix[a * n + b]! += common;
      if (a !== b) matrix[b * n + a]! += common;
    }
  }
  return denseWhitening(matrix, n);
}

/** The column as it acts on the whitened response: an effect lowers the stand. */
export function whitenedLoss(noise: Whitening, column: Float64Array): Float64Array {
  return noise.whiten(column.map((value) => -value));
}

/** Inner products of all whitened columns, row-major. */
export function gramOf(columns: readonly Float64Array[]): Float64Array {
  const size = columns.length;
  const gram = new Float64Array(size * size);
  for (let a = 0; a < size; a++) {
    for (let b = 0; b <= a; b++) {
      const value = dot(columns[a]!, columns[b]!);
      gram[a * size + b] = value;
      gram[b * size + a] = value;
    }
  }
  return gram;
}
