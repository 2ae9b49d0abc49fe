/** How far a pass departs from the others on the same soil, with an interval. */
import { studentTQuantile } from "../numerics/distributions.ts";
import { meanOfLikeNeighbours } from "../numerics/effective-size.ts";
import type { Passes } from "../passes/passes.ts";
import type { ComparisonRow } from "./comparison.ts";

export type Difference = Pick<ComparisonRow, "difference" | "low" | "high">;

export const LEVEL = 0.95;

export const NO_DIFFERENCE: Difference = { difference: null, low: null, high: null };

/** A pass on one soil: its records' mean, and the mean's variance from the moments along it. */
export interface PassMean {
  records: number;
  mean: number;
  /** Squared standard error; Infinity where the moments are worth less than two independent ones. */
  variance: number;
  df: number;
}

/** Mean of a group of records given in order of planting; null when none has a value. */
export function passMean(values: Float64Array, records: Int32Array, passes: Passes): PassMean | null {
  const moments: number[] = [];
  let at = -1;
  let sum = 0;
  let within = 0;
  let total = 0;
  let count = 0;
  const close = (): void => {
    if (within > 0) moments.push(sum / within);
    sum = 0;
    within = 0;
  };
  for (const record of records) {
    const value = values[record]!;
    if (Number.isNaN(value)) continue;
    if (passes.instantOf[record] !== at) {
      close();
      at = passes.instantOf[record]!;
    }
    sum += value;
    within++;
    total += value;
    count++;
  }
  close();
  if (count === 0) return null;
  const { variance, df } = meanOfLikeNeighbours(moments);
  return { records: count, mean: total / count, variance, df };
}

/**
 * Difference of each pass from the mean of all records of the other passes, with a 95 % interval.
 *
 * The variance of the pass's own mean is that of its moments with like neighbours counted once
 * ({@link meanOfLikeNeighbours}). The others are clusters: with w_q their shares of the records, m_q their
 * means and m their weighted mean, the variance is Q/(Q - 1) sum w_q^2 (m_q - m)^2, and not below the sum of
 * w_q^2 times their own variances. Degrees of freedom by Welch and Satterthwaite (Welch 1947, Biometrika
 * 34:28-35), the clusters counting 1/sum w_q^2 - 1.
 * @returns one entry a pass of `means`; null figures where there is no other pass or no variance
 */
export function differencesOfPasses(means: readonly PassMean[]): Difference[] {
  return means.map((own, index) => {
    const others = means.filter((_, other) => other !== index);
    if (others.length === 0) return NO_DIFFERENCE;
    const records = others.reduce((sum, other) => sum + other.records, 0);
    const weights = others.map((other) => other.records / records);
    const middle = others.reduce((sum, other, k) => sum + weights[k]! * other.mean, 0);
    const difference = own.mean - middle;
    const clusters = clusterVariance(others, weights, middle);
    const variance = own.variance + clusters.variance;
    if (!Number.isFinite(variance)) return { difference, low: null, high: null };
    const df =
      variance > 0 ? variance ** 2 / (own.variance ** 2 / own.df + clusters.variance ** 2 / clusters.df) : 1;
    const half = studentTQuantile(0.5 + LEVEL / 2, df) * Math.sqrt(variance);
    return { difference, low: difference - half, high: difference + half };
  });
}

function clusterVariance(
  others: readonly PassMean[],
  weights: readonly number[],
  middle: number,
): { variance: number; df: number } {
  let between = 0;
  let within = 0;
  let concentration = 0;
  let df = 0;
  others.forEach((other, k) => {
    const square = weights[k]! ** 2;
    between += square * (other.mean - middle) ** 2;
    if (Number.isFinite(other.variance)) {
      within += square * other.variance;
      df += other.df;
    }
    concentration += square;
  });
  const count = others.length;
  const scaled = count > 1 ? (between * count) / (count - 1) : 0;
  if (count === 1 && !Number.isFinite(others[0]!.variance)) {
    return { variance: Number.POSITIVE_INFINITY, df: 1 };
  }
  if (within >= scaled) return { variance: within, df: Math.max(1, df) };
  return { variance: scaled, df: Math.max(1, 1 / concentration - 1) };
}
