/** Universal kriging of a mean over several places (Cressie 1993, Statistics for Spatial Data, ch. 3.4). */
import { cholesky, dot, solveCholesky } from "../numerics/cholesky.ts";
import type { GlsPrior } from "../numerics/least-squares.ts";
import { generalisedLeastSquares } from "../numerics/least-squares.ts";
import type { CovarianceModel } from "./covariance.ts";
import { covarianceAt, covarianceMatrix } from "./covariance.ts";

/** Places with their trend columns; every array has one entry a place. */
export interface KrigingPlaces {
  /** Local metres. */
  x: Float64Array;
  y: Float64Array;
  /** Trend columns, the same number and meaning for known and asked places. */
  columns: readonly Float64Array[];
  /** Known variance of counting, or null. */
  countingVariance: Float64Array | null;
  /** k of each place (see the covariance), or null for 1 everywhere. */
  patchiness: Float64Array | null;
}

export interface KrigedMean {
  /** Mean over the asked places. */
  mean: number;
  /**
   * Variance of the observed mean about it: a new observation at each place is meant, so nugget and counting
   * are in it.
   */
  variance: number;
  /** Value at each asked place. */
  values: Float64Array;
}

/**
 * Prepares kriging from known values.
 * @param prior normal prior of the trend coefficients, or null for flat ones; a column that is zero at all
 * known places needs one
 * @returns a function from places to the kriged mean over them.
 */
export function kriging(
  known: KrigingPlaces,
  values: Float64Array,
  model: CovarianceModel,
  prior: GlsPrior | null = null,
): (asked: KrigingPlaces) => KrigedMean {
  const size = values.length;
  const factor = cholesky(
    covarianceMatrix(model, known.x, known.y, known.countingVariance, known.patchiness),
    size,
  );
  const fit = generalisedLeastSquares(known.columns, values, factor, prior);
  const weightedResidual = solveCholesky(factor, size, fit.residual);
  const width = known.columns.length;
  return (asked) => {
    const count = asked.x.length;
    const kriged = new Float64Array(count);
    const meanCovariance = new Float64Array(size);
    for (let j = 0; j < count; j++) {
      let value = 0;
      known.columns.forEach((_, k) => {
        if (fit.kept[k]) value += asked.columns[k]![j]! * fit.coefficients[k]!;
      });
      for (let i = 0; i < size; i++) {
        const distance = Math.hypot(known.x[i]! - asked.x[j]!, known.y[i]! - asked.y[j]!);
        const scale = (known.patchiness?.[i] ?? 1) * (asked.patchiness?.[j] ?? 1);
        const covariance = scale * covarianceAt(model, distance);
        value += covariance * weightedResidual[i]!;
        meanCovariance[i]! += covariance / count;
      }
      kriged[j] = value;
    }
    const weights = solveCholesky(factor, size, meanCovariance);
    const gap = Float64Array.from(
      known.columns,
      (column, k) => meanOf(asked.columns[k]!) - dot(column, weights),
    );
    let trendVariance = 0;
    for (let row = 0; row < width; row++) {
      for (let column = 0; column < width; column++) {
        if (!fit.kept[row] || !fit.kept[column]) continue;
        trendVariance += gap[row]! * gap[column]! * fit.covariance[row * width + column]!;
      }
    }
    const own = meanOf(covarianceMatrix(model, asked.x, asked.y, asked.countingVariance, asked.patchiness));
    return {
      mean: meanOf(kriged),
      variance: Math.max(0, own - dot(meanCovariance, weights)) + trendVariance,
      values: kriged,
    };
  };
}

function meanOf(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum / values.length;
}
