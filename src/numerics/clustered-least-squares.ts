/**
 * Weighted least squares with levels taken out and errors that may be alike within clusters (Liang & Zeger 1986,
 * Biometrika 73:13-22), the errors by leaving out one cluster after the other, which stays honest with few clusters
 * (jackknife, CR3 of MacKinnon, Nielsen & Webb 2023, J. Econometrics 232:272-299, from memory).
 */
import { cholesky, solveCholesky } from "./cholesky.ts";
import { extendBasis } from "./least-squares.ts";

export interface ClusteredFit {
  /** One entry a column; NaN for a column left out: collinear with those before it, or resting on one cluster. */
  coefficients: Float64Array;
  /** Standard errors, robust against likeness within clusters; NaN where left out. */
  standardErrors: Float64Array;
  clusters: number;
}

/** What is fitted; arrays have one entry an observation. */
export interface ClusteredProblem {
  y: Float64Array;
  columns: readonly Float64Array[];
  weights: Float64Array;
  /** Level 0..levels-1 that is taken out of each observation (soil zone). */
  levelOf: Int32Array;
  levels: number;
  /** Cluster 0..clusters-1 of each observation (pass). */
  clusterOf: Int32Array;
  clusters: number;
}

/** A column of which one cluster holds more than this share of the squares says nothing beyond that cluster. */
const MOST_IN_ONE_CLUSTER = 0.9;
/** All but this share of a cluster is left out, so that the rest is never singular. */
const LEFT_IN = 1e-3;

/**
 * b = A^-1 X'Wy with A = X'WX, all columns and y freed from their weighted mean by level. Without cluster g the
 * coefficients move by d_g = -(A - A_g)^-1 X_g'W e_g, e the residuals; the variance of a coefficient is
 * (G - 1)/G sum of its d_g^2. Null with fewer than two clusters, no column left or too few observations.
 */
export function clusteredLeastSquares(problem: ClusteredProblem): ClusteredFit | null {
  const { weights, clusterOf } = problem;
  const count = problem.y.length;
  const y = freed(problem, problem.y);
  const all = problem.columns.map((column) => freed(problem, column));
  const basis: Float64Array[] = [];
  const kept = all.flatMap((column, k) => {
    if (restsOnOneCluster(problem, column)) return [];
    const scaled = column.map((value, i) => value * Math.sqrt(weights[i]!));
    return extendBasis(basis, scaled) ? [k] : [];
  });
  const size = kept.length;
  const clusters = new Set(clusterOf).size;
  if (size === 0 || count <= problem.levels + size || clusters < 2) return null;
  const columns = kept.map((k) => all[k]!);
  const product = (a: Float64Array, b: Float64Array): number =>
    a.reduce((sum, value, i) => sum + weights[i]! * value * b[i]!, 0);
  const matrix = Float64Array.from({ length: size * size }, (_, at) =>
    product(columns[Math.floor(at / size)]!, columns[at % size]!),
  );
  const factor = cholesky(matrix, size);
  const estimate = solveCholesky(
    factor,
    size,
    Float64Array.from(columns, (column) => product(column, y)),
  );
  const scores = new Float64Array(problem.clusters * size);
  const parts = new Float64Array(problem.clusters * size * size);
  for (let i = 0; i < count; i++) {
    const g = clusterOf[i]!;
    let residual = y[i]!;
    for (let k = 0; k < size; k++) residual -= estimate[k]! * columns[k]![i]!;
    for (let k = 0; k < size; k++) {
      const weighted = weights[i]! * columns[k]![i]!;
      scores[g * size + k]! += weighted * residual;
      for (let l = 0; l < size; l++) parts[(g * size + k) * size + l]! += weighted * columns[l]![i]!;
    }
  }
  const variances = new Float64Array(size);
  for (const g of new Set(clusterOf)) {
    const own = parts.subarray(g * size * size, (g + 1) * size * size);
    const without = cholesky(
      matrix.map((value, at) => value - (1 - LEFT_IN) * own[at]!),
      size,
    );
    const moved = solveCholesky(without, size, scores.slice(g * size, (g + 1) * size));
    for (let k = 0; k < size; k++) variances[k]! += ((1 - LEFT_IN) * moved[k]!) ** 2;
  }
  const coefficients = new Float64Array(all.length).fill(Number.NaN);
  const standardErrors = new Float64Array(all.length).fill(Number.NaN);
  kept.forEach((k, place) => {
    coefficients[k] = estimate[place]!;
    standardErrors[k] = Math.sqrt((variances[place]! * (clusters - 1)) / clusters);
  });
  return { coefficients, standardErrors, clusters };
}

function restsOnOneCluster(
  { weights, clusterOf, clusters }: ClusteredProblem,
  column: Float64Array,
): boolean {
  const squares = new Float64Array(clusters);
  let total = 0;
  column.forEach((value, i) => {
    squares[clusterOf[i]!]! += weights[i]! * value * value;
    total += weights[i]! * value * value;
  });
  return squares.some((own) => own > MOST_IN_ONE_CLUSTER * total);
}

/** The column less its weighted mean by level. */
function freed({ weights, levelOf, levels }: ClusteredProblem, column: Float64Array): Float64Array {
  const sums = new Float64Array(levels);
  const totals = new Float64Array(levels);
  column.forEach((value, i) => {
    sums[levelOf[i]!]! += weights[i]! * value;
    totals[levelOf[i]!]! += weights[i]!;
  });
  return column.map((value, i) => value - sums[levelOf[i]!]! / totals[levelOf[i]!]!);
}
