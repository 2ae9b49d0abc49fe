/** The pieces of ground between lines: a planar subdivision with the number of times each group winds round a piece. */
import { noded, type Segment } from "./partition-noding.ts";

/**
 * Half-edge `h` runs from vertex `origin[h]` to `origin[h ^ 1]`; its face lies to the left, `next[h]` is the
 * half-edge that follows along the border of that face. Face 0 is everything outside.
 */
export interface Faces {
  x: Float64Array;
  y: Float64Array;
  origin: Int32Array;
  next: Int32Array;
  face: Int32Array;
  faceCount: number;
  /** Twice the area of each face, square lattice units; NaN for face 0. */
  doubledArea: Float64Array;
  /** How often group g winds round face f: `winding[f * groupCount + g]`. */
  winding: Int32Array;
  groupCount: number;
}

/**
 * Faces between segments that close up: at every place the groups to the left and right of all lines round it
 * agree (rings, or borders of a labelling).
 * @returns null where rounding did not come to rest
 */
export function facesBetween(segments: readonly Segment[], groupCount: number): Faces | null {
  const pieces = noded(segments);
  if (pieces === null) return null;
  const { x, y, origin, deltas } = edgesOf(pieces);
  const next = nextAround(x, y, origin);
  const { walk, walkArea } = walksOf(x, y, origin, next);
  const { faceOfWalk, faceCount } = facesOfWalks(x, y, origin, walk, walkArea);
  const face = walk.map((which) => faceOfWalk[which]!);
  const doubledArea = new Float64Array(faceCount);
  walkArea.forEach((area, which) => {
    doubledArea[faceOfWalk[which]!]! += area;
  });
  doubledArea[0] = Number.NaN;
  const winding = windings(face, faceCount, deltas, groupCount);
  return { x, y, origin, next, face, faceCount, doubledArea, winding, groupCount };
}

/** Net change of a group's winding from the right to the left of an edge. */
type Deltas = Map<number, number>;

/** Each line once, with what changes across it; lines across which nothing changes fall away. */
function edgesOf(pieces: readonly Segment[]) {
  const vertices = new Map<number, number>();
  const xs: number[] = [];
  const ys: number[] = [];
  const vertexAt = (x: number, y: number): number => {
    const key = x * 2 ** 26 + y;
    let vertex = vertices.get(key);
    if (vertex === undefined) {
      vertex = xs.length;
      vertices.set(key, vertex);
      xs.push(x);
      ys.push(y);
    }
    return vertex;
  };
  const edges = new Map<number, { from: number; to: number; deltas: Deltas }>();
  for (const { ax, ay, bx, by, left, right } of pieces) {
    const a = vertexAt(ax, ay);
    const b = vertexAt(bx, by);
    const [from, to] = a < b ? [a, b] : [b, a];
    const key = from * 2 ** 26 + to;
    let edge = edges.get(key);
    if (edge === undefined) {
      edge = { from, to, deltas: new Map() };
      edges.set(key, edge);
    }
    const sign = a < b ? 1 : -1;
    if (left >= 0) edge.deltas.set(left, (edge.deltas.get(left) ?? 0) + sign);
    if (right >= 0) edge.deltas.set(right, (edge.deltas.get(right) ?? 0) - sign);
  }
  const kept = [...edges.values()].filter(({ deltas }) => [...deltas.values()].some((delta) => delta !== 0));
  return {
    x: Float64Array.from(xs),
    y: Float64Array.from(ys),
    origin: Int32Array.from(kept.flatMap(({ from, to }) => [from, to])),
    deltas: kept.map((edge) => edge.deltas),
  };
}

/** The half-edge after each: at its end, the first one clockwise from the way back. */
function nextAround(x: Float64Array, y: Float64Array, origin: Int32Array): Int32Array {
  const leaving: number[][] = Array.from({ length: x.length }, () => []);
  origin.forEach((vertex, halfEdge) => {
    leaving[vertex]!.push(halfEdge);
  });
  const next = new Int32Array(origin.length);
  for (const fan of leaving) {
    const direction = (h: number): [number, number] => [
      x[origin[h ^ 1]!]! - x[origin[h]!]!,
      y[origin[h ^ 1]!]! - y[origin[h]!]!,
    ];
    const upper = ([dx, dy]: [number, number]): number => (dy > 0 || (dy === 0 && dx > 0) ? 0 : 1);
    fan.sort((g, h) => {
      const a = direction(g);
      const b = direction(h);
      return upper(a) - upper(b) || b[0] * a[1] - a[0] * b[1];
    });
    // Counter-clockwise order: the one before in the list is the next clockwise.
    for (const [place, h] of fan.entries()) next[h ^ 1] = fan[(place + fan.length - 1) % fan.length]!;
  }
  return next;
}

