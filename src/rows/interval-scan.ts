/**
 * Scan of a series for a run that stands apart (Arias-Castro, Donoho & Huo 2005, IEEE Trans. Inf. Theory
 * 51:2402-2425 for the scan over intervals), and the largest score that noise alone gives.
 */
import { normal, seededRandom } from "../numerics/random.ts";

export interface Run {
  /** First and last position, inclusive. */
  first: number;
  last: number;
  /** Weighted mean over the run. */
  mean: number;
  /** (|mean| - dead band) sqrt(sum of weights) / noise scale. */
  score: number;
}

const SHORTEST_RUN = 2;

/** Run lengths looked at: all up to 16, then steps of a quarter; the ends of the best one are moved singly after. */
function runLengths(count: number): number[] {
  const lengths: number[] = [];
  for (let length = SHORTEST_RUN; length < count; length = Math.max(length + 1, Math.floor(length * 1.25))) {
    lengths.push(length);
  }
  lengths.push(count);
  return lengths;
}

/**
 * Best run of at least two within [from, to), by the score that allows a dead band about zero.
 * @param scale SD of one value of weight 1
 * @returns null when the stretch is shorter than two.
 */
export function strongestRun(
  values: Float64Array,
  weights: Float64Array,
  scale: number,
  deadBand: number,
  from = 0,
  to = values.length,
): Run | null {
  const count = to - from;
  if (count < SHORTEST_RUN) return null;
  const sums = new Float64Array(count + 1);
  const weightSums = new Float64Array(count + 1);
  for (let k = 0; k < count; k++) {
    sums[k + 1] = sums[k]! + weights[from + k]! * values[from + k]!;
    weightSums[k + 1] = weightSums[k]! + weights[from + k]!;
  }
  const scoreOf = (first: number, end: number): number => {
    const weight = weightSums[end]! - weightSums[first]!;
    return ((Math.abs((sums[end]! - sums[first]!) / weight) - deadBand) * Math.sqrt(weight)) / scale;
  };
  let best = { first: 0, end: count, score: Number.NEGATIVE_INFINITY };
  for (const length of runLengths(count)) {
    for (let first = 0; first + length <= count; first++) {
      const score = scoreOf(first, first + length);
      if (score > best.score) best = { first, end: first + length, score };
    }
  }
  for (let moved = true; moved; ) {
    moved = false;
    for (const [left, right] of [
      [-1, 0],
      [1, 0],
      [0, 1],
      [0, -1],
    ] as const) {
      const first = best.first + left;
      const end = best.end + right;
      if (first < 0 || end > count || end - first < SHORTEST_RUN) continue;
      const score = scoreOf(first, end);
      if (score > best.score) {
        best = { first, end, score };
        moved = true;
      }
    }
  }
  const weight = weightSums[best.end]! - weightSums[best.first]!;
  return {
    first: from + best.first,
    last: from + best.end - 1,
    mean: (sums[best.end]! - sums[best.first]!) / weight,
    score: best.score,
  };
}

const SIMULATED_TABLES = 200;
const cache = new Map<string, Float64Array>();

/**
 * Largest score over all runs of all series of a table of independent standard normal noise, simulated;
 * ascending. Sizes are rounded up so that a table is simulated once for all fields of about its size.
 */
export function largestRunScores(seriesCount: number, length: number): Float64Array {
  const series = roundUp(seriesCount);
  const count = roundUp(length);
  const key = `${series}/${count}`;
  const known = cache.get(key);
  if (known) return known;
  const random = seededRandom(series * 1009 + count);
  const lengths = runLengths(count);
  const roots = lengths.map((run) => 1 / Math.sqrt(run));
  const sums = new Float64Array(count + 1);
  const largest = Float64Array.from({ length: SIMULATED_TABLES }, () => {
    let best = 0;
    for (let row = 0; row < series; row++) {
      for (let k = 0; k < count; k++) sums[k + 1] = sums[k]! + normal(random);
      for (let l = 0; l < lengths.length; l++) {
        const run = lengths[l]!;
        const root = roots[l]!;
        for (let first = 0; first + run <= count; first++) {
          const score = Math.abs(sums[first + run]! - sums[first]!) * root;
          if (score > best) best = score;
        }
      }
    }
    return best;
  }).sort();
  cache.set(key, largest);
  return largest;
}

/** Up to the next of a ladder of sizes a quarter apart. */
function roundUp(size: number): number {
  let step = 4;
  while (step < size) step = Math.ceil(step * 1.25);
  return step;
}
