/** Shapes of a .shp file: our own reader for the log, the library for small layers. Both fill one store. */
import { openShp } from "shapefile";
import { wholeOf } from "../containers/byte-window.ts";
import { GeometryStore } from "../geometry-store.ts";
import type { PolygonRings } from "../layer.ts";
import { NoteBook } from "../note-book.ts";
import { polygonsOfParts, type Ring } from "../rings.ts";
import { mostRecords, SHAPE_TYPE_NAMES, type ShpFile, walkShpRecords } from "./shp-records.ts";

/** Shape type of surfaces; those made of rings are read as polygons seen from above, their heights passed over. */
const MULTIPATCH = 31;

/** Numbers below this stand for "no data" (ESRI Shapefile Technical Description, 1998). */
const NO_DATA_BELOW = -1e38;

/** The library keeps a JavaScript object a shape and looks at every pair of rings: for small files only. */
const LARGEST_FOR_LIBRARY_BYTES = 2 << 20;

export interface Shapes {
  store: GeometryStore;
  count: number;
}

/**
 * Reads every shape; Z and M values are passed over.
 * @param reader "library" reads small whole files with the `shapefile` library; on damaged ones the library
 * skips ahead, and the shapes would no longer stand beside their rows.
 */
export async function readShapes(
  shp: ShpFile,
  shx: Uint8Array | null,
  notes: NoteBook,
  reader: "fast" | "library" | undefined,
): Promise<Shapes> {
  if (reader === "library" && shp.source.size <= LARGEST_FOR_LIBRARY_BYTES) {
    const ofWalk = new NoteBook();
    const { count, sound } = walkShpRecords(shp, shx, ofWalk, () => {});
    const store = sound && shp.shapeType !== MULTIPATCH ? await tryLibrary(shp, count) : null;
    if (store) {
      for (const { reason, effect, count: times } of ofWalk.notes())
        notes.add({ reason, effect, count: times });
      return { store, count };
    }
  }
  const taker = new ShapeTaker(shp, notes);
  const { count } = walkShpRecords(shp, shx, notes, (view, at, length) => taker.take(view, at, length));
  taker.store.finish(count);
  return { store: taker.store, count };
}

/** Null where the library fails, as it does on counts that cannot be: our own reader then names the record. */
async function tryLibrary(shp: ShpFile, count: number): Promise<GeometryStore | null> {
  try {
    return await readShapesWithLibrary(shp, count);
  } catch {
    return null;
  }
}

async function readShapesWithLibrary(shp: ShpFile, count: number): Promise<GeometryStore> {
  const store = new GeometryStore(count);
  const typeName = SHAPE_TYPE_NAMES[shp.shapeType]!;
  const source = await openShp(wholeOf(shp.source));
  for (let record = 0; record < count; record++) {
    const { done, value } = await source.read();
    if (done) break;
    const shape = value as typeof value | null;
    if (shape === null) continue;
    if (shape.type === "Point")
      store.setPoint(record, noData(shape.coordinates[0]!), noData(shape.coordinates[1]!));
    else if (shape.type === "Polygon") store.setPolygons(record, [shape.coordinates as PolygonRings]);
    else if (shape.type === "MultiPolygon") store.setPolygons(record, shape.coordinates as PolygonRings[]);
    else if (shape.type === "MultiPoint") store.setMultiPoint(record, shape.coordinates, typeName);
    else if (shape.type === "LineString") store.setLines(record, [shape.coordinates], typeName);
    else if (shape.type === "MultiLineString") store.setLines(record, shape.coordinates, typeName);
    else store.setOther(record, typeName);
  }
  store.finish(count);
  return store;
}

/** Takes shapes in file order into a store. */
class ShapeTaker {
  readonly store: GeometryStore;
  readonly #shapeType: number;
  readonly #typeName: string;
  readonly #notes: NoteBook;
  #record = 0;

  constructor(shp: ShpFile, notes: NoteBook) {
    this.store = new GeometryStore(mostRecords(shp));
    this.#shapeType = shp.shapeType;
    this.#typeName = SHAPE_TYPE_NAMES[shp.shapeType]!;
    this.#notes = notes;
  }

