/** Shapes of a .shp file: our own reader for the log, the library for small layers. Both fill one store. */
import { openShp } from "shapefile";
import { GeometryStore } from "./geometry-store.ts";
import type { PolygonRings } from "./layer.ts";
import type { NoteBook } from "./note-book.ts";
import { polygonsOfParts, type Ring } from "./rings.ts";
import { SHAPE_TYPE_NAMES, type ShpRecords } from "./shp-records.ts";

/** Numbers below this stand for "no data" (ESRI Shapefile Technical Description, 1998). */
const NO_DATA_BELOW = -1e38;

/** Reads every shape with typed access; Z and M values are passed over. */
export function readShapes(records: ShpRecords, notes: NoteBook): GeometryStore {
  const { view, shapeType, count, offsets, lengths } = records;
  const store = new GeometryStore(count);
  const family = shapeType % 10;
  for (let record = 0; record < count; record++) {
    const at = offsets[record]!;
    if (at < 0 || view.getInt32(at, true) === 0) continue;
    const length = lengths[record]!;
    if (family === 1 && shapeType !== 31) {
      if (length >= 20) store.setPoint(record, coordinate(view, at + 4), coordinate(view, at + 12));
      else tooShort(record, length, notes);
    } else if (family === 5) {
      const parts = readParts(view, at, length);
      if (parts === null) tooShort(record, length, notes);
      else store.setPolygons(record, assemble(parts, record, notes));
    } else if (family === 8 && length >= 56 && view.getInt32(at + 36, true) === 1) {
      store.setPoint(record, coordinate(view, at + 40), coordinate(view, at + 48));
    } else {
      store.setOther(record, SHAPE_TYPE_NAMES[shapeType]!);
    }
  }
  store.finish(count);
  return store;
}

/**
 * Reads every shape with the `shapefile` library. Only for files whose records are whole: on damaged ones
 * the library skips ahead, and the shapes would no longer stand beside their rows.
 */
export async function readShapesWithLibrary(shp: Uint8Array, records: ShpRecords): Promise<GeometryStore> {
  const store = new GeometryStore(records.count);
  const source = await openShp(shp);
  for (let record = 0; record < records.count; record++) {
    const { done, value } = await source.read();
    if (done) break;
    const shape = value as typeof value | null;
    if (shape === null) continue;
    if (shape.type === "Point")
      store.setPoint(record, noData(shape.coordinates[0]!), noData(shape.coordinates[1]!));
    else if (shape.type === "Polygon") store.setPolygons(record, [shape.coordinates as PolygonRings]);
    else if (shape.type === "MultiPolygon") store.setPolygons(record, shape.coordinates as PolygonRings[]);
    else if (shape.type === "MultiPoint" && shape.coordinates.length === 1) {
      store.setPoint(record, noData(shape.coordinates[0]![0]!), noData(shape.coordinates[0]![1]!));
    } else store.setOther(record, SHAPE_TYPE_NAMES[records.shapeType]!);
  }
  store.finish(records.count);
  return store;
}

function coordinate(view: DataView, at: number): number {
  return noData(view.getFloat64(at, true));
}

function noData(value: number): number {
  return value < NO_DATA_BELOW ? Number.NaN : value;
}

function tooShort(record: number, length: number, notes: NoteBook): void {
  notes.add({
    reason: "the shape is shorter than it says it is",
    effect: "left out",
    record: record + 1,
    value: `${length} bytes`,
  });
}

function readParts(view: DataView, at: number, length: number): Ring[] | null {
  if (length < 44) return null;
  const partCount = view.getInt32(at + 36, true);
  const pointCount = view.getInt32(at + 40, true);
  const firstPoint = at + 44 + 4 * partCount;
  if (partCount < 0 || pointCount < 0 || firstPoint + 16 * pointCount > at + length) return null;
  const parts: Ring[] = [];
  for (let part = 0; part < partCount; part++) {
    const begin = view.getInt32(at + 44 + 4 * part, true);
    const end = part + 1 < partCount ? view.getInt32(at + 48 + 4 * part, true) : pointCount;
    if (begin < 0 || end < begin || end > pointCount) return null;
    const ring: Ring = [];
    for (let point = begin; point < end; point++) {
      const place = firstPoint + 16 * point;
      ring.push([view.getFloat64(place, true), view.getFloat64(place + 8, true)]);
    }
    if (ring.length > 0) parts.push(ring);
  }
  return parts;
}

function assemble(parts: Ring[], record: number, notes: NoteBook): PolygonRings[] {
  const { polygons, orphanHoles } = polygonsOfParts(parts);
  if (orphanHoles > 0) {
    notes.add({
      reason: "a ring wound like a hole lies in no outer ring; it is used as a polygon of its own",
      effect: "converted",
      record: record + 1,
    });
  }
  return polygons;
}
