/** How far a pass departs from the others on the same soil, with an interval. */
import { studentTQuantile } from "../numerics/distributions.ts";
import { meanOfLikeNeighbours } from "../numerics/effective-size.ts";
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

/** Mean of records with the variance from their moments, in order of planting. */
export function passMean(records: number, mean: number, moments: Float64Array): PassMean {
  const { variance, df } = meanOfLikeNeighbours(moments);
  return { records, mean, variance, df };
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
    if (means.length < 2) return NO_DIFFERENCE;
    const { middle, variance: ofOthers, df: dfOfOthers } = meanOfOthers(means, index);
    const difference = own.mean - middle;
    const variance = own.variance + ofOthers;
    if (!Number.isFinite(variance)) return { difference, low: null, high: null };
    const df = variance > 0 ? variance ** 2 / (own.variance ** 2 / own.df + ofOthers ** 2 / dfOfOthers) : 1;
    const half = studentTQuantile(0.5 + LEVEL / 2, df) * Math.sqrt(variance);
    return { difference, low: difference - half, high: difference + half };
  });
}

/** Mean of all records of the passes but one, its variance with the passes as clusters, and the degrees of freedom. */
function meanOfOthers(
  means: readonly PassMean[],
  left: number,
): { middle: number; variance: number; df: number } {
  let records = 0;
  for (let k = 0; k < means.length; k++) if (k !== left) records += means[k]!.records;
  let middle = 0;
  for (let k = 0; k < means.length; k++) {
    if (k !== left) middle += (means[k]!.records / records) * means[k]!.mean;
  }
  let between = 0;
  let within = 0;
  let concentration = 0;
  let df = 0;
  for (let k = 0; k < means.length; k++) {
    if (k === left) continue;
    const other = means[k]!;
    const square = (other.records / records) ** 2;
    between += square * (other.mean - middle) ** 2;
    if (Number.isFinite(other.variance)) {
      within += square * other.variance;
      df += other.df;
    }
    concentration += square;
  }
  const count = means.length - 1;
  const scaled = count > 1 ? (between * count) / (count - 1) : 0;
  if (count === 1 && df === 0) return { middle, variance: Number.POSITIVE_INFINITY, df: 1 };
  if (within >= scaled) return { middle, variance: within, df: Math.max(1, df) };
  return { middle, variance: scaled, df: Math.max(1, 1 / concentration - 1) };
}
