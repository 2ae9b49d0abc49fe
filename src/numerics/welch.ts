/** Difference of two means whose spreads may differ. */
import { mean, variance } from "./descriptive.ts";
import { studentTQuantile } from "./distributions.ts";

export interface MeanDifference {
  /** Mean of the second less mean of the first, with its limits. */
  difference: number;
  low: number;
  high: number;
  /** Degrees of freedom by Welch and Satterthwaite; 1 where neither has spread. */
  df: number;
}

/**
 * Interval of the difference of two means (Welch 1947, Biometrika 34:28-35): V = v1/n1 + v2/n2 with the sample
 * variances v, df = V^2 / ((v1/n1)^2/(n1 - 1) + (v2/n2)^2/(n2 - 1)), limits t(df) sqrt V apart.
 * @param first at least two independent values; as `second`, in the same unit
 * @param level coverage, 0..1
 */
export function welchDifference(
  first: ArrayLike<number>,
  second: ArrayLike<number>,
  level: number,
): MeanDifference {
  const ofFirst = variance(first) / first.length;
  const ofSecond = variance(second) / second.length;
  const both = ofFirst + ofSecond;
  const df =
    both > 0 ? both ** 2 / (ofFirst ** 2 / (first.length - 1) + ofSecond ** 2 / (second.length - 1)) : 1;
  const half = studentTQuantile(0.5 + level / 2, df) * Math.sqrt(both);
  const difference = mean(second) - mean(first);
  return { difference, low: difference - half, high: difference + half, df };
}
