/** Judges the geometry a reader collected: which kind the layer is, what is usable, where it lies. */
import { FileUnusableError } from "../errors.ts";
import { isGeographic } from "./crs.ts";
import { fitsDegrees, NO_CRS } from "./crs-recognition.ts";
import { type Extent, extentOf } from "./extent.ts";
import { type GeometryStore, NO_GEOMETRY, OTHER, POINT, POLYGON, UNUSABLE } from "./geometry-store.ts";
import type { CoordinateSystem, LayerGeometry, PolygonRings, RawLayer } from "./layer.ts";
import type { NoteBook } from "./note-book.ts";
import { type RepairOptions, repairPolygons } from "./polygon-repair.ts";
import { centroidOf } from "./rings.ts";

/** What the job needs of a layer's geometry. */
export type ExpectedGeometry = "point" | "polygon" | "any" | "table";

export interface SettleOptions {
  file: string;
  role: string;
  expect: ExpectedGeometry;
  notes: NoteBook;
  /** Number of each record in the file, 1-based; null where record i is number i + 1. */
  fileRecord: Int32Array | null;
  noteWinding: RepairOptions["noteWinding"];
  /** Decides the coordinate system once the extent is known. */
  crsOf(extent: Extent): CoordinateSystem;
}

type Placed = Pick<RawLayer, "geometry" | "x" | "y" | "polygons" | "crs">;

/**
 * Geometry of the finished layer. Records whose geometry is missing or unusable keep their columns and
 * get NaN positions, with a note.
 * @throws {FileUnusableError} when the layer has no usable geometry of the expected kind, or its
 * coordinate system cannot be known.
 */
export function settleGeometry(store: GeometryStore, options: SettleOptions): Placed {
  const { notes } = options;
  const recordCount = store.x.length;
  const numberOf = (record: number) => options.fileRecord?.[record] ?? record + 1;
  const geometry = chooseGeometry(store, options);
  if (geometry === "none") return nowhere(recordCount);
  const wanted = geometry === "point" ? POINT : POLYGON;
  const { x, y } = store;
  const polygons: PolygonRings[][] | null = geometry === "polygon" ? [] : null;
  for (let record = 0; record < recordCount; record++) {
    const kind = store.kinds[record]!;
    const number = numberOf(record);
    const left = (reason: string, value?: string) =>
      notes.add({ reason, effect: "left out", record: number, value });
    if (kind !== wanted) {
      if (kind === NO_GEOMETRY) left("no geometry");
      else if (kind !== UNUSABLE) left(`its geometry is not a ${geometry} like the rest of the layer`);
      x[record] = Number.NaN;
      y[record] = Number.NaN;
    } else if (polygons === null && !(Number.isFinite(x[record]!) && Number.isFinite(y[record]!))) {
      left("its position is not two finite numbers", `${x[record]}, ${y[record]}`);
      x[record] = Number.NaN;
      y[record] = Number.NaN;
    }
    if (polygons === null) continue;
    const usable =
      kind === POLYGON
        ? repairPolygons(store.polygons?.[record] ?? [], notes, {
            record: number,
            noteWinding: options.noteWinding,
          })
        : [];
    polygons.push(usable);
    const centre = centroidOf(usable);
    x[record] = centre ? centre[0] : Number.NaN;
    y[record] = centre ? centre[1] : Number.NaN;
  }
  const extent = extentOf(x, y, polygons);
  if (extent === null) {
    if (options.expect === "table") return nowhere(recordCount);
    throw unusableGeometry(options, `none of its ${recordCount} records has a usable ${geometry}`, null);
  }
  const crs = options.crsOf(extent);
  if (isGeographic(crs)) leaveOutBeyondDegrees({ x, y, polygons }, extent, options, numberOf);
  if (geometry === "point") leaveOutMissingFixes(x, y, extent, options, numberOf);
  return { geometry, x, y, polygons, crs };
}

function nowhere(recordCount: number): Placed {
  const missing = () => new Float64Array(recordCount).fill(Number.NaN);
  return { geometry: "none", x: missing(), y: missing(), polygons: null, crs: NO_CRS };
}