/** Number of the closed walk each half-edge belongs to, and twice the signed area of each walk. */
function walksOf(x: Float64Array, y: Float64Array, origin: Int32Array, next: Int32Array) {
  const walk = new Int32Array(origin.length).fill(-1);
  const walkArea: number[] = [];
  for (let start = 0; start < origin.length; start++) {
    if (walk[start] !== -1) continue;
    const [originX, originY] = [x[origin[start]!]!, y[origin[start]!]!];
    let area = 0;
    for (let h = start; walk[h] === -1; h = next[h]!) {
      walk[h] = walkArea.length;
      const [a, b] = [origin[h]!, origin[h ^ 1]!];
      area += (x[a]! - originX) * (y[b]! - originY) - (x[b]! - originX) * (y[a]! - originY);
    }
    walkArea.push(area);
  }
  return { walk, walkArea };
}

/**
 * Every walk of positive area bounds a face of its own; every other is the outside of a connected piece of
 * the drawing and belongs to the face that piece lies in.
 */
function facesOfWalks(
  x: Float64Array,
  y: Float64Array,
  origin: Int32Array,
  walk: Int32Array,
  walkArea: readonly number[],
) {
  const faceOfWalk = new Int32Array(walkArea.length).fill(-1);
  let faceCount = 1;
  const outsides: number[] = [];
  walkArea.forEach((area, which) => {
    if (area > 0) faceOfWalk[which] = faceCount++;
    else outsides.push(which);
  });
  // Leftmost vertex of each outside: nothing of its own piece lies further left.
  const leftmost = new Map<number, number>();
  walk.forEach((which, h) => {
    if (walkArea[which]! > 0) return;
    const vertex = origin[h]!;
    const known = leftmost.get(which);
    if (known === undefined || x[vertex]! < x[known]! || (x[vertex] === x[known] && y[vertex]! < y[known]!))
      leftmost.set(which, vertex);
  });
  outsides.sort((a, b) => x[leftmost.get(a)!]! - x[leftmost.get(b)!]!);
  for (const which of outsides) {
    const halfEdge = edgeLeftOf(x, y, origin, leftmost.get(which)!);
    faceOfWalk[which] = halfEdge === -1 ? 0 : faceOfWalk[walk[halfEdge]!]!;
  }
  return { faceOfWalk, faceCount };
}

/** The downward half-edge nearest to the left of a vertex, a hair above it; -1 where there is none. */
function edgeLeftOf(x: Float64Array, y: Float64Array, origin: Int32Array, vertex: number): number {
  const [startX, startY] = [x[vertex]!, y[vertex]!];
  let nearest = -1;
  let nearestX = Number.NEGATIVE_INFINITY;
  let nearestSlope = 0;
  for (let h = 0; h < origin.length; h++) {
    const [top, bottom] = [origin[h]!, origin[h ^ 1]!];
    if (y[top]! <= startY || y[bottom]! > startY) continue;
    const slope = (x[top]! - x[bottom]!) / (y[top]! - y[bottom]!);
    const crossX = x[bottom]! + (startY - y[bottom]!) * slope;
    if (crossX >= startX) continue;
    if (crossX > nearestX || (crossX === nearestX && slope > nearestSlope)) {
      nearest = h;
      nearestX = crossX;
      nearestSlope = slope;
    }
  }
  return nearest;
}

function windings(face: Int32Array, faceCount: number, deltas: readonly Deltas[], groupCount: number) {
  const winding = new Int32Array(faceCount * groupCount);
  const bordering: number[][] = Array.from({ length: faceCount }, () => []);
  face.forEach((which, h) => {
    bordering[which]!.push(h);
  });
  const known = new Uint8Array(faceCount);
  known[0] = 1;
  const queue = [0];
  for (let at = 0; at < queue.length; at++) {
    const here = queue[at]!;
    for (const h of bordering[here]!) {
      const there = face[h ^ 1]!;
      if (known[there]) continue;
      known[there] = 1;
      queue.push(there);
      const from = winding.subarray(here * groupCount, (here + 1) * groupCount);
      winding.set(from, there * groupCount);
      // The first of two half-edges has the change as it stands: from its right (there, for the second) to its left.
      const sign = h % 2 === 0 ? -1 : 1;
      for (const [group, delta] of deltas[h >> 1]!) winding[there * groupCount + group]! += sign * delta;
    }
  }
  return winding;
}
