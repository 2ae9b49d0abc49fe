/**
 * Covariance of the stand between places: S_ij = k_i k_j (s2 exp(-d_ij / a) + t2 [i = j]) + m_i [i = j], an
 * exponential model with nugget (Cressie 1993, Statistics for Spatial Data, 2.3), where m_i is the known
 * variance of counting at place i and k_i how much patchier its zone is than the field.
 */

export interface CovarianceModel {
  /** s2: variance of what varies smoothly over the field, in squared units of the response. */
  spatialVariance: number;
  /** a: distance over which the correlation falls to 1/e, metres (the practical range is 3 a). */
  rangeM: number;
  /** t2: variance from place to place beyond counting. */
  nuggetVariance: number;
}

/** Covariance of two places a distance apart (different places, so without the nugget). */
export function covarianceAt(model: CovarianceModel, distanceM: number): number {
  return model.spatialVariance * Math.exp(-distanceM / model.rangeM);
}

/**
 * Covariance matrix of the places, row-major n x n.
 * @param x local metres @param y local metres
 * @param countingVariance known variance of each place's value, or null where not known (taken as 0)
 * @param patchiness k of each place, or null for 1 everywhere
 */
export function covarianceMatrix(
  model: CovarianceModel,
  x: Float64Array,
  y: Float64Array,
  countingVariance: Float64Array | null,
  patchiness: Float64Array | null = null,
): Float64Array {
  const size = x.length;
  const matrix = new Float64Array(size * size);
  for (let row = 0; row < size; row++) {
    for (let column = 0; column < row; column++) {
      const dx = x[row]! - x[column]!;
      const dy = y[row]! - y[column]!;
      const scale = patchiness ? patchiness[row]! * patchiness[column]! : 1;
      const value = scale * covarianceAt(model, Math.sqrt(dx * dx + dy * dy));
      matrix[row * size + column] = value;
      matrix[column * size + row] = value;
    }
    const own = (model.spatialVariance + model.nuggetVariance) * (patchiness?.[row] ?? 1) ** 2;
    matrix[row * size + row] = own + (countingVariance?.[row] ?? 0);
  }
  return matrix;
}
