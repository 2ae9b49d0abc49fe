/** Counts that lie close together: spots chosen where it looked bad must not speak for the field by their number. */
import { median } from "../numerics/descriptive.ts";
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
  let totalM2 = 0;
  for (let i = 0; i < ground.areaM2.length; i++) totalM2 += ground.areaM2[i]!;
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

/** Counts that repeat each other at one spot: groups with their counts ascending, in the order of their first counts. */
export function repeatedCounts(x: ArrayLike<number>, y: ArrayLike<number>): number[][] {
  return linked(x, y, ONE_SPOT_M);
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
      for (const other of bins.near(x[from]!, y[from]!)) {
        if (seen[other] || Math.hypot(x[other]! - x[from]!, y[other]! - y[from]!) > near) continue;
        seen[other] = 1;
        members.push(other);
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
  const nearest = members.map((a) =>
    members.reduce(
      (least, b) => (a === b ? least : Math.min(least, Math.hypot(x[a]! - x[b]!, y[a]! - y[b]!))),
      Number.POSITIVE_INFINITY,
    ),
  );
  const reach = Math.max(LEAST_REACH * near, REACH * median(nearest));
  const own = members.map((m) => [x[m]!, y[m]!] as const);
  const bins = binned(
    own.map(([px]) => px),
    own.map(([, py]) => py),
    reach,
  );
  const west = Math.min(...own.map(([px]) => px)) - reach;
  const east = Math.max(...own.map(([px]) => px)) + reach;
  const south = Math.min(...own.map(([, py]) => py)) - reach;
  const north = Math.max(...own.map(([, py]) => py)) + reach;
  let sum = 0;
  for (let i = 0; i < ground.areaM2.length; i++) {
    const gx = ground.x[i]!;
    const gy = ground.y[i]!;
    if (!(gx >= west && gx <= east && gy >= south && gy <= north)) continue;
    if (bins.near(gx, gy).some((k) => Math.hypot(own[k]![0] - gx, own[k]![1] - gy) <= reach))
      sum += ground.areaM2[i]!;
  }
  return sum;
}

/** Points in square bins: those within one bin's width of a place are among `near`. */
function binned(x: ArrayLike<number>, y: ArrayLike<number>, size: number) {
  const bins = new Map<string, number[]>();
  for (let i = 0; i < x.length; i++) {
    const key = `${Math.floor(x[i]! / size)} ${Math.floor(y[i]! / size)}`;
    const bin = bins.get(key);
    if (bin) bin.push(i);
    else bins.set(key, [i]);
  }
  return {
    near(px: number, py: number): number[] {
      const column = Math.floor(px / size);
      const row = Math.floor(py / size);
      const found: number[] = [];
      for (let c = column - 1; c <= column + 1; c++)
        for (let r = row - 1; r <= row + 1; r++) found.push(...(bins.get(`${c} ${r}`) ?? []));
      return found;
    },
  };
}
