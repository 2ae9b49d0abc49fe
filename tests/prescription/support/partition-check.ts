/**
 * Whether polygons divide an outline: edges paired one by one, lines of sight across the field, and areas. Shares no
 * code with what draws the polygons.
 */
import { type Random, seededRandom } from "../../../src/numerics/random.ts";

export type Ring = readonly (readonly [number, number])[];
export type Polygon = readonly Ring[];

export interface PartitionFindings {
  /** Rings that are open, too short, wound wrongly, pass a vertex twice or cross an edge. */
  ringFaults: string[];
  /** Edges that two polygons have in the same direction, or one polygon twice. */
  doubledEdges: number;
  /** Farthest that an edge without a neighbour lies from the outline. */
  farthestFromOutline: number;
  /** Pairs of polygons with a border in common. */
  neighbours: [number, number][];
  /** Ground in no polygon or in two, by lines across the field: area units. */
  gapArea: number;
  overlapArea: number;
  /** Ground inside the outline by the same lines, and the shoelace area of the polygons. */
  outlineArea: number;
  polygonArea: number;
}

/** @param lines lines of sight across the whole height, at random places */
export function checkPartition(
  polygons: readonly Polygon[],
  outline: readonly Polygon[],
  lines: number,
  seed: number,
): PartitionFindings {
  const ringFaults = polygons.flatMap((polygon, p) =>
    polygon.flatMap((ring, r) => ringFault(ring, r === 0).map((fault) => `polygon ${p} ring ${r}: ${fault}`)),
  );
  const { doubledEdges, unpaired, neighbours } = pairEdges(polygons);
  const segments = outline.flat().flatMap((ring) => ring.slice(1).map((b, i) => [ring[i]!, b] as const));
  let farthestFromOutline = 0;
  for (const [a, b] of unpaired) {
    for (const share of [0, 0.5, 1]) {
      const x = a[0] + share * (b[0] - a[0]);
      const y = a[1] + share * (b[1] - a[1]);
      let nearest = Infinity;
      for (const [c, d] of segments) nearest = Math.min(nearest, distanceTo(x, y, c, d));
      farthestFromOutline = Math.max(farthestFromOutline, nearest);
    }
  }
  return {
    ringFaults,
    doubledEdges,
    farthestFromOutline,
    neighbours,
    ...acrossLines(polygons, outline, lines, seededRandom(seed)),
    polygonArea: polygons.flat().reduce((sum, ring) => sum + shoelace(ring), 0),
  };
}

export function shoelace(ring: Ring): number {
  const [x0, y0] = ring[0]!;
  let twice = 0;
  for (let i = 1; i < ring.length; i++) {
    const [ax, ay] = ring[i - 1]!;
    const [bx, by] = ring[i]!;
    twice += (ax - x0) * (by - y0) - (bx - x0) * (ay - y0);
  }
  return twice / 2;
}

function ringFault(ring: Ring, outer: boolean): string[] {
  const faults: string[] = [];
  const keys = ring.map(([x, y]) => `${x} ${y}`);
  if (ring.length < 4) faults.push("fewer than four positions");
  if (keys[0] !== keys.at(-1)) faults.push("open");
  if (new Set(keys.slice(1)).size !== keys.length - 1) faults.push("passes a place twice");
  if (shoelace(ring) > 0 !== outer) faults.push("wound the wrong way");
  for (let i = 1; i < ring.length; i++) {
    const [a, b] = [ring[i - 1]!, ring[i]!];
    for (let j = i + 2; j < ring.length; j++) {
      const [c, d] = [ring[j - 1]!, ring[j]!];
      if (Math.max(a[0], b[0]) < Math.min(c[0], d[0]) || Math.max(c[0], d[0]) < Math.min(a[0], b[0]))
        continue;
      if (side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0)
        faults.push("crosses itself");
    }
  }
  return faults;
}

type Position = readonly [number, number];

function side(a: Position, b: Position, c: Position): number {
  return Math.sign((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));
}

function pairEdges(polygons: readonly Polygon[]) {
  const owners = new Map<string, { owner: number; a: Position; b: Position }>();
  let doubledEdges = 0;
  polygons.forEach((polygon, owner) => {
    for (const ring of polygon) {
      for (let i = 1; i < ring.length; i++) {
        const [a, b] = [ring[i - 1]!, ring[i]!];
        const key = `${a[0]} ${a[1]} ${b[0]} ${b[1]}`;
        if (owners.has(key)) doubledEdges++;
        owners.set(key, { owner, a, b });
      }
    }
  });
  const unpaired: [Position, Position][] = [];
  const pairs = new Map<string, [number, number]>();
  for (const { owner, a, b } of owners.values()) {
    const other = owners.get(`${b[0]} ${b[1]} ${a[0]} ${a[1]}`)?.owner;
    if (other === undefined) unpaired.push([a, b]);
    else if (owner < other) pairs.set(`${owner} ${other}`, [owner, other]);
  }
  return { doubledEdges, unpaired, neighbours: [...pairs.values()] };
}

