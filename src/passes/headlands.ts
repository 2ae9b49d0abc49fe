/** Which passes are headland: round the field, along its edge, or a corner of such a round. */
import { turnBetween } from "../numerics/angles.ts";
import { median } from "../numerics/descriptive.ts";
import type { LocalPolygon } from "../vocabulary/field.ts";
import type { PassCuts } from "./pass-cuts.ts";
import type { Track } from "./track.ts";

/** Share of a pass that has to lie within one bar of the edge for the pass to run along it (our judgement). */
const ALONG_EDGE_SHARE = 0.6;
/** A turn up to this is a corner of a round, more is a turn back into the field, degrees (our judgement). */
const CORNER_DEG: readonly [number, number] = [30, 135];
/** Passes joined by corners make a round from this many on (our judgement). */
const ROUND_PASSES = 3;
/** Places looked at in one pass. */
const SAMPLED_PLACES = 40;

/**
 * A pass is headland when (a) at least 60 % of it lies within one bar of the field's edge, or (b) it is one of
 * three or more passes of at least three bars that follow each other round corners of 30 to 135 degrees, each
 * starting within two bars of where the last one ended, the first pass of the work up and down not counted, or (c) it is shorter than two bars and lies in such a
 * corner. Our judgement.
 * @returns one entry a pass, entry 0 for pass 1
 */
export function findHeadlands(
  track: Track,
  cuts: PassCuts,
  barWidthM: number,
  edge: readonly LocalPolygon[],
): boolean[] {
  const runs = runsOf(cuts);
  const edgeM = runs.map(([from, to]) => edgeDistances(track, from, to, edge));
  const headland = edgeM.map((distances) => {
    const near = distances.filter((distance) => distance <= barWidthM).length;
    return near >= ALONG_EDGE_SHARE * distances.length;
  });
  const lengths = runs.map(([from, to]) => lengthOf(cuts, from, to));
  const turnAfter = runs.map((_, run) => turnAt(track, runs, run, barWidthM));
  const cornerAfter = turnAfter.map((turn) => turn >= CORNER_DEG[0] && turn <= CORNER_DEG[1]);
  const turnsRound = (run: number): boolean => (turnAfter[run] ?? 0) > CORNER_DEG[1];
  let roundStart = 0;
  for (let run = 0; run <= runs.length; run++) {
    const goesOn = run > roundStart && run < runs.length && cornerAfter[run - 1]!;
    const isLong = run < runs.length && lengths[run]! >= 3 * barWidthM;
    if (run < runs.length && isLong && (run === roundStart || goesOn)) continue;
    markRound(headland, edgeM, roundStart, run, turnsRound, barWidthM);
    roundStart = isLong ? run : run + 1;
  }
  for (const [run, length] of lengths.entries()) {
    if (length < 2 * barWidthM && (cornerAfter[run]! || (cornerAfter[run - 1] ?? false)))
      headland[run] = true;
  }
  return headland;
}

/** First place of each pass and the place behind its last one. */
function runsOf(cuts: PassCuts): [number, number][] {
  const runs: [number, number][] = [];
  for (let place = 0; place < cuts.pass.length; place++) {
    const number = cuts.pass[place]!;
    const run = runs[number - 1];
    if (run) run[1] = place + 1;
    else runs.push([place, place + 1]);
  }
  return runs;
}

function lengthOf(cuts: PassCuts, from: number, to: number): number {
  let length = 0;
  for (let place = from; place < to; place++) length = Math.max(length, cuts.alongM[place]!);
  return length;
}

/** Turn from a pass to the next one, degrees 0..180; NaN for the last pass and where the next one lies far off. */
function turnAt(track: Track, runs: readonly [number, number][], run: number, barWidthM: number): number {
  if (run + 1 >= runs.length) return Number.NaN;
  const last = runs[run]![1] - 1;
  const [from, to] = runs[run + 1]!;
  const gap = Math.hypot(track.x[from]! - track.x[last]!, track.y[from]! - track.y[last]!);
  if (gap > 2 * barWidthM) return Number.NaN;
  // Read in the middle of the passes: their ends lie in the corner.
  const before = track.headingDeg[(runs[run]![0] + last) >> 1]!;
  const behind = track.headingDeg[(from + to - 1) >> 1]!;
  return Math.abs(turnBetween(before, behind));
}

/**
 * Marks the passes of a round. Where the work up and down the field begins right after it (or ends right before
 * it), its first (last) pass hangs on by a corner, too, and turns back at its other end: such a pass counts
 * only when it lies no deeper in the field than the rest of the round.
 */
function markRound(
  headland: boolean[],
  edgeM: readonly Float64Array[],
  from: number,
  to: number,
  turnsRound: (run: number) => boolean,
  barWidthM: number,
): void {
  const first = turnsRound(from - 1) ? from + 1 : from;
  const end = turnsRound(to - 1) ? to - 1 : to;
  if (end - first < ROUND_PASSES) return;
  headland.fill(true, first, end);
  const depth = Math.max(...edgeM.slice(first, end).map((distances) => median(distances)));
  for (const run of [from, to - 1]) {
    if (median(edgeM[run]!) <= depth + barWidthM / 4) headland[run] = true;
  }
}

/** Distances of some places of a pass from the field's edge, m. */
function edgeDistances(track: Track, from: number, to: number, edge: readonly LocalPolygon[]): Float64Array {
  const stride = Math.max(1, Math.floor((to - from) / SAMPLED_PLACES));
  const distances = new Float64Array(Math.ceil((to - from) / stride));
  for (let k = 0; k < distances.length; k++) {
    const place = from + k * stride;
    distances[k] = distanceToEdge(track.x[place]!, track.y[place]!, edge);
  }
  return distances;
}

/** Distance from a point to the nearest side of the outer rings, m; holes (a pond, a tree) are no field edge. */
function distanceToEdge(x: number, y: number, edge: readonly LocalPolygon[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (const [outer] of edge) {
    for (let corner = 1; outer && corner < outer.length; corner++) {
      const [ax, ay] = outer[corner - 1]!;
      const [bx, by] = outer[corner]!;
      const sideX = bx - ax;
      const sideY = by - ay;
      const squares = sideX * sideX + sideY * sideY;
      const share = squares > 0 ? ((x - ax) * sideX + (y - ay) * sideY) / squares : 0;
      const clamped = Math.min(1, Math.max(0, share));
      const offX = x - ax - clamped * sideX;
      const offY = y - ay - clamped * sideY;
      least = Math.min(least, offX * offX + offY * offY);
    }
  }
  return Math.sqrt(least);
}
