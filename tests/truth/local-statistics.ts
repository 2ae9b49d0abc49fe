/**
 * Local and global statistics of spatial association, for pictures. None of them raises an alarm here: their
 * null law takes the places as exchangeable, so that the ordinary patchiness of a field is flagged as well
 * (on our simulated fields without a fault every one was). Alarms come from the score scan.
 */
import type { Neighbours } from "../../src/cells/neighbours.ts";

/** "binary": each neighbour weighs 1; "row-standardised": the weights of each place sum to 1. */
export type WeightStyle = "binary" | "row-standardised";

interface Centred {
  count: number;
  mean: number;
  /** Deviations from the mean. */
  deviation: Float64Array;
  sumOfSquares: number;
  sumOfFourths: number;
}

function centre(values: Float64Array): Centred {
  const count = values.length;
  const mean = values.reduce((sum, value) => sum + value, 0) / count;
  const deviation = values.map((value) => value - mean);
  let sumOfSquares = 0;
  let sumOfFourths = 0;
  for (const value of deviation) {
    sumOfSquares += value ** 2;
    sumOfFourths += value ** 4;
  }
  return { count, mean, deviation, sumOfSquares, sumOfFourths };
}

function weightOf(neighbours: Neighbours, place: number, style: WeightStyle): number {
  return style === "binary" ? 1 : 1 / (neighbours.start[place + 1]! - neighbours.start[place]!);
}

function neighbourSum(values: Float64Array, neighbours: Neighbours, place: number): number {
  let sum = 0;
  for (let k = neighbours.start[place]!; k < neighbours.start[place + 1]!; k++) {
    sum += values[neighbours.index[k]!]!;
  }
  return sum;
}

/**
 * Getis-Ord Gi (the place itself left out), as a z value (Getis & Ord 1992, Geogr. Anal. 24:189-206; Ord &
 * Getis 1995, 27:286-306). Equal weights make the z value the same for binary and row-standardised ones.
 * @returns one z value a place; NaN for a place without neighbours.
 */
export function getisOrdG(values: Float64Array, neighbours: Neighbours): Float64Array {
  const total = values.reduce((sum, value) => sum + value, 0);
  const squares = values.reduce((sum, value) => sum + value * value, 0);
  const others = values.length - 1;
  return values.map((own, i) => {
    const degree = neighbours.start[i + 1]! - neighbours.start[i]!;
    const mean = (total - own) / others;
    const variance = (squares - own * own) / others - mean * mean;
    const spread = Math.sqrt((variance * (others * degree - degree * degree)) / (others - 1));
    return (neighbourSum(values, neighbours, i) - degree * mean) / spread;
  });
}

/** Getis-Ord Gi*, the place itself among its neighbours, as a z value (Ord & Getis 1995). */
export function getisOrdGStar(values: Float64Array, neighbours: Neighbours): Float64Array {
  const { count, mean, sumOfSquares } = centre(values);
  const sd = Math.sqrt(sumOfSquares / count);
  return values.map((own, i) => {
    const degree = neighbours.start[i + 1]! - neighbours.start[i]! + 1;
    const spread = sd * Math.sqrt((count * degree - degree * degree) / (count - 1));
    return (neighbourSum(values, neighbours, i) + own - degree * mean) / spread;
  });
}

export interface LocalMoran {
  statistic: Float64Array;
  /** Expectation and variance under conditional permutation (the place keeps its value), and z. */
  expectation: Float64Array;
  variance: Float64Array;
  z: Float64Array;
}

/**
 * Local Moran with row-standardised weights (Anselin 1995, Geogr. Anal. 27:93-115); moments under conditional
 * permutation (Sokal, Oden & Thomson 1998, Geogr. Anal. 30:331-354). The scale is the sum of squares / n.
 * Places without neighbours have statistic 0 and z NaN.
 */
export function localMoran(values: Float64Array, neighbours: Neighbours): LocalMoran {
  const { count, deviation, sumOfSquares } = centre(values);
  const scale = sumOfSquares / count;
  const places = values.length;
  const result: LocalMoran = {
    statistic: new Float64Array(places),
    expectation: new Float64Array(places),
    variance: new Float64Array(places),
    z: new Float64Array(places),
  };
  for (let i = 0; i < places; i++) {
    const degree = neighbours.start[i + 1]! - neighbours.start[i]!;
    const weight = degree === 0 ? 0 : 1 / degree;
    const own = deviation[i]!;
    const total = degree * weight;
    const squares = degree * weight * weight;
    result.statistic[i] = (own / scale) * weight * neighbourSum(deviation, neighbours, i);
    result.expectation[i] = (-(own * own) * total) / ((count - 1) * scale);
    result.variance[i] =
      (own / scale) ** 2 *
      (count / (count - 2)) *
      (squares - (total * total) / (count - 1)) *
      (scale - (own * own) / (count - 1));
    result.z[i] = (result.statistic[i]! - result.expectation[i]!) / Math.sqrt(result.variance[i]!);
  }
  return result;
}

