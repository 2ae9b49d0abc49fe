/** Plane geometry of rings: signed area, centroid, orientation, containment, loose parts to polygons. */
import Flatbush from "flatbush";
import type { PolygonRings } from "./layer.ts";

export type Ring = [number, number][];

/** Twice the signed area over a closed ring, from its first vertex so that large coordinates lose nothing. */
export function doubledSignedArea(ring: Ring): number {
  const [originX, originY] = ring[0] ?? [0, 0];
  let sum = 0;
  for (let i = 1; i + 1 < ring.length; i++) {
    const [ax, ay] = ring[i]!;
    const [bx, by] = ring[i + 1]!;
    sum += (ax - originX) * (by - originY) - (bx - originX) * (ay - originY);
  }
  return sum;
}

/** Area-weighted centroid of polygons with holes (outer rings counter-clockwise); null where there is no area. */
export function centroidOf(polygons: readonly PolygonRings[]): [number, number] | null {
  const [originX, originY] = polygons[0]?.[0]?.[0] ?? [0, 0];
  let area = 0;
  let momentX = 0;
  let momentY = 0;
  for (const rings of polygons) {
    for (const ring of rings) {
      for (let i = 0; i + 1 < ring.length; i++) {
        const ax = ring[i]![0] - originX;
        const ay = ring[i]![1] - originY;
        const bx = ring[i + 1]![0] - originX;
        const by = ring[i + 1]![1] - originY;
        const cross = ax * by - bx * ay;
        area += cross;
        momentX += (ax + bx) * cross;
        momentY += (ay + by) * cross;
      }
    }
  }
  if (!(Math.abs(area) > 0)) return null;
  return [originX + momentX / (3 * area), originY + momentY / (3 * area)];
}

/** 1 inside, -1 outside, 0 on the edge of a closed ring (crossing number). */
function sideOfRing(ring: Ring, x: number, y: number): -1 | 0 | 1 {
  let inside = false;
  for (let i = 0; i + 1 < ring.length; i++) {
    const [ax, ay] = ring[i]!;
    const [bx, by] = ring[i + 1]!;
    const cross = (bx - ax) * (y - ay) - (by - ay) * (x - ax);
    if (
      cross === 0 &&
      Math.min(ax, bx) <= x &&
      x <= Math.max(ax, bx) &&
      Math.min(ay, by) <= y &&
      y <= Math.max(ay, by)
    ) {
      return 0;
    }
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
  }
  return inside ? 1 : -1;
}

/**
 * Polygons out of the loose rings of a shapefile record: clockwise rings are outer ones, the others
 * holes of the smallest outer ring around them (ESRI Shapefile Technical Description, 1998). Some writers
 * wind everything the other way: of the holes that no outer ring holds the largest become outer rings and
 * hold the rest. Rings keep their direction.
 */
export function polygonsOfParts(parts: readonly Ring[]): { polygons: PolygonRings[]; orphanHoles: number } {
  const outers: Outer[] = [];
  const holes: { ring: Ring; area: number }[] = [];
  for (const ring of parts) {
    const area = doubledSignedArea(ring);
    if (area <= 0) outers.push(outerOf(ring, -area));
    else holes.push({ ring, area });
  }
  const known = outers.length > FEW_RINGS && holes.length > FEW_RINGS ? indexOf(outers) : null;
  const orphans = holes.filter(({ ring }) => {
    const owner = ownerOf(ring, known ? known(ring) : outers);
    owner?.rings.push(ring);
    return owner === null;
  });
  let orphanHoles = 0;
  const made: Outer[] = [];
  for (const { ring, area } of orphans.toSorted((a, b) => b.area - a.area)) {
    const owner = ownerOf(ring, made);
    if (owner) owner.rings.push(ring);
    else {
      made.push(outerOf(ring, area));
      orphanHoles++;
    }
  }
  return { polygons: [...outers, ...made].map((outer) => outer.rings), orphanHoles };
}

interface Outer {
  rings: PolygonRings;
  area: number;
  box: [minX: number, minY: number, maxX: number, maxY: number];
}

function outerOf(ring: Ring, area: number): Outer {
  const box: Outer["box"] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of ring) {
    if (x < box[0]) box[0] = x;
    if (y < box[1]) box[1] = y;
    if (x > box[2]) box[2] = x;
    if (y > box[3]) box[3] = y;
  }
  return { rings: [ring], area, box };
}

