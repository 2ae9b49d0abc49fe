/** Counts that lie close together: spots chosen where it looked bad must not speak for the field by their number. */
import { median } from "../numerics/descriptive.ts";
import { PointBins } from "../numerics/point-bins.ts";
import { incompleteBeta } from "../numerics/special-functions.ts";

/** Ground the counts stand for: middles of its pieces, local m, and their areas, m2. */
export interface CountedGround {
  x: ArrayLike<number>;
  y: ArrayLike<number>;
  areaM2: ArrayLike<number>;
}

/** Crowded spots, as places in a list of spots, and the share of the field's ground that they speak for, 0..1. */
export interface CloseCounts {
  members: number[];
  groundShare: number;
}

/** Counts nearer than this share of the distance they would have, spread evenly, belong together (our judgement). */
const NEAR_SHARE = 0.5;
/** Fewer counts than this are neighbours by chance. */
const FEWEST = 4;
/** So many times the counts that the ground would have by its size (our judgement). */
const CROWDING = 2.5;
/** And they are this part of all counts: fewer hardly pull the mean (our judgement). */
const PART_OF_ALL = 0.2;
/**
 * Chance of as many counts on that ground, spread at random; far below what one ground alone would need, because the
 * ground is chosen by looking (our judgement: measured, fewer than 1 in 100 fields of random counts are called crowded).
 */
const BY_CHANCE = 1e-3;
/** A count speaks for the ground around it as far as this many times the distance to its neighbour (our judgement). */
const REACH = 1.5;
/** And at least as far as this share of the distance that makes neighbours. */
const LEAST_REACH = 0.5;
/** Counts within this distance are repeats at one spot: rows side by side, m (our judgement). */
const ONE_SPOT_M = 8;
/** No spot is longer than this, m (our judgement: more rows than anyone counts side by side). */
const LONGEST_SPOT_M = 32;

/**
 * Finds the groups of counts that crowd some ground: linked by distance, with far more counts than the ground would have
 * by its size, more than chance makes.
 * @param x,y positions of the counts, local m
 * @returns groups with their counts ascending, in the order of their first counts
 */
export function closeCounts(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  ground: CountedGround,
): CloseCounts[] {
  const count = x.length;
  const totalM2 = totalOf(ground.areaM2);
  if (count < FEWEST || !(totalM2 > 0)) return [];
  const near = NEAR_SHARE * Math.sqrt(totalM2 / count);
  return linked(x, y, near)
    .filter((members) => members.length >= Math.max(FEWEST, PART_OF_ALL * count))
    .map((members) => ({
      members,
      groundShare: Math.min(1, groundAround(members, x, y, ground, near) / totalM2),
    }))
    .filter(
      ({ members, groundShare }) =>
        members.length >= CROWDING * count * groundShare &&
        // Upper tail of the binomial law.
        incompleteBeta(groundShare, members.length, count - members.length + 1) <= BY_CHANCE,
    );
}

/**
 * Counts that repeat each other at one spot: groups with their counts ascending, in the order of their first counts. A chain
 * of counts is no spot: where it is longer than one can be (pictures from the air, a row walked), squares of it are.
 */
export function repeatedCounts(x: ArrayLike<number>, y: ArrayLike<number>): number[][] {
  return linked(x, y, ONE_SPOT_M)
    .flatMap((members) => (isChain(members, x, y) ? inSquares(members, x, y, ONE_SPOT_M) : [members]))
    .sort((a, b) => a[0]! - b[0]!);
}

function isChain(members: readonly number[], x: ArrayLike<number>, y: ArrayLike<number>): boolean {
  const first = members[0]!;
  return members.some((m) => Math.hypot(x[m]! - x[first]!, y[m]! - y[first]!) > LONGEST_SPOT_M);
}

