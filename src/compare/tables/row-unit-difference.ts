/** How far a row unit departs from the others at the same moments, pass by pass. */
import { studentTQuantile } from "../../numerics/distributions.ts";
import type { Passes } from "../../passes/passes.ts";
import { type Difference, LEVEL, NO_DIFFERENCE } from "./pass-difference.ts";

/** Sum and number of the values of the row units at each moment. */
export function sumsByMoment(
  values: Float64Array,
  planted: Uint8Array,
  { momentOf, momentCount, rowUnitOf }: Passes,
): { sum: Float64Array; count: Int32Array } {
  const sum = new Float64Array(momentCount);
  const count = new Int32Array(momentCount);
  for (let record = 0; record < values.length; record++) {
    const value = values[record]!;
    if (planted[record] === 0 || rowUnitOf[record] === 0 || Number.isNaN(value)) continue;
    sum[momentOf[record]!]! += value;
    count[momentOf[record]!]!++;
  }
  return { sum, count };
}

/** Departures of each record: its value minus the mean of the other row units of its moment; NaN where there are none. */
export function departuresFromOthers(
  values: Float64Array,
  planted: Uint8Array,
  passes: Passes,
): Float64Array {
  const { sum, count } = sumsByMoment(values, planted, passes);
  const departures = new Float64Array(values.length).fill(Number.NaN);
  for (let record = 0; record < values.length; record++) {
    const at = passes.momentOf[record]!;
    if (planted[record] === 0 || passes.rowUnitOf[record] === 0 || count[at]! < 2) continue;
    departures[record] = values[record]! - (sum[at]! - values[record]!) / (count[at]! - 1);
  }
  return departures;
}

/** A mean over passes with the passes as replicates. */
export interface MeanOverPasses {
  mean: number;
  /** Squared standard error on `df` degrees of freedom; null with one pass only. */
  variance: number | null;
  df: number;
}

/**
 * Mean departure of one row unit, with the passes as replicates: d_p is the mean departure in pass p, w_p its
 * share of the records, d = sum w_p d_p, and the variance of d is P/(P - 1) sum w_p^2 (d_p - d)^2 on
 * 1/sum w_p^2 - 1 degrees of freedom (P - 1 when all passes are as long).
 * @param sums sum of the departures by pass
 * @param counts number (or weight) of the departures by pass
 * @returns null where no pass has any
 */
export function meanOverPasses(sums: ArrayLike<number>, counts: ArrayLike<number>): MeanOverPasses | null {
  let total = 0;
  let count = 0;
  let passes = 0;
  for (let pass = 0; pass < counts.length; pass++) {
    if (counts[pass] === 0) continue;
    total += sums[pass]!;
    count += counts[pass]!;
    passes++;
  }
  if (count === 0) return null;
  const mean = total / count;
  if (passes < 2) return { mean, variance: null, df: 0 };
  let squares = 0;
  let concentration = 0;
  for (let pass = 0; pass < counts.length; pass++) {
    if (counts[pass] === 0) continue;
    const weight = counts[pass]! / count;
    squares += weight ** 2 * (sums[pass]! / counts[pass]! - mean) ** 2;
    concentration += weight ** 2;
  }
  return { mean, variance: (squares * passes) / (passes - 1), df: Math.max(1, 1 / concentration - 1) };
}

/** {@link meanOverPasses} as a difference with its interval, which is null with one pass only. */
export function differenceOfRowUnit(sums: ArrayLike<number>, counts: ArrayLike<number>): Difference {
  const found = meanOverPasses(sums, counts);
  if (!found) return NO_DIFFERENCE;
  const { mean: difference, variance, df } = found;
  if (variance === null) return { difference, low: null, high: null };
  const half = studentTQuantile(0.5 + LEVEL / 2, df) * Math.sqrt(variance);
  return { difference, low: difference - half, high: difference + half };
}
