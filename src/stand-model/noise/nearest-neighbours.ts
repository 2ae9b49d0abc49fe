/**
 * A covariance taken out of columns at a cost that grows as the number of places: each place is compared with the nearest of
 * those that come before it in some order, as if the others told nothing more (Vecchia 1988, J. R. Stat. Soc. B 50:297-312).
 * In a random order, with 60 neighbours, losses of 600 counts are those of the whole matrix to a small part of their error.
 */
import { cholesky, solveCholesky } from "../../numerics/cholesky.ts";
import { seededRandom } from "../../numerics/random.ts";
import type { Whitening } from "../../numerics/whitening.ts";

/**
 * Neighbours of each place among those before it. With 30 and short chains of draws the largest of 18 losses of simulated fields lay a
 * third of its error off the whole matrix, with 60 and long chains a ninth.
 */
const NEIGHBOURS = 60;

/** Places in a random order, each with the nearest of those before it. */
export interface NearestBefore {
  /** Place at each turn. */
  order: Int32Array;
  /** Neighbours of the place at turn k are `place[start[k]..start[k + 1])`. */
  start: Int32Array;
  place: Int32Array;
}

/** Finds the neighbours; the same places give the same order. */
export function nearestBefore(x: Float64Array, y: Float64Array, most = NEIGHBOURS): NearestBefore {
  const size = x.length;
  const random = seededRandom(size);
  const order = Int32Array.from({ length: size }, (_, i) => i);
  for (let k = size - 1; k > 0; k--) {
    const other = Math.floor(random() * (k + 1));
    [order[k], order[other]] = [order[other]!, order[k]!];
  }
  const atX = Float64Array.from(order, (place) => x[place]!);
  const atY = Float64Array.from(order, (place) => y[place]!);
  const start = new Int32Array(size + 1);
  const place = new Int32Array(size * most);
  const nearest = new Int32Array(most);
  const distance = new Float64Array(most);
  for (let k = 0; k < size; k++) {
    let held = 0;
    for (let turn = 0; turn < k; turn++) {
      const square = (atX[turn]! - atX[k]!) ** 2 + (atY[turn]! - atY[k]!) ** 2;
      if (held === most && square >= distance[held - 1]!) continue;
      let at = held < most ? held++ : held - 1;
      for (; at > 0 && distance[at - 1]! > square; at--) {
        distance[at] = distance[at - 1]!;
        nearest[at] = nearest[at - 1]!;
      }
      distance[at] = square;
      nearest[at] = order[turn]!;
    }
    place.set(nearest.subarray(0, held), start[k]!);
    start[k + 1] = start[k]! + held;
  }
  return { order, start, place: place.slice(0, start[size]!) };
}

/**
 * The covariance as a whitening.
 * @param covariance of two places, by index; of a place with itself its variance
 */
export function nearestNeighbourWhitening(
  { order, start, place }: NearestBefore,
  covariance: (one: number, other: number) => number,
): Whitening {
  const size = order.length;
  const weight = new Float64Array(place.length);
  const precision = new Float64Array(size);
  for (let k = 0; k < size; k++) {
    const from = start[k]!;
    const count = start[k + 1]! - from;
    const among = new Float64Array(count * count);
    const withOwn = new Float64Array(count);
    for (let a = 0; a < count; a++) {
      for (let b = 0; b <= a; b++) among[a * count + b] = covariance(place[from + a]!, place[from + b]!);
      withOwn[a] = covariance(order[k]!, place[from + a]!);
    }
    const weights = solveCholesky(cholesky(among, count), count, withOwn);
    let rest = covariance(order[k]!, order[k]!);
    for (let a = 0; a < count; a++) rest -= weights[a]! * withOwn[a]!;
    weight.set(weights, from);
    precision[k] = 1 / Math.sqrt(rest);
  }
  return {
    whiten(values) {
      const whitened = new Float64Array(size);
      for (let k = 0; k < size; k++) {
        let rest = values[order[k]!]!;
        for (let a = start[k]!; a < start[k + 1]!; a++) rest -= weight[a]! * values[place[a]!]!;
        whitened[k] = rest * precision[k]!;
      }
      return whitened;
    },
    pull(whitened) {
      const pulled = new Float64Array(size);
      for (let k = 0; k < size; k++) {
        const own = whitened[k]! * precision[k]!;
        pulled[order[k]!]! += own;
        for (let a = start[k]!; a < start[k + 1]!; a++) pulled[place[a]!]! -= weight[a]! * own;
      }
      return pulled;
    },
  };
}
