/** How far a pass departs from the others on the same soil, with an interval. */
import { studentTQuantile } from "../../numerics/distributions.ts";
import { meanOfLikeNeighbours } from "../../numerics/effective-size.ts";
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
  if (means.length < 2) return means.map(() => NO_DIFFERENCE);
  const others = sumsOfOthers(means);
  return means.map((own, index) => {
    const { middle, variance: ofOthers, df: dfOfOthers } = meanOfOthers(others, index, means.length - 1);
    const difference = own.mean - middle;
    const variance = own.variance + ofOthers;
    if (!Number.isFinite(variance)) return { difference, low: null, high: null };
    const df = variance > 0 ? variance ** 2 / (own.variance ** 2 / own.df + ofOthers ** 2 / dfOfOthers) : 1;
    const half = studentTQuantile(0.5 + LEVEL / 2, df) * Math.sqrt(variance);
    return { difference, low: difference - half, high: difference + half };
  });
}

/** Sums over all passes but one, one entry a pass; n records, m means less the centre, v variances. */
interface SumsOfOthers {
  /** Mean of the means, taken off first so that nothing is lost where they lie far from zero. */
  centre: number;
  /** Of n, n m, n2, n2 m, n2 m2, and of n2 v and the degrees of freedom where v is finite. */
  records: Float64Array;
  values: Float64Array;
  squares: Float64Array;
  squareValues: Float64Array;
  squareValueSquares: Float64Array;
  within: Float64Array;
  df: Float64Array;
}

function sumsOfOthers(means: readonly PassMean[]): SumsOfOthers {
  const centre = means.reduce((sum, { mean }) => sum + mean, 0) / means.length;
  const sum = (term: (pass: PassMean, off: number) => number): Float64Array =>
    allButOne(means.map((pass) => term(pass, pass.mean - centre)));
  const ofFinite = (variance: number, term: number): number => (Number.isFinite(variance) ? term : 0);
  return {
    centre,
    records: sum(({ records }) => records),
    values: sum(({ records }, off) => records * off),
    squares: sum(({ records }) => records ** 2),
    squareValues: sum(({ records }, off) => records ** 2 * off),
    squareValueSquares: sum(({ records }, off) => (records * off) ** 2),
    within: sum(({ records, variance }) => ofFinite(variance, records ** 2 * variance)),
    df: sum(({ variance, df }) => ofFinite(variance, df)),
  };
}

/** Sum of all terms but the one of each place, added up from both ends: nothing is subtracted, nothing lost. */
function allButOne(terms: readonly number[]): Float64Array {
  const sums = new Float64Array(terms.length);
  let before = 0;
  for (let k = 0; k < terms.length; k++) {
    sums[k] = before;
    before += terms[k]!;
  }
  let behind = 0;
  for (let k = terms.length - 1; k >= 0; k--) {
    sums[k]! += behind;
    behind += terms[k]!;
  }
  return sums;
}

/** Mean of all records of the passes but one, its variance with the passes as clusters, and the degrees of freedom. */
function meanOfOthers(
  sums: SumsOfOthers,
  left: number,
  count: number,
): { middle: number; variance: number; df: number } {
  const records = sums.records[left]!;
  const square = records * records;
  const off = sums.values[left]! / records;
  const middle = sums.centre + off;
  const between =
    Math.max(
      0,
      sums.squareValueSquares[left]! - 2 * off * sums.squareValues[left]! + off * off * sums.squares[left]!,
    ) / square;
  const within = sums.within[left]! / square;
  const df = sums.df[left]!;
  const scaled = count > 1 ? (between * count) / (count - 1) : 0;
  if (count === 1 && df === 0) return { middle, variance: Number.POSITIVE_INFINITY, df: 1 };
  if (within >= scaled) return { middle, variance: within, df: Math.max(1, df) };
  return { middle, variance: scaled, df: Math.max(1, square / sums.squares[left]! - 1) };
}
