/** Geometry of a layer while it is read: positions and polygons as they stand in the file, not yet judged. */
import type { PolygonRings } from "./layer.ts";

export const NO_GEOMETRY = 0;
export const POINT = 1;
export const POLYGON = 2;
/** A geometry of a type no layer can be (collections, multipatches). */
export const OTHER = 3;
/** A broken geometry that was noted when it was read. */
export const UNUSABLE = 4;
/** Several points in one record. */
export const MULTIPOINT = 5;
export const LINE = 6;

export class GeometryStore {
  x: Float64Array;
  y: Float64Array;
  kinds: Uint8Array;
  /** Polygons of each polygon record, by record; holes in the list elsewhere. Null before the first polygon. */
  polygons: PolygonRings[][] | null = null;
  /** Parts of each line record and the one list of each multipoint record, by record. Null before the first. */
  paths: unknown[][] | null = null;
  /** Names of the unusable geometry types met. */
  readonly otherTypes = new Set<string>();
  /** Records that will come by an estimate, so that room is made once; 0 where there is none. */
  room = 0;

  constructor(capacity: number) {
    this.x = new Float64Array(Math.max(16, capacity)).fill(Number.NaN);
    this.y = new Float64Array(this.x.length).fill(Number.NaN);
    this.kinds = new Uint8Array(this.x.length);
  }

  setPoint(record: number, x: number, y: number): void {
    if (record >= this.x.length) this.#grow(record);
    this.x[record] = x;
    this.y[record] = y;
    this.kinds[record] = POINT;
  }

  setPolygons(record: number, polygons: PolygonRings[]): void {
    if (record >= this.x.length) this.#grow(record);
    this.polygons ??= [];
    this.polygons[record] = polygons;
    this.kinds[record] = POLYGON;
  }

  /** Several points in one record; a single one is a point. The positions may be anything a JSON file holds. */
  setMultiPoint(record: number, positions: readonly unknown[], typeName: string): void {
    const [only] = positions;
    if (positions.length === 1 && isPosition(only)) this.setPoint(record, only[0], only[1]);
    else this.#setPaths(record, [positions], MULTIPOINT, typeName);
  }

  /** The parts of a line. The positions may be anything a JSON file holds. */
  setLines(record: number, parts: readonly unknown[], typeName: string): void {
    this.#setPaths(record, parts, LINE, typeName);
  }

  #setPaths(record: number, paths: readonly unknown[], kind: number, typeName: string): void {
    if (record >= this.x.length) this.#grow(record);
    this.otherTypes.add(typeName);
    this.paths ??= [];
    this.paths[record] = [...paths];
    this.kinds[record] = kind;
  }

  setOther(record: number, type: string): void {
    if (record >= this.x.length) this.#grow(record);
    this.kinds[record] = OTHER;
    this.otherTypes.add(type);
  }

  setUnusable(record: number): void {
    if (record >= this.x.length) this.#grow(record);
    this.kinds[record] = UNUSABLE;
  }

  /** Makes the record one without geometry again. */
  clear(record: number): void {
    if (record >= this.x.length) return;
    this.x[record] = Number.NaN;
    this.y[record] = Number.NaN;
    this.kinds[record] = NO_GEOMETRY;
    if (this.polygons) this.polygons[record] = [];
    if (this.paths) this.paths[record] = [];
  }

  /** Cuts the store to the records that were read, or picks the given ones (ascending). */
  finish(recordCount: number, kept?: Int32Array): void {
    if (recordCount > this.x.length) this.#grow(recordCount - 1);
    if (kept === undefined) {
      if (recordCount === this.x.length) return;
      this.x = trimmed(this.x, recordCount);
      this.y = trimmed(this.y, recordCount);
      this.kinds = trimmed(this.kinds, recordCount);
      if (this.polygons) this.polygons.length = recordCount;
      if (this.paths) this.paths.length = recordCount;
      return;
    }
    this.x = Float64Array.from(kept, (record) => this.x[record]!);
    this.y = Float64Array.from(kept, (record) => this.y[record]!);
    this.kinds = Uint8Array.from(kept, (record) => this.kinds[record]!);
    const { polygons, paths } = this;
    if (polygons) this.polygons = Array.from(kept, (record) => polygons[record] ?? []);
    if (paths) this.paths = Array.from(kept, (record) => paths[record] ?? []);
  }

  #grow(record: number): void {
    const capacity = roomFor(record, this.x.length, this.room);
    this.x = grown(this.x, capacity);
    this.y = grown(this.y, capacity);
    const kinds = new Uint8Array(capacity);
    kinds.set(this.kinds);
    this.kinds = kinds;
  }
}

/** True for a list that begins with two numbers. */
export function isPosition(value: unknown): value is [number, number] {
  return Array.isArray(value) && typeof value[0] === "number" && typeof value[1] === "number";
}

/** Spare room that is not worth a copy. */
const LITTLE_SPARE = 1.1;

/** The first `count` entries: a view where little is spare, else a copy, so that the spare memory is freed. */
export function trimmed<T extends Float64Array | Int32Array | Uint8Array>(values: T, count: number): T {
  if (values.length === count) return values;
  return (values.length <= count * LITTLE_SPARE ? values.subarray(0, count) : values.slice(0, count)) as T;
}

/** How many records to make room for so that `record` fits: as many as are thought to come, else twice as many. */
export function roomFor(record: number, length: number, estimate: number): number {
  return Math.max(record + 1, estimate > length ? estimate : length * 2);
}

function grown(values: Float64Array, capacity: number): Float64Array {
  const larger = new Float64Array(capacity).fill(Number.NaN, values.length);
  larger.set(values);
  return larger;
}
