/**
 * Counts as points of the stand model. Where they lie denser than what one of them can tell, those on one piece of ground
 * are pooled: their mean is as good as all of them, and the cost of the model stays within bounds whatever is counted.
 */
import type { Spots } from "../stand/spots.ts";

export interface Points {
  count: number;
  x: Float64Array;
  y: Float64Array;
  /** Stand as a share of the target, mean of the pooled counts. */
  response: Float64Array;
  /** Variance of that mean from counting few plants, and of pooled counts by what the model cannot know of their ground. */
  countingVariance: Float64Array;
  /** Soil zone of the point's first count, -1 where none; pooled counts share it. */
  zone: Int32Array;
  /** What the model is off on some ground however often it was counted, SD as share of stand; 0 where no counts were pooled. */
  misfitSd: number;
  pass: Int32Array;
  alongM: Float64Array;
  /** Spots of point p are `spot[start[p]..start[p + 1])`. */
  start: Int32Array;
  spot: Int32Array;
}

/** Up to so many counts each is a point of its own; more are pooled until about so many are left. */
export const MOST_POINTS = 600;
/** Side of the first squares that counts are pooled on, m. */
const FIRST_SQUARE_M = 6;

/**
 * What a piece of ground is off the model by, however often it was counted, SD as share of stand: edges of places, positions
 * and the shape of the losses are known no better (our judgement; without it forty thousand counts call a point of misfit a loss).
 */
const MISFIT_SD = 0.01;

/**
 * Points of the spots, pooled where there are more than so many; spots of different zones stay apart.
 * @param most points that are left at most
 */
export function pointsOf(spots: Spots, most = MOST_POINTS): Points {
  let groups = [...Array(spots.count).keys()].map((s) => [s]);
  for (let sideM = FIRST_SQUARE_M; groups.length > most && sideM < 200; sideM *= 1.25) {
    const squares = new Map<string, number[]>();
    for (let s = 0; s < spots.count; s++) {
      const square = `${Math.floor(spots.x[s]! / sideM)} ${Math.floor(spots.y[s]! / sideM)} ${spots.zone[s]}`;
      const group = squares.get(square);
      if (group) group.push(s);
      else squares.set(square, [s]);
    }
    groups = [...squares.values()];
  }
  const count = groups.length;
  const mean = (values: Float64Array, group: readonly number[]): number =>
    group.reduce((sum, s) => sum + values[s]!, 0) / group.length;
  const start = new Int32Array(count + 1);
  groups.forEach((group, p) => {
    start[p + 1] = start[p]! + group.length;
  });
  return {
    count,
    x: Float64Array.from(groups, (group) => mean(spots.x, group)),
    y: Float64Array.from(groups, (group) => mean(spots.y, group)),
    response: Float64Array.from(groups, (group) => mean(spots.response, group)),
    countingVariance: Float64Array.from(
      groups,
      (group) => mean(spots.countingVariance, group) / group.length + (group.length > 1 ? MISFIT_SD ** 2 : 0),
    ),
    misfitSd: count < spots.count ? MISFIT_SD : 0,
    zone: Int32Array.from(groups, (group) => spots.zone[group[0]!]!),
    pass: Int32Array.from(groups, (group) => spots.pass[group[0]!]!),
    alongM: Float64Array.from(groups, (group) => spots.alongM[group[0]!]!),
    start,
    spot: Int32Array.from(groups.flat()),
  };
}

/** Mean over each point's spots of a value by spot. */
export function overPoints(points: Points, valueAt: (spot: number) => number): Float64Array {
  return Float64Array.from({ length: points.count }, (_, p) => {
    let sum = 0;
    for (let k = points.start[p]!; k < points.start[p + 1]!; k++) sum += valueAt(points.spot[k]!);
    return sum / (points.start[p + 1]! - points.start[p]!);
  });
}
