/** One-way analysis of variance, the reference for "do the groups differ at all". */
import { mean, sumOfSquaredDeviations } from "../../src/numerics/descriptive.ts";
import { fUpperTail } from "../../src/numerics/distributions.ts";

export interface OneWayAnova {
  betweenDf: number;
  withinDf: number;
  /** Sums of squares, squared unit of the values. */
  betweenSumOfSquares: number;
  withinSumOfSquares: number;
  f: number;
  /** Probability of so large an F were all group means equal. */
  pValue: number;
  /** Share of the total sum of squares that lies between the groups, 0..1. */
  rSquared: number;
  /** Square root of the mean square within the groups, in the unit of the values. */
  residualSd: number;
}

/**
 * One-way analysis of variance of two or more non-empty groups (Fisher 1925), in two passes, with all
 * values taken relative to the first one so that a large common level costs no digits.
 */
export function oneWayAnova(groups: readonly ArrayLike<number>[]): OneWayAnova {
  const shift = groups[0]?.[0] ?? Number.NaN;
  const means: number[] = [];
  let count = 0;
  let withinSumOfSquares = 0;
  let sum = 0;
  for (const group of groups) {
    const deviations = Float64Array.from(group, (value) => value - shift);
    const groupMean = mean(deviations);
    means.push(groupMean);
    count += group.length;
    sum += group.length * groupMean;
    withinSumOfSquares += sumOfSquaredDeviations(deviations, 0, deviations.length, groupMean);
  }
  const overall = sum / count;
  let betweenSumOfSquares = 0;
  for (let group = 0; group < groups.length; group++) {
    betweenSumOfSquares += groups[group]!.length * (means[group]! - overall) ** 2;
  }
  const betweenDf = groups.length - 1;
  const withinDf = count - groups.length;
  const f = betweenSumOfSquares / betweenDf / (withinSumOfSquares / withinDf);
  return {
    betweenDf,
    withinDf,
    betweenSumOfSquares,
    withinSumOfSquares,
    f,
    pValue: fUpperTail(f, betweenDf, withinDf),
    rSquared: betweenSumOfSquares / (betweenSumOfSquares + withinSumOfSquares),
    residualSd: Math.sqrt(withinSumOfSquares / withinDf),
  };
}