function chooseGeometry(store: GeometryStore, options: SettleOptions): LayerGeometry {
  const counts = [0, 0, 0, 0, 0];
  for (const kind of store.kinds) counts[kind]!++;
  const points = counts[POINT]!;
  const polygons = counts[POLYGON]!;
  const found = [
    counted(points, "point", "points"),
    counted(polygons, "polygon", "polygons"),
    counts[OTHER] === 0 ? "" : `${counts[OTHER]} of type ${[...store.otherTypes].sort().join(", ")}`,
    counted(counts[UNUSABLE]!, "broken geometry", "broken geometries"),
  ].filter((part) => part !== "");
  const foundText = found.length > 0 ? found.join(", ") : "no geometry at all";
  const { expect } = options;
  if (expect === "point" && points === 0) throw unusableGeometry(options, `it holds ${foundText}`, "points");
  if (expect === "polygon" && polygons === 0)
    throw unusableGeometry(options, `it holds ${foundText}`, "polygons");
  if (points + polygons === 0) {
    if (expect === "table") return "none";
    throw unusableGeometry(options, `it holds ${foundText}`, "points or polygons");
  }
  if (expect === "point" || expect === "polygon") return expect;
  return points >= polygons ? "point" : "polygon";
}

function counted(count: number, one: string, many: string): string {
  return count === 0 ? "" : `${count} ${count === 1 ? one : many}`;
}

function unusableGeometry(options: SettleOptions, what: string, accepted: string | null): FileUnusableError {
  const wanted = accepted ?? (options.expect === "any" ? "points or polygons" : `${options.expect}s`);
  const trouble = options.notes.notes().find((note) => note.effect === "left out" && note.field === null);
  const first = trouble
    ? ` (record ${trouble.firstRecord}: ${trouble.reason}; ${trouble.value ?? "no value"})`
    : "";
  return new FileUnusableError(
    `${options.file}: ${what}${first}; accepted for ${options.role} are ${wanted}`,
    {
      file: options.file,
      field: "geometry",
      value: what + first,
      accepted: wanted,
    },
  );
}

/** Beyond what longitude and latitude can be, a position is wrong; all of them wrong, the system is. */
function leaveOutBeyondDegrees(
  layer: { x: Float64Array; y: Float64Array; polygons: PolygonRings[][] | null },
  extent: Extent,
  options: SettleOptions,
  numberOf: (record: number) => number,
): void {
  if (fitsDegrees(extent)) return;
  const { x, y, polygons } = layer;
  const beyond: number[] = [];
  let placed = 0;
  for (let record = 0; record < x.length; record++) {
    if (Number.isNaN(x[record]!)) continue;
    placed++;
    const one = polygons
      ? extentOf(new Float64Array(0), new Float64Array(0), [polygons[record]!])
      : { minX: x[record]!, maxX: x[record]!, minY: y[record]!, maxY: y[record]! };
    if (one && !fitsDegrees(one)) beyond.push(record);
  }
  const value = `${x[beyond[0]!]}, ${y[beyond[0]!]}`;
  if (beyond.length === placed) throw notDegrees(options.file, extent, value);
  for (const record of beyond) {
    options.notes.add({
      reason: "its position lies beyond longitude -180 to 180 or latitude -90 to 90",
      effect: "left out",
      record: numberOf(record),
      value: `${x[record]}, ${y[record]}`,
    });
    x[record] = Number.NaN;
    y[record] = Number.NaN;
    if (polygons) polygons[record] = [];
  }
}

/** A receiver without a fix logs 0, 0, in degrees as in metres; no field lies there (common practice, no source). */
function leaveOutMissingFixes(
  x: Float64Array,
  y: Float64Array,
  extent: Extent,
  options: SettleOptions,
  numberOf: (record: number) => number,
): void {
  const elsewhere = Math.max(Math.abs(extent.minX), extent.maxX, Math.abs(extent.minY), extent.maxY) > 1;
  if (!elsewhere) return;
  for (let record = 0; record < x.length; record++) {
    if (x[record] !== 0 || y[record] !== 0) continue;
    const reason = "its position is 0, 0, which a receiver without a fix writes";
    options.notes.add({ reason, effect: "left out", record: numberOf(record), value: "0, 0" });
    x[record] = Number.NaN;
    y[record] = Number.NaN;
  }
}

function notDegrees(file: string, extent: Extent, value: string): FileUnusableError {
  const swapped = extent.minX >= -90 && extent.maxX <= 90 && extent.minY >= -180 && extent.maxY <= 180;
  const guess = swapped
    ? "latitude seems to stand before longitude"
    : "they look like metres of a projected system";
  const accepted =
    'longitude then latitude in WGS 84 degrees, or "crs": "EPSG:32617" (the code of its system) in the manifest';
  return new FileUnusableError(
    `${file}: no position is a longitude and latitude (first: ${value}); ${guess}; accepted is ${accepted}`,
    { file, field: "coordinates", value, accepted },
  );
}
