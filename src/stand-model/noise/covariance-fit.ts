/**
 * Estimates the covariance of the stand from residuals (see `covariance.ts`). Few points: restricted
 * likelihood (Patterson & Thompson 1971, Biometrika 58:545-554) with a weak prior on the range. Many points:
 * a robust variogram.
 *
 * Both must not be blown up by the very groups that are looked for: the residuals come from the joint model
 * of zones and planting (its expected losses are out of them), the likelihood sees them drawn in to 2.5
 * robust SD (Huber 1964), and the variogram takes medians. What contamination is left makes the variance
 * larger and the search more careful, not less.
 */
import { cholesky, logDeterminant, solveLower } from "../../numerics/cholesky.ts";
import { MAD_TO_SD, median, medianAbsoluteDeviation, variance } from "../../numerics/descriptive.ts";
import { normalCdf, normalDensity } from "../../numerics/distributions.ts";
import { generalisedLeastSquares } from "../../numerics/least-squares.ts";
import { quantileInPlace } from "../../numerics/quantile.ts";
import type { CovarianceModel } from "./covariance.ts";
import { covarianceMatrix } from "./covariance.ts";
import { isAcrossEdge } from "./patchiness.ts";

export interface CovarianceData {
  /** Local metres. */
  x: Float64Array;
  y: Float64Array;
  /** Response minus what zones and planting account for. */
  residual: Float64Array;
  /** Columns of the zones, for the degrees of freedom they cost. */
  columns: readonly Float64Array[];
  /** Known variance of counting at each place, or null. */
  countingVariance: Float64Array | null;
  /** Loss that was taken out of the residual, share of stand; null where none was. */
  loss?: Float64Array | null;
}

/** Prior of the range: log-normal, mean 25 m, SD 0.8 of the log (from our simulated fields; weak). */
const RANGE_PRIOR = { meanLog: Math.log(25), sdLog: 0.8 };
const RANGE_LIMITS_M = [6, 100] as const;
/** Residuals are drawn in to this many robust SD before the likelihood. */
const CLAMP_SD = 2.5;
/** Smallest part of the variance kept for each component, so that the matrix stays positive definite. */
const SMALLEST_PART = 1e-3;

/** Variance of a standard normal number drawn in to +- c. */
function clampedVariance(c: number): number {
  const tail = normalCdf(-c);
  return 1 - 2 * tail - 2 * c * normalDensity(c) + 2 * c * c * tail;
}

/**
 * Covariance by restricted likelihood: highest posterior over s2, t2 and a, by a coarse grid and a compass
 * search from its best node. Cost grows with the cube of the number of places; meant for up to about 350.
 * @param near an earlier estimate to start from in place of the grid, or null
 */
export function fitByRestrictedLikelihood(
  data: CovarianceData,
  near: CovarianceModel | null = null,
): CovarianceModel {
  const { x, y, columns, countingVariance } = data;
  const centre = median(data.residual);
  const scale = robustScale(data.residual);
  const clamped = Float64Array.from(data.residual, (value) =>
    Math.max(centre - CLAMP_SD * scale, Math.min(centre + CLAMP_SD * scale, value)),
  );
  const total = scale ** 2;
  const smallest = SMALLEST_PART * total;
  const toModel = (logs: readonly number[]): CovarianceModel => ({
    spatialVariance: Math.max(smallest, Math.exp(logs[0]!)),
    nuggetVariance: Math.max(smallest, Math.exp(logs[1]!)),
    rangeM: Math.min(RANGE_LIMITS_M[1], Math.max(RANGE_LIMITS_M[0], Math.exp(logs[2]!))),
  });
  const logPosterior = (logs: readonly number[]): number => {
    const model = toModel(logs);
    const factor = cholesky(covarianceMatrix(model, x, y, countingVariance), x.length);
    const fit = generalisedLeastSquares(columns, clamped, (column) => solveLower(factor, x.length, column));
    const prior = ((Math.log(model.rangeM) - RANGE_PRIOR.meanLog) / RANGE_PRIOR.sdLog) ** 2;
    return -0.5 * (logDeterminant(factor, x.length) + fit.logDetInformation + fit.residualSum + prior);
  };
  const starts = near
    ? [[near.spatialVariance, near.nuggetVariance, near.rangeM].map((value) => Math.log(value))]
    : startingGrid(total, smallest, meanOf(countingVariance));
  const limits = [
    [Math.log(smallest), Math.log(4 * total)],
    [Math.log(smallest), Math.log(4 * total)],
    RANGE_LIMITS_M.map((value) => Math.log(value)),
  ] as const;
  const best = compassSearch(logPosterior, starts, limits, near ? 0.4 : 0.8);
  const model = toModel(best);
  // Drawing in takes a known share of the variance of normal residuals off; it is given back.
  const widen = 1 / clampedVariance(CLAMP_SD);
  return {
    ...model,
    spatialVariance: model.spatialVariance * widen,
    nuggetVariance: model.nuggetVariance * widen,
  };
}

function startingGrid(total: number, smallest: number, counting: number): number[][] {
  const nodes: number[][] = [];
  for (const rangeM of [10, 25, 60]) {
    for (const spatialShare of [0.15, 0.6]) {
      const nugget = Math.max(smallest, (1 - spatialShare) * total - counting);
      nodes.push([Math.log(spatialShare * total), Math.log(nugget), Math.log(rangeM)]);
    }
  }
  return nodes;
}

const LAST_STEP = 0.1;
/** Gain in log posterior below which a step is not worth taking. */
const SMALLEST_GAIN = 1e-3;

