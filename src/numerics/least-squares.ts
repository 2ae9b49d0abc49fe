/**
 * Generalised least squares with a known covariance S, optionally with a normal prior on the
 * coefficients (Rao, Linear Statistical Inference, ch. 4; Gelman et al., Bayesian Data Analysis, ch. 14).
 */
import { cholesky, dot, logDeterminant, solveCholesky } from "./cholesky.ts";

import type { Whitening } from "./whitening.ts";

/**
 * A column counts as collinear with those before it when what is left of it is no more than this share of
 * its own length. The test is relative: an absolute one depends on the unit of the data and lets columns of
 * rounding noise in, which then explain whatever the next test looks for (our judgement, measured on
 * simulated fields).
 */
const COLLINEARITY_TOLERANCE = 3e-3;

/**
 * Takes a column into an orthonormal basis unless it is collinear with it.
 * Gram-Schmidt run twice, which keeps the basis orthogonal to working precision (Giraud et al. 2005).
 * @returns true when the basis grew.
 */
export function extendBasis(
  basis: Float64Array[],
  column: Float64Array,
  tolerance: number = COLLINEARITY_TOLERANCE,
): boolean {
  const length = Math.sqrt(dot(column, column));
  const rest = Float64Array.from(column);
  removeBasis(basis, rest);
  const left = Math.sqrt(dot(rest, rest));
  if (!(left > tolerance * length)) return false;
  for (let i = 0; i < rest.length; i++) rest[i] = rest[i]! / left;
  removeBasis(basis, rest);
  const correction = 1 / Math.sqrt(dot(rest, rest));
  for (let i = 0; i < rest.length; i++) rest[i] = rest[i]! * correction;
  basis.push(rest);
  return true;
}

/** Subtracts from a vector, in place, its projection onto an orthonormal basis. */
export function removeBasis(basis: readonly Float64Array[], vector: Float64Array): void {
  for (const unit of basis) {
    const share = dot(unit, vector);
    for (let i = 0; i < vector.length; i++) vector[i] = vector[i]! - share * unit[i]!;
  }
}

export interface GlsPrior {
  /** Prior mean of each coefficient. */
  mean: Float64Array;
  /** Prior precision (1 / variance) of each coefficient; 0 for a flat prior. */
  precision: Float64Array;
}

export interface GlsFit {
  /** One entry a column; NaN for a column left out as collinear. */
  coefficients: Float64Array;
  /** Covariance of the coefficients, row-major columns x columns; NaN where left out. */
  covariance: Float64Array;
  /** y minus the fit, one entry an observation. */
  residual: Float64Array;
  /** Quadratic form r' S^-1 r of the residual. */
  residualSum: number;
  /** log |X' S^-1 X + prior precision| over the columns kept. */
  logDetInformation: number;
  /** True for the columns kept. */
  kept: boolean[];
}

/**
 * Fits y = X b + e, e ~ N(0, S).
 * @param columns the columns of X, each as long as y.
 * @param whiten takes the covariance S out of a column.
 * @param prior normal prior; columns with a prior are never left out as collinear.
 */
export function generalisedLeastSquares(
  columns: readonly Float64Array[],
  y: Float64Array,
  whiten: Whitening["whiten"],
  prior: GlsPrior | null = null,
): GlsFit {
  const size = y.length;
  const whitened = columns.map(whiten);
  const whitenedY = whiten(y);
  const basis: Float64Array[] = [];
  const kept = whitened.map(
    (column, index) => extendBasis(basis, column) || (prior?.precision[index] ?? 0) > 0,
  );
  const chosen = kept.flatMap((keep, index) => (keep ? [index] : []));
  const count = chosen.length;
  const information = new Float64Array(count * count);
  const right = new Float64Array(count);
  chosen.forEach((index, row) => {
    for (let column = 0; column <= row; column++) {
      const value = dot(whitened[index]!, whitened[chosen[column]!]!);
      information[row * count + column] = value;
      information[column * count + row] = value;
    }
    const precision = prior?.precision[index] ?? 0;
    information[row * count + row] = information[row * count + row]! + precision;
    right[row] = dot(whitened[index]!, whitenedY) + precision * (prior?.mean[index] ?? 0);
  });
  const informationFactor = cholesky(information, count);
  const solution = solveCholesky(informationFactor, count, right);
  const coefficients = new Float64Array(columns.length).fill(Number.NaN);
  const covariance = new Float64Array(columns.length ** 2).fill(Number.NaN);
  const residual = Float64Array.from(y);
  chosen.forEach((index, row) => {
    coefficients[index] = solution[row]!;
    const unit = new Float64Array(count);
    unit[row] = 1;
    const inverseColumn = solveCholesky(informationFactor, count, unit);
    chosen.forEach((other, position) => {
      covariance[other * columns.length + index] = inverseColumn[position]!;
    });
    const column = columns[index]!;
    for (let i = 0; i < size; i++) residual[i] = residual[i]! - column[i]! * solution[row]!;
  });
  const whitenedResidual = whiten(residual);
  return {
    coefficients,
    covariance,
    residual,
    residualSum: dot(whitenedResidual, whitenedResidual),
    logDetInformation: logDeterminant(informationFactor, count),
    kept,
  };
}