  take(view: DataView, at: number, length: number): void {
    const record = this.#record++;
    if (length === 0) this.store.setUnusable(record);
    else if (view.getInt32(at, true) !== 0) this.#takeShape(record, view, at, length);
  }

  #takeShape(record: number, view: DataView, at: number, length: number): void {
    const { store } = this;
    switch (this.#shapeType === MULTIPATCH ? MULTIPATCH : this.#shapeType % 10) {
      case 1:
        if (length < 20) this.#tooShort(record, length);
        else store.setPoint(record, coordinate(view, at + 4), coordinate(view, at + 12));
        return;
      case 8: {
        const count = length < 40 ? -1 : view.getInt32(at + 36, true);
        if (count < 0 || 40 + 16 * count > length) this.#tooShort(record, length);
        else store.setMultiPoint(record, readPositions(view, at + 40, count), this.#typeName);
        return;
      }
      case 3:
      case 5: {
        const parts = readParts(view, at, length);
        if (parts === null) this.#tooShort(record, length);
        else if (this.#shapeType % 10 === 5) store.setPolygons(record, this.#assemble(parts, record));
        else store.setLines(record, parts, this.#typeName);
        return;
      }
      case MULTIPATCH: {
        const parts = readParts(view, at, length, true);
        if (parts === null) this.#tooShort(record, length);
        else if (isOfRings(view, at)) store.setPolygons(record, this.#assemble(parts, record));
        else store.setOther(record, `${this.#typeName} of triangles`);
        return;
      }
      default:
        store.setOther(record, this.#typeName);
    }
  }

  #assemble(parts: Ring[], record: number): PolygonRings[] {
    const { polygons, orphanHoles } = polygonsOfParts(parts);
    if (orphanHoles > 0) {
      this.#notes.add({
        reason: "a ring wound like a hole lies in no outer ring; it is used as a polygon of its own",
        effect: "converted",
        record: record + 1,
      });
    }
    return polygons;
  }

  #tooShort(record: number, length: number): void {
    this.store.setUnusable(record);
    this.#notes.add({
      reason: "the shape is shorter than it says it is",
      effect: "left out",
      record: record + 1,
      value: `${length} bytes`,
    });
  }
}

function coordinate(view: DataView, at: number): number {
  return noData(view.getFloat64(at, true));
}

function noData(value: number): number {
  return value < NO_DATA_BELOW ? Number.NaN : value;
}

function readPositions(view: DataView, at: number, count: number): Ring {
  const positions: Ring = [];
  for (let point = 0; point < count; point++) {
    const place = at + 16 * point;
    positions.push([view.getFloat64(place, true), view.getFloat64(place + 8, true)]);
  }
  return positions;
}

/** True where the parts of a multipatch are rings (types 2 to 5) and none is a strip or fan of triangles. */
function isOfRings(view: DataView, at: number): boolean {
  const partCount = view.getInt32(at + 36, true);
  const types = Array.from({ length: partCount }, (_, part) =>
    view.getInt32(at + 44 + 4 * (partCount + part), true),
  );
  return types.every((type) => type >= 2 && type <= 5);
}

/**
 * The parts of a polygon, a line or a multipatch; null where the counts do not fit the record.
 * @param typed true where a type of each part stands between their starts and the positions
 */
function readParts(view: DataView, at: number, length: number, typed = false): Ring[] | null {
  if (length < 44) return null;
  const partCount = view.getInt32(at + 36, true);
  const pointCount = view.getInt32(at + 40, true);
  const firstPoint = at + 44 + (typed ? 8 : 4) * partCount;
  if (partCount < 0 || pointCount < 0 || firstPoint + 16 * pointCount > at + length) return null;
  const parts: Ring[] = [];
  for (let part = 0; part < partCount; part++) {
    const begin = view.getInt32(at + 44 + 4 * part, true);
    const end = part + 1 < partCount ? view.getInt32(at + 48 + 4 * part, true) : pointCount;
    if (begin < 0 || end < begin || end > pointCount) return null;
    const ring = readPositions(view, firstPoint + 16 * begin, end - begin);
    if (ring.length > 0) parts.push(ring);
  }
  return parts;
}