/** Where a level line lies inside polygons and inside the outline, at random heights, one in each layer. */
function acrossLines(
  polygons: readonly Polygon[],
  outline: readonly Polygon[],
  lines: number,
  random: Random,
) {
  let [low, high] = [Infinity, -Infinity];
  for (const [, y] of outline.flat(2)) {
    low = Math.min(low, y);
    high = Math.max(high, y);
  }
  const layer = (high - low) / lines;
  const sums = { gapArea: 0, overlapArea: 0, outlineArea: 0 };
  for (let line = 0; line < lines; line++) {
    const y = low + (line + random()) * layer;
    const changes = new Map<number, { zones: number; field: number }>();
    const add = (of: readonly Polygon[], key: "zones" | "field"): void => {
      for (const polygon of of) {
        for (const stretch of insideNonzero(polygon, y)) {
          for (const [end, x] of stretch.entries()) {
            const change = changes.get(x) ?? { zones: 0, field: 0 };
            change[key] += end === 0 ? 1 : -1;
            changes.set(x, change);
          }
        }
      }
    };
    add(polygons, "zones");
    add(outline, "field");
    const places = [...changes.keys()].sort((a, b) => a - b);
    let [inZones, inField] = [0, 0];
    for (const [i, x] of places.entries()) {
      inZones += changes.get(x)!.zones;
      inField += changes.get(x)!.field;
      const area = ((places[i + 1] ?? x) - x) * layer;
      if (inField > 0) sums.outlineArea += area;
      if (inField > 0 && inZones === 0) sums.gapArea += area;
      if (inZones > 1 || (inZones > 0 && inField === 0)) sums.overlapArea += area;
    }
  }
  return sums;
}

/** Stretches of a level line inside a polygon: inside its outer ring, however wound, and in no hole. */
function insideNonzero(polygon: Polygon, y: number): [number, number][] {
  const crossings: { x: number; outer: number; hole: number }[] = [];
  polygon.forEach((ring, r) => {
    for (let i = 1; i < ring.length; i++) {
      const [[ax, ay], [bx, by]] = [ring[i - 1]!, ring[i]!];
      if (ay > y === by > y) continue;
      const way = by > ay ? 1 : -1;
      const x = ax + ((y - ay) / (by - ay)) * (bx - ax);
      crossings.push({ x, outer: r === 0 ? way : 0, hole: r === 0 ? 0 : way });
    }
  });
  crossings.sort((a, b) => a.x - b.x);
  const inside: [number, number][] = [];
  let [outer, hole] = [0, 0];
  for (const [i, crossing] of crossings.entries()) {
    outer += crossing.outer;
    hole += crossing.hole;
    const next = crossings[i + 1];
    if (next && outer !== 0 && hole === 0 && next.x > crossing.x) inside.push([crossing.x, next.x]);
  }
  return inside;
}

function distanceTo(x: number, y: number, a: Position, b: Position): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const square = dx * dx + dy * dy;
  const t = square === 0 ? 0 : Math.max(0, Math.min(1, ((x - a[0]) * dx + (y - a[1]) * dy) / square));
  return Math.hypot(x - a[0] - t * dx, y - a[1] - t * dy);
}

/** Radius of the largest circle inside a polygon, to within `precision` (search by quarters of squares). */
export function inscribedRadius(polygon: Polygon, precision: number): number {
  const outer = polygon[0]!;
  const xs = outer.map(([x]) => x);
  const ys = outer.map(([, y]) => y);
  const [minX, minY, maxX, maxY] = [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
  const size = Math.min(maxX - minX, maxY - minY);
  if (!(size > 0)) return 0;
  const depth = (x: number, y: number): number => {
    let inside = false;
    let nearest = Infinity;
    for (const ring of polygon) {
      for (let i = 1; i < ring.length; i++) {
        const [a, b] = [ring[i - 1]!, ring[i]!];
        if (a[1] > y !== b[1] > y && x < a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0]))
          inside = !inside;
        nearest = Math.min(nearest, distanceTo(x, y, a, b));
      }
    }
    return inside ? nearest : -nearest;
  };
  let squares: { x: number; y: number; half: number }[] = [];
  for (let x = minX; x < maxX; x += size)
    for (let y = minY; y < maxY; y += size)
      squares.push({ x: x + size / 2, y: y + size / 2, half: size / 2 });
  let best = 0;
  while (squares.length > 0) {
    const measured = squares.map((square) => ({ ...square, depth: depth(square.x, square.y) }));
    for (const square of measured) best = Math.max(best, square.depth);
    squares = measured
      .filter((square) => square.depth + square.half * Math.SQRT2 > best + precision)
      .flatMap(({ x, y, half }) =>
        [-0.5, 0.5].flatMap((dx) =>
          [-0.5, 0.5].map((dy) => ({ x: x + dx * half, y: y + dy * half, half: half / 2 })),
        ),
      );
  }
  return best;
}
