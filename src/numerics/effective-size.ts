/** How many independent values a series of like neighbours is worth. */
import { mean, sumOfSquaredDeviations } from "./descriptive.ts";

/**
 * Factor by which the variance of the mean of a series exceeds that of independent values, >= 1:
 * 1 + 2 sum of the autocorrelations. Two estimates are taken and the larger one counts: sums of pairs of
 * neighbouring lags as long as they stay positive (initial positive sequence, Geyer 1992, Stat. Sci.
 * 7:473-483), and (1 + r) / (1 - r) of a first-order autoregression with the lag-1 autocorrelation r freed
 * from its bias of -(1 + 4r)/n (Marriott & Pope 1954, Biometrika 41:390-402). A series shorter than four or
 * without spread gives 1.
 */
export function varianceInflation(values: ArrayLike<number>): number {
  const count = values.length;
  const centre = mean(values);
  const squares = sumOfSquaredDeviations(values);
  if (count < 4 || !(squares > 0)) return 1;
  const correlation = (lag: number): number => {
    let products = 0;
    for (let place = 0; place + lag < count; place++) {
      products += (values[place]! - centre) * (values[place + lag]! - centre);
    }
    return products / squares;
  };
  const first = correlation(1);
  let sum = 1 + first;
  for (let lag = 2; lag + 1 < count / 2; lag += 2) {
    const pair = correlation(lag) + correlation(lag + 1);
    if (pair <= 0) break;
    sum += pair;
  }
  const unbiased = Math.min(0.99, first + (1 + 4 * first) / count);
  return Math.max(1, 2 * sum - 1, (1 + unbiased) / (1 - unbiased));
}

export interface MeanWithVariance {
  mean: number;
  /** Squared standard error of the mean; Infinity where the series is worth less than two values. */
  variance: number;
  /** Degrees of freedom that go with the variance: effective number of values - 1. */
  df: number;
}

/**
 * Mean of a series of like neighbours with the variance of that mean: v / (m - 1) with v = sum of squared
 * deviations / n and m = n / {@link varianceInflation} (v itself is too small by its share 1/m of the mean's wandering).
 */
export function meanOfLikeNeighbours(values: ArrayLike<number>): MeanWithVariance {
  const count = values.length;
  const effective = count / varianceInflation(values);
  const spread = sumOfSquaredDeviations(values) / count;
  const variance = effective >= 2 ? spread / (effective - 1) : Number.POSITIVE_INFINITY;
  return { mean: mean(values), variance, df: Math.max(1, effective - 1) };
}
