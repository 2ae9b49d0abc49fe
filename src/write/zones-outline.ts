/** The outline of ground cut into zones with identical shared borders: the borders that only one zone has. */
import { PrescriptionError } from "../errors.ts";
import { signedArea } from "../numerics/coverage-grid.ts";
import { levelCrossings } from "../numerics/label-point.ts";

type Position = readonly number[];
type Ring = readonly Position[];

/**
 * Rings around all zones together, as polygons: outer ring first (counter-clockwise), its holes after (clockwise).
 * @param zones rings of each zone, outer ring counter-clockwise, holes clockwise, closed; where two zones touch, both
 *   have the same vertices.
 * @throws {PrescriptionError} when the borders do not close.
 */
export function zonesOutline(zones: readonly (readonly Ring[])[]): Position[][][] {
  const edges = new Map<string, { from: Position; to: Position }>();
  for (const [from, to] of zones.flatMap((rings) => rings.flatMap(edgesOf))) {
    const back = `${to} ${from}`;
    // The zone on the other side runs along a shared border the other way.
    if (!edges.delete(back)) edges.set(`${from} ${to}`, { from, to });
  }
  const rings = ringsOf([...edges.values()]);
  const outers = rings.filter((ring) => signedArea(ring as [number, number][]) > 0);
  const holes = rings.filter((ring) => signedArea(ring as [number, number][]) < 0);
  const polygons = outers.map((outer) => [outer]);
  for (const hole of holes) {
    const around = polygons.filter(([outer]) => holds(outer!, middleOfEdge(hole)));
    const smallest = around.sort((a, b) => areaOf(a[0]!) - areaOf(b[0]!))[0];
    if (!smallest) throw unclosed();
    smallest.push(hole);
  }
  return polygons;
}

function edgesOf(ring: Ring): [Position, Position][] {
  return ring
    .slice(1)
    .map((to, index): [Position, Position] => [ring[index]!, to])
    .filter(([from, to]) => from[0] !== to[0] || from[1] !== to[1]);
}

/** Edges joined end to start. At a place that several rings pass, the sharpest turn to the left keeps them apart. */
function ringsOf(edges: readonly { from: Position; to: Position }[]): Position[][] {
  const leaving = new Map<string, { from: Position; to: Position }[]>();
  for (const edge of edges) {
    const at = String(edge.from);
    const there = leaving.get(at);
    if (there) there.push(edge);
    else leaving.set(at, [edge]);
  }
  const rings: Position[][] = [];
  for (const edge of edges) {
    const there = leaving.get(String(edge.from));
    if (!there?.includes(edge)) continue;
    const ring: Position[] = [edge.from];
    let current = edge;
    take(leaving, edge);
    while (String(current.to) !== String(edge.from)) {
      ring.push(current.to);
      const next = (leaving.get(String(current.to)) ?? []).toSorted(
        (a, b) => turn(current, b) - turn(current, a),
      )[0];
      if (!next) throw unclosed();
      take(leaving, next);
      current = next;
    }
    ring.push(edge.from);
    rings.push(ring);
  }
  return rings;
}

function take(leaving: Map<string, { from: Position; to: Position }[]>, edge: { from: Position }): void {
  const at = String(edge.from);
  leaving.set(
    at,
    leaving.get(at)!.filter((other) => other !== edge),
  );
}

/** Angle turned to the left, from -pi to pi. */
function turn(a: { from: Position; to: Position }, b: { from: Position; to: Position }): number {
  const [ax, ay] = [a.to[0]! - a.from[0]!, a.to[1]! - a.from[1]!];
  const [bx, by] = [b.to[0]! - b.from[0]!, b.to[1]! - b.from[1]!];
  return Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
}

function middleOfEdge(ring: Ring): [number, number] {
  return [(ring[0]![0]! + ring[1]![0]!) / 2, (ring[0]![1]! + ring[1]![1]!) / 2];
}

function holds(ring: Ring, [x, y]: [number, number]): boolean {
  return levelCrossings([ring], y).filter((cut) => cut > x).length % 2 === 1;
}

function areaOf(ring: Ring): number {
  return Math.abs(signedArea(ring as [number, number][]));
}

function unclosed(): PrescriptionError {
  return new PrescriptionError("the rate zones do not share their borders: their outline does not close", {
    accepted: "zones that meet at identical vertices",
  });
}
