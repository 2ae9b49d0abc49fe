/** Weighted mean of counts with an interval that takes passes for clusters, stratum by stratum. */
import { normalQuantile, studentTQuantile } from "../numerics/distributions.ts";
import type { Estimate } from "../numerics/estimate.ts";

export interface WeightedCounts {
  /** NaN where a count has no value: it is left out and its weight goes to the others of its stratum. */
  values: ArrayLike<number>;
  /** Weight of each stratum, summing to 1, and the stratum of each count. */
  stratumWeights: readonly number[];
  stratumOf: ArrayLike<number>;
  /** Cluster of each count (its pass): counts of one cluster err together. */
  clusterOf: ArrayLike<number>;
  /** Spread of single counts (SD) taken where a single count shows none. */
  assumedSd: number;
}

/**
 * Mean over strata and its interval: variance of the stratum mean between clusters (between counts where a stratum
 * has one cluster), strata added, Student with Satterthwaite's degrees of freedom (Cochran 1977, Sampling Techniques,
 * 5.4 and 9A; Satterthwaite 1946).
 * @returns null where no count has a value
 */
export function clusteredMean(counts: WeightedCounts, level: number): Estimate | null {
  const { values, stratumOf, clusterOf } = counts;
  const strata = counts.stratumWeights.map((weight, stratum) => {
    const members: number[] = [];
    for (let i = 0; i < values.length; i++)
      if (stratumOf[i] === stratum && !Number.isNaN(values[i]!)) members.push(i);
    return { weight, members };
  });
  const present = strata.filter(({ members }) => members.length > 0);
  const total = present.reduce((sum, { weight }) => sum + weight, 0);
  if (!(total > 0)) return null;
  let estimate = 0;
  let variance = 0;
  let spread = 0;
  for (const { weight, members } of present) {
    const share = weight / total;
    const mean = members.reduce((sum, i) => sum + values[i]!, 0) / members.length;
    estimate += share * mean;
    const { ofMean, freedom } = varianceOfMean(members, values, clusterOf, mean, counts.assumedSd);
    const part = share ** 2 * ofMean;
    variance += part;
    spread += part ** 2 / freedom;
  }
  const freedom = variance > 0 && spread > 0 ? variance ** 2 / spread : Number.POSITIVE_INFINITY;
  const quantile =
    freedom === Number.POSITIVE_INFINITY
      ? normalQuantile(0.5 + level / 2)
      : studentTQuantile(0.5 + level / 2, Math.max(1, freedom));
  const half = quantile * Math.sqrt(variance);
  return { estimate, low: estimate - half, high: estimate + half, level };
}

function varianceOfMean(
  members: readonly number[],
  values: ArrayLike<number>,
  clusterOf: ArrayLike<number>,
  mean: number,
  assumedSd: number,
): { ofMean: number; freedom: number } {
  if (members.length === 1) return { ofMean: assumedSd ** 2, freedom: Number.POSITIVE_INFINITY };
  const sums = new Map<number, number>();
  for (const i of members)
    sums.set(clusterOf[i]!, (sums.get(clusterOf[i]!) ?? 0) + (values[i]! - mean) / members.length);
  const parts = sums.size > 1 ? [...sums.values()] : members.map((i) => (values[i]! - mean) / members.length);
  const squares = parts.reduce((sum, part) => sum + part ** 2, 0);
  return { ofMean: (parts.length / (parts.length - 1)) * squares, freedom: parts.length - 1 };
}
