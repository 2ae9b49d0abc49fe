/**
 * Means, spreads and serial dependence of a column or a stretch of it. `start` is included, `end` is not;
 * both default to the whole column. Values have to be finite: a NaN comes out as NaN. Results are in the
 * unit of the values (variance: squared) unless stated. An empty stretch gives NaN.
 */
import { quantileInPlace } from "./quantile.ts";

/** Makes the median absolute deviation estimate the SD of normal data: 1 / normal quantile(3/4), as R's `mad`. */
export const MAD_TO_SD = 1.4826;

/**
 * Arithmetic mean. Deviations from the first value are summed, not the values, so that a small spread on a
 * large level keeps its digits.
 */
export function mean(values: ArrayLike<number>, start = 0, end = values.length): number {
  const count = end - start;
  if (count <= 0) return Number.NaN;
  const shift = values[start]!;
  let sum = 0;
  for (let index = start; index < end; index++) sum += values[index]! - shift;
  return shift + sum / count;
}

/**
 * Sum of squared deviations from the mean, in two passes with the correction for the rounding of the mean
 * (Chan, Golub & LeVeque 1983, Am. Stat. 37:242-247).
 */
export function sumOfSquaredDeviations(
  values: ArrayLike<number>,
  start = 0,
  end = values.length,
  centre = mean(values, start, end),
): number {
  const count = end - start;
  if (count <= 0) return Number.NaN;
  let squares = 0;
  let rest = 0;
  for (let index = start; index < end; index++) {
    const deviation = values[index]! - centre;
    squares += deviation * deviation;
    rest += deviation;
  }
  return squares - (rest * rest) / count;
}

/** Sample variance with divisor n - 1; NaN for fewer than two values. */
export function variance(values: ArrayLike<number>, start = 0, end = values.length): number {
  const count = end - start;
  return count < 2 ? Number.NaN : sumOfSquaredDeviations(values, start, end) / (count - 1);
}

/** Sample standard deviation with divisor n - 1; NaN for fewer than two values. */
export function standardDeviation(values: ArrayLike<number>, start = 0, end = values.length): number {
  return Math.sqrt(variance(values, start, end));
}

/** Weighted mean; weights >= 0, of any unit. NaN when they sum to 0. */
export function weightedMean(values: ArrayLike<number>, weights: ArrayLike<number>): number {
  let total = 0;
  let sum = 0;
  for (let index = 0; index < values.length; index++) {
    total += weights[index]!;
    sum += weights[index]! * values[index]!;
  }
  return total > 0 ? sum / total : Number.NaN;
}

/** Median (quantile type 7 at 0.5); the column is left as it is. */
export function median(values: ArrayLike<number>, start = 0, end = values.length): number {
  return quantileInPlace(copyOf(values, start, end), 0.5);
}

/** Median absolute deviation from the median times 1.4826: a spread that outliers do not move. */
export function medianAbsoluteDeviation(values: ArrayLike<number>, start = 0, end = values.length): number {
  const work = copyOf(values, start, end);
  const centre = quantileInPlace(work, 0.5);
  for (let index = 0; index < work.length; index++) work[index] = Math.abs(work[index]! - centre);
  return MAD_TO_SD * quantileInPlace(work, 0.5);
}

function copyOf(values: ArrayLike<number>, start: number, end: number): Float64Array {
  const copy = new Float64Array(Math.max(0, end - start));
  for (let index = 0; index < copy.length; index++) copy[index] = values[start + index]!;
  return copy;
}