/** Climbs from the best start by steps along each axis, halved when none helps (Hooke & Jeeves 1961). */
function compassSearch(
  height: (at: readonly number[]) => number,
  starts: readonly number[][],
  limits: readonly (readonly number[])[],
  firstStep: number,
): number[] {
  let at: number[] = [];
  let best = Number.NEGATIVE_INFINITY;
  for (const start of starts) {
    const inside = start.map((value, axis) =>
      Math.min(limits[axis]![1]!, Math.max(limits[axis]![0]!, value)),
    );
    const value = height(inside);
    if (value > best) {
      best = value;
      at = inside;
    }
  }
  for (let step = firstStep; step >= LAST_STEP; step /= 2) {
    let moved = true;
    while (moved) {
      moved = false;
      for (const [axis, [lowest, highest]] of limits.entries()) {
        for (const direction of [step, -step]) {
          const next = [...at];
          next[axis] = Math.min(highest!, Math.max(lowest!, at[axis]! + direction));
          if (next[axis] === at[axis]) continue;
          const value = height(next);
          if (value <= best + SMALLEST_GAIN) continue;
          best = value;
          at = next;
          moved = true;
          break;
        }
      }
    }
  }
  return at;
}

const LAG_COUNT = 14;
const CANDIDATE_RANGES_M = [6, 10, 15, 20, 27, 36, 48, 64, 85] as const;

/**
 * Covariance by a robust variogram: g(h) = 1/2 (1.4826 median |e_i - e_j|)^2 in 14 lags as wide as the usual
 * distance to the nearest place; nugget and exponential fitted by non-negative least squares with weights
 * sqrt(pairs / h) / g over a set of ranges.
 */
export function fitByRobustVariogram(data: CovarianceData): CovarianceModel {
  const { x, y, residual } = data;
  const lagM = Math.max(1, usualSpacing(x, y));
  const differences: number[][] = Array.from({ length: LAG_COUNT }, () => []);
  const distances = new Float64Array(LAG_COUNT);
  const reach = LAG_COUNT * lagM;
  for (let i = 0; i < x.length; i++) {
    for (let j = 0; j < i; j++) {
      const dx = x[i]! - x[j]!;
      const dy = y[i]! - y[j]!;
      if (Math.abs(dx) >= reach || Math.abs(dy) >= reach) continue;
      const distance = Math.sqrt(dx * dx + dy * dy);
      const lag = Math.floor(distance / lagM - 0.5);
      if (lag < 0 || lag >= LAG_COUNT || isAcrossEdge(data.loss, i, j)) continue;
      differences[lag]!.push(Math.abs(residual[i]! - residual[j]!));
      distances[lag] = distances[lag]! + distance;
    }
  }
  const lags = differences.flatMap((list, lag) => {
    if (list.length < 10) return [];
    const g = 0.5 * (MAD_TO_SD * quantileInPlace(Float64Array.from(list), 0.5)) ** 2;
    const h = distances[lag]! / list.length;
    return g > 0 ? [{ h, g, weight: Math.sqrt(list.length / h) / g }] : [];
  });
  const scale = robustScale(residual);
  const counting = meanOf(data.countingVariance);
  let best: CovarianceModel = { spatialVariance: 0, rangeM: 25, nuggetVariance: scale ** 2 };
  let bestLoss = Number.POSITIVE_INFINITY;
  for (const rangeM of CANDIDATE_RANGES_M) {
    const [nugget, sill, loss] = nonNegativePair(lags, rangeM);
    if (!(loss < bestLoss)) continue;
    bestLoss = loss;
    best = { spatialVariance: sill, rangeM, nuggetVariance: nugget };
  }
  const floor = SMALLEST_PART * scale ** 2;
  return { ...best, nuggetVariance: Math.max(floor, best.nuggetVariance - counting) };
}

/** Weighted least squares of g = nugget + sill (1 - exp(-h / a)) with both parts at least 0. */
function nonNegativePair(
  lags: readonly { h: number; g: number; weight: number }[],
  rangeM: number,
): [nugget: number, sill: number, loss: number] {
  let [s11, s12, s22, r1, r2] = [0, 0, 0, 0, 0];
  for (const { h, g, weight } of lags) {
    const rise = 1 - Math.exp(-h / rangeM);
    const w = weight * weight;
    s11 += w;
    s12 += w * rise;
    s22 += w * rise * rise;
    r1 += w * g;
    r2 += w * rise * g;
  }
  const determinant = s11 * s22 - s12 * s12;
  let nugget = (r1 * s22 - r2 * s12) / determinant;
  let sill = (s11 * r2 - s12 * r1) / determinant;
  if (!(nugget >= 0)) {
    nugget = 0;
    sill = r2 / s22;
  }
  if (!(sill >= 0)) {
    sill = 0;
    nugget = r1 / s11;
  }
  let loss = 0;
  for (const { h, g, weight } of lags) {
    loss += (weight * (g - nugget - sill * (1 - Math.exp(-h / rangeM)))) ** 2;
  }
  return [nugget, sill, loss];
}

/** Median distance to the nearest other place, metres. */
export function usualSpacing(x: Float64Array, y: Float64Array): number {
  const nearest = new Float64Array(x.length).fill(Number.POSITIVE_INFINITY);
  for (let i = 0; i < x.length; i++) {
    for (let j = 0; j < i; j++) {
      const distance = (x[i]! - x[j]!) ** 2 + (y[i]! - y[j]!) ** 2;
      if (distance < nearest[i]!) nearest[i] = distance;
      if (distance < nearest[j]!) nearest[j] = distance;
    }
  }
  return Math.sqrt(median(nearest));
}

/** Robust SD; the plain one where more than half the values are equal; a tiny one where all are. */
function robustScale(values: Float64Array): number {
  return medianAbsoluteDeviation(values) || Math.sqrt(variance(values)) || 1e-6;
}

function meanOf(values: Float64Array | null): number {
  if (!values || values.length === 0) return 0;
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
