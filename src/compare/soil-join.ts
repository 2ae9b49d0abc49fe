/** Which soil zone each record lies in. */
import Flatbush from "flatbush";
import type { Field, LocalPolygon } from "../vocabulary/field.ts";
import { BorderGrid, NOTHING_INSIDE, UNKNOWN } from "./border-grid.ts";

/**
 * Joins the records to the soil zones, planar in the local frame. A point on a shared border belongs to one of
 * the two zones (half-open rule); where polygons overlap the first one of the file counts; holes are outside, and
 * so is what a polygon that crosses itself encloses twice (even-odd rule).
 * @param inSeveral set to 1 for records that lie in polygons of more than one zone; as long as the log
 * @returns index into `field.soilZones.names` of each record; -1 outside all zones, without a position, or
 * without a soil map
 */
export function joinSoilZones(
  field: Pick<Field, "soilZones"> & { log: Pick<Field["log"], "recordCount" | "x" | "y"> },
  inSeveral?: Uint8Array,
): Int32Array {
  const zoneOf = new Int32Array(field.log.recordCount).fill(-1);
  const polygons = (field.soilZones?.polygons ?? [])
    .filter(({ rings }) => rings.length > 0)
    .map(({ zone, rings }) => ({ zone, slabs: new EdgeSlabs(rings) }));
  if (polygons.length === 0) return zoneOf;
  const index = new Flatbush(polygons.length);
  for (const { slabs } of polygons) index.add(slabs.minX, slabs.minY, slabs.maxX, slabs.maxY);
  index.finish();
  const { x, y } = field.log;
  const grid = new BorderGrid(x, y);
  for (const { rings } of field.soilZones!.polygons) grid.markBorders(rings);
  for (let record = 0; record < zoneOf.length; record++) {
    const east = x[record]!;
    const north = y[record]!;
    if (Number.isNaN(east) || Number.isNaN(north)) continue;
    const square = grid.squareOf(east, north);
    const known = grid.answers[square]!;
    if (known >= NOTHING_INSIDE) {
      zoneOf[record] = (known >> 1) - 2;
      if (inSeveral) inSeveral[record] = known & 1;
      continue;
    }
    let first = polygons.length;
    let several = 0;
    for (const candidate of index.search(east, north, east, north)) {
      if (candidate > first && !inSeveral) continue;
      if (!polygons[candidate]!.slabs.contains(east, north)) continue;
      if (first < polygons.length && polygons[candidate]!.zone !== polygons[first]!.zone) several = 1;
      if (candidate < first) first = candidate;
    }
    const zone = first < polygons.length ? polygons[first]!.zone : -1;
    zoneOf[record] = zone;
    if (inSeveral) inSeveral[record] = several;
    if (known === UNKNOWN) grid.answers[square] = 2 * (zone + 2) + several;
  }
  return zoneOf;
}

/** Edges of a polygon sorted into horizontal slabs, so that a point is tested against a few of them only. */
class EdgeSlabs {
  minX = Number.POSITIVE_INFINITY;
  minY = Number.POSITIVE_INFINITY;
  maxX = Number.NEGATIVE_INFINITY;
  maxY = Number.NEGATIVE_INFINITY;
  /** Four numbers an edge: x, y of both ends. */
  private readonly edges: Float64Array;
  private readonly slabStart: Int32Array;
  private readonly slabEdges: Int32Array;
  private readonly slabsPerMetre: number;

  constructor(polygon: LocalPolygon) {
    const edges: number[] = [];
    for (const ring of polygon) {
      for (let corner = 0; corner < ring.length; corner++) {
        const [ax, ay] = ring[corner]!;
        const [bx, by] = ring[(corner + 1) % ring.length]!;
        this.minX = Math.min(this.minX, ax);
        this.maxX = Math.max(this.maxX, ax);
        this.minY = Math.min(this.minY, ay);
        this.maxY = Math.max(this.maxY, ay);
        if (ay !== by) edges.push(ax, ay, bx, by);
      }
    }
    this.edges = Float64Array.from(edges);
    const edgeCount = edges.length / 4;
    const slabCount = Math.max(1, Math.ceil(edgeCount / 4));
    const height = this.maxY - this.minY;
    this.slabsPerMetre = height > 0 ? slabCount / height : 0;
    const start = new Int32Array(slabCount + 1);
    const slabsOf = (edge: number): [number, number] => {
      const low = Math.min(this.edges[4 * edge + 1]!, this.edges[4 * edge + 3]!);
      const high = Math.max(this.edges[4 * edge + 1]!, this.edges[4 * edge + 3]!);
      return [this.slabAt(low, slabCount), this.slabAt(high, slabCount)];
    };
    for (let edge = 0; edge < edgeCount; edge++) {
      const [from, to] = slabsOf(edge);
      for (let slab = from; slab <= to; slab++) start[slab + 1]!++;
    }
    for (let slab = 0; slab < slabCount; slab++) start[slab + 1]! += start[slab]!;
    const next = start.slice();
    this.slabEdges = new Int32Array(start[slabCount]!);
    for (let edge = 0; edge < edgeCount; edge++) {
      const [from, to] = slabsOf(edge);
      for (let slab = from; slab <= to; slab++) this.slabEdges[next[slab]!++] = edge;
    }
    this.slabStart = start;
  }

  /** Even-odd rule: an odd number of edges crosses the ray to the east. */
  contains(x: number, y: number): boolean {
    const slab = this.slabAt(y, this.slabStart.length - 1);
    let inside = false;
    for (let place = this.slabStart[slab]!; place < this.slabStart[slab + 1]!; place++) {
      const edge = 4 * this.slabEdges[place]!;
      const ay = this.edges[edge + 1]!;
      const by = this.edges[edge + 3]!;
      if (ay > y === by > y) continue;
      const ax = this.edges[edge]!;
      const crossing = ax + ((y - ay) / (by - ay)) * (this.edges[edge + 2]! - ax);
      if (x < crossing) inside = !inside;
    }
    return inside;
  }

  private slabAt(y: number, slabCount: number): number {
    const slab = Math.floor((y - this.minY) * this.slabsPerMetre);
    return Math.min(slabCount - 1, Math.max(0, slab));
  }
}