/** Members by the square they lie in, ascending within each. */
function inSquares(
  members: readonly number[],
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  sideM: number,
): number[][] {
  const squares = new Map<string, number[]>();
  for (const member of members) {
    const square = `${Math.floor(x[member]! / sideM)} ${Math.floor(y[member]! / sideM)}`;
    const own = squares.get(square);
    if (own) own.push(member);
    else squares.set(square, [member]);
  }
  return [...squares.values()];
}

function totalOf(values: ArrayLike<number>): number {
  let total = 0;
  for (let i = 0; i < values.length; i++) total += values[i]!;
  return total;
}

/** Groups of points linked by steps no longer than `near` (single linkage). */
function linked(x: ArrayLike<number>, y: ArrayLike<number>, near: number): number[][] {
  const bins = binned(x, y, near);
  const seen = new Uint8Array(x.length);
  const groups: number[][] = [];
  for (let first = 0; first < x.length; first++) {
    if (seen[first]) continue;
    seen[first] = 1;
    const members = [first];
    for (let k = 0; k < members.length; k++) {
      const from = members[k]!;
      for (const bin of bins.about(x[from]!, y[from]!)) {
        // Points that have their group leave the bin, so that many at one spot are not looked at over and over.
        let left = 0;
        for (const other of bin) {
          if (seen[other]) continue;
          if (Math.hypot(x[other]! - x[from]!, y[other]! - y[from]!) > near) bin[left++] = other;
          else {
            seen[other] = 1;
            members.push(other);
          }
        }
        bin.length = left;
      }
    }
    groups.push(members.sort((a, b) => a - b));
  }
  return groups;
}

/** Ground within reach of the members, m2. */
function groundAround(
  members: readonly number[],
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  ground: CountedGround,
  near: number,
): number {
  const ownX = Float64Array.from(members, (m) => x[m]!);
  const ownY = Float64Array.from(members, (m) => y[m]!);
  const own = new PointBins(ownX, ownY, near);
  // Members are linked by steps of at most `near`: the nearest of each is no further.
  const nearest = ownX.map((px, member) => own.nearest(px, ownY[member]!, near, member));
  const away = nearest.map((other, member) =>
    Math.hypot(ownX[member]! - ownX[other]!, ownY[member]! - ownY[other]!),
  );
  const reach = Math.max(LEAST_REACH * near, REACH * median(away));
  const bins = new PointBins(ownX, ownY, reach);
  const inBox = boxAround(ownX, ownY, reach);
  let sum = 0;
  for (let i = 0; i < ground.areaM2.length; i++) {
    const gx = ground.x[i]!;
    const gy = ground.y[i]!;
    if (inBox(gx, gy) && bins.nearest(gx, gy, reach) >= 0) sum += ground.areaM2[i]!;
  }
  return sum;
}

/** Whether a place lies in the box of some points, widened by a margin. */
function boxAround(x: Float64Array, y: Float64Array, marginM: number): (px: number, py: number) => boolean {
  let [west, east, south, north] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < x.length; i++) {
    west = Math.min(west, x[i]!);
    east = Math.max(east, x[i]!);
    south = Math.min(south, y[i]!);
    north = Math.max(north, y[i]!);
  }
  return (px, py) =>
    px >= west - marginM && px <= east + marginM && py >= south - marginM && py <= north + marginM;
}

/** Points in square bins: those within one bin's width of a place are in the bins about it. */
function binned(x: ArrayLike<number>, y: ArrayLike<number>, size: number) {
  const bins = new Map<string, number[]>();
  for (let i = 0; i < x.length; i++) {
    const key = `${Math.floor(x[i]! / size)} ${Math.floor(y[i]! / size)}`;
    const bin = bins.get(key);
    if (bin) bin.push(i);
    else bins.set(key, [i]);
  }
  return {
    about(px: number, py: number): number[][] {
      const column = Math.floor(px / size);
      const row = Math.floor(py / size);
      const found: number[][] = [];
      for (let c = column - 1; c <= column + 1; c++)
        for (let r = row - 1; r <= row + 1; r++) found.push(bins.get(`${c} ${r}`) ?? []);
      return found;
    },
  };
}