/** Up to this many rings a look at each costs less than an index. */
const FEW_RINGS = 64;

/** Function giving the outer rings whose box holds the first vertex of a ring. */
function indexOf(outers: readonly Outer[]): (ring: Ring) => Outer[] {
  const index = new Flatbush(outers.length);
  for (const { box } of outers) index.add(...box);
  index.finish();
  return (ring) => {
    const [x, y] = ring[0]!;
    return index
      .search(x, y, x, y)
      .sort((a, b) => a - b)
      .map((found) => outers[found]!);
  };
}

/** The smallest of the outer rings around a hole, null where there is none. */
function ownerOf(hole: Ring, outers: readonly Outer[]): Outer | null {
  const [x, y] = hole[0]!;
  let least: Outer | null = null;
  for (const outer of outers) {
    if (least && least.area <= outer.area) continue;
    const [minX, minY, maxX, maxY] = outer.box;
    if (x < minX || x > maxX || y < minY || y > maxY) continue;
    if (holdsRing(outer.rings[0]!, hole)) least = outer;
  }
  return least;
}

/** True where the first vertex of `ring` that is not on the edge of `outer` lies inside it. */
function holdsRing(outer: Ring, ring: Ring): boolean {
  for (const [x, y] of ring) {
    const side = sideOfRing(outer, x, y);
    if (side !== 0) return side > 0;
  }
  return false;
}

/**
 * True where every hole lies inside its outer ring, edges and touching allowed: no corner of it outside, no corner of the
 * outer ring within it.
 * @returns null where the rings have so many corners that they were not looked at
 */
export function holesLieWithin([outer, ...holes]: PolygonRings): boolean | null {
  const corners = holes.reduce((sum, hole) => sum + hole.length, 0);
  if (outer!.length * corners > MOST_PAIRS) return null;
  return holes.every(
    (hole) =>
      hole.every(([x, y]) => sideOfRing(outer!, x, y) >= 0) &&
      outer!.every(([x, y]) => sideOfRing(hole, x, y) <= 0),
  );
}

/** Pairs of edges looked at in one ring at most: about a second. */
const MOST_PAIRS = 3e7;

/**
 * True where two edges of the ring cross properly. Touching at a vertex or running along each other does
 * not count. Edges are swept along the ring's longer side, so that few of them overlap at a time.
 * @returns null where so many overlap that the search was given up
 */
export function crossesItself(ring: Ring): boolean | null {
  const edges = ring.length - 1;
  if (edges <= FEW_EDGES) return anyPairCrosses(ring);
  const axis = span(ring, 0) >= span(ring, 1) ? 0 : 1;
  const low = Float64Array.from({ length: edges }, (_, edge) =>
    Math.min(ring[edge]![axis], ring[edge + 1]![axis]),
  );
  const order = Array.from({ length: edges }, (_, edge) => edge).sort((a, b) => low[a]! - low[b]!);
  let pairs = 0;
  for (let i = 0; i < edges; i++) {
    if (pairs > MOST_PAIRS) return null;
    const a = order[i]!;
    const high = Math.max(ring[a]![axis], ring[a + 1]![axis]);
    for (let j = i + 1; j < edges; j++) {
      const b = order[j]!;
      if (low[b]! > high) break;
      pairs++;
      if (edgesCross(ring[a]!, ring[a + 1]!, ring[b]!, ring[b + 1]!)) return true;
    }
  }
  return false;
}

/** Below this many edges looking at every pair costs less than sorting. */
const FEW_EDGES = 16;

function anyPairCrosses(ring: Ring): boolean {
  for (let i = 0; i + 3 < ring.length; i++) {
    for (let j = i + 2; j + 1 < ring.length; j++) {
      if (edgesCross(ring[i]!, ring[i + 1]!, ring[j]!, ring[j + 1]!)) return true;
    }
  }
  return false;
}

function span(ring: Ring, axis: 0 | 1): number {
  let low = Infinity;
  let high = -Infinity;
  for (const position of ring) {
    if (position[axis] < low) low = position[axis];
    if (position[axis] > high) high = position[axis];
  }
  return high - low;
}

type Position = readonly [number, number];

/** Proper crossing only: each edge has its ends strictly on both sides of the other. */
function edgesCross(a: Position, b: Position, c: Position, d: Position): boolean {
  return turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;
}

function turn(a: Position, b: Position, c: Position): number {
  return Math.sign((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));
}