export interface GlobalStatistic {
  statistic: number;
  expectation: number;
  /** Variance under random permutation of the values over the places. */
  variance: number;
  z: number;
}

/** Sums S0, S1, S2 of a weight matrix (Cliff & Ord 1981, Spatial Processes, ch. 1). */
function weightSums(neighbours: Neighbours, style: WeightStyle): { s0: number; s1: number; s2: number } {
  const places = neighbours.start.length - 1;
  const rowSum = new Float64Array(places);
  const columnSum = new Float64Array(places);
  let s1 = 0;
  for (let i = 0; i < places; i++) {
    const weight = weightOf(neighbours, i, style);
    for (let k = neighbours.start[i]!; k < neighbours.start[i + 1]!; k++) {
      const j = neighbours.index[k]!;
      rowSum[i]! += weight;
      columnSum[j]! += weight;
      const back = hasNeighbour(neighbours, j, i) ? weightOf(neighbours, j, style) : 0;
      // (w_ij + w_ji)^2 / 2 over ordered pairs: a pair that holds one way only is met once here, not twice.
      s1 += back > 0 ? (weight + back) ** 2 / 2 : weight ** 2;
    }
  }
  const s0 = rowSum.reduce((sum, value) => sum + value, 0);
  const s2 = rowSum.reduce((sum, value, i) => sum + (value + columnSum[i]!) ** 2, 0);
  return { s0, s1, s2 };
}

function hasNeighbour(neighbours: Neighbours, place: number, other: number): boolean {
  for (let k = neighbours.start[place]!; k < neighbours.start[place + 1]!; k++) {
    if (neighbours.index[k] === other) return true;
  }
  return false;
}

/** Moran's I with its moments under randomisation (Cliff & Ord 1981, ch. 2). */
export function moran(
  values: Float64Array,
  neighbours: Neighbours,
  style: WeightStyle = "row-standardised",
): GlobalStatistic {
  const { count: n, deviation, sumOfSquares, sumOfFourths } = centre(values);
  const { s0, s1, s2 } = weightSums(neighbours, style);
  let cross = 0;
  for (let i = 0; i < n; i++) {
    if (neighbours.start[i] === neighbours.start[i + 1]) continue;
    cross += weightOf(neighbours, i, style) * deviation[i]! * neighbourSum(deviation, neighbours, i);
  }
  const kurtosis = (n * sumOfFourths) / sumOfSquares ** 2;
  const statistic = (n / s0) * (cross / sumOfSquares);
  const expectation = -1 / (n - 1);
  const first = n * ((n * n - 3 * n + 3) * s1 - n * s2 + 3 * s0 * s0);
  const second = kurtosis * (n * (n - 1) * s1 - 2 * n * s2 + 6 * s0 * s0);
  const variance = (first - second) / ((n - 1) * (n - 2) * (n - 3) * s0 * s0) - expectation ** 2;
  return { statistic, expectation, variance, z: (statistic - expectation) / Math.sqrt(variance) };
}

/** Geary's C with its moments under randomisation (Cliff & Ord 1981, ch. 2); z is positive for likeness. */
export function geary(
  values: Float64Array,
  neighbours: Neighbours,
  style: WeightStyle = "row-standardised",
): GlobalStatistic {
  const { count: n, sumOfSquares, sumOfFourths } = centre(values);
  const { s0, s1, s2 } = weightSums(neighbours, style);
  let steps = 0;
  for (let i = 0; i < n; i++) {
    for (let k = neighbours.start[i]!; k < neighbours.start[i + 1]!; k++) {
      steps += weightOf(neighbours, i, style) * (values[i]! - values[neighbours.index[k]!]!) ** 2;
    }
  }
  const kurtosis = (n * sumOfFourths) / sumOfSquares ** 2;
  const statistic = ((n - 1) * steps) / (2 * s0 * sumOfSquares);
  const first = (n - 1) * s1 * (n * n - 3 * n + 3 - (n - 1) * kurtosis);
  const second = 0.25 * (n - 1) * s2 * (n * n + 3 * n - 6 - (n * n - n + 2) * kurtosis);
  const third = s0 * s0 * (n * n - 3 - (n - 1) ** 2 * kurtosis);
  const variance = (first - second + third) / (n * (n - 2) * (n - 3) * s0 * s0);
  return { statistic, expectation: 1, variance, z: (1 - statistic) / Math.sqrt(variance) };
}
