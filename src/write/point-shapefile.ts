/**
 * Point shapefiles as bytes: .shp, .shx, .dbf, .prj and .cpg in one flat zip. Written from the published
 * description of the format (Esri, Shapefile Technical Description, 1998).
 */
import { strToU8, zipSync } from "fflate";
import { type DbfField, writeDbfTable } from "./dbf-table.ts";
import { projectionText, type ShapefileCrs } from "./projection-text.ts";

export interface PointShapefile {
  /** Stem of the five files in the zip: letters, digits, hyphens and underscores. */
  name: string;
  /** Positions in the units of `crs`, finite, one entry a record. */
  x: ArrayLike<number>;
  y: ArrayLike<number>;
  fields: readonly DbfField[];
  crs: ShapefileCrs;
}

const FILE_HEADER_BYTES = 100;
const SHAPE_TYPE_POINT = 1;
const POINT_CONTENT_BYTES = 20;
const RECORD_HEADER_BYTES = 8;

/**
 * Zipped point shapefile. The same input gives the same bytes (every date in it is 1 January 1980).
 * @throws {RangeError} when the stem, a position, a field or the zone cannot be written as it stands.
 */
export function writePointShapefile(layer: PointShapefile): Uint8Array {
  const { name, x, y } = layer;
  if (!/^[A-Za-z0-9_-]+$/.test(name)) {
    throw new RangeError(`file name "${name}" is unusable: letters, digits, hyphens and underscores only`);
  }
  if (x.length !== y.length) throw new RangeError(`${x.length} x positions but ${y.length} y positions`);
  const table = writeDbfTable(x.length, layer.fields);
  const { shp, shx } = writePoints(x, y);
  return zipSync(
    {
      [`${name}.shp`]: shp,
      [`${name}.shx`]: shx,
      [`${name}.dbf`]: table,
      [`${name}.prj`]: strToU8(projectionText(layer.crs)),
      [`${name}.cpg`]: strToU8("UTF-8"),
    },
    // A zip keeps local time: the parts of the date below are the same in every time zone.
    { level: 6, mtime: new Date(1980, 0, 1) },
  );
}

function writePoints(x: ArrayLike<number>, y: ArrayLike<number>): { shp: Uint8Array; shx: Uint8Array } {
  const recordBytes = RECORD_HEADER_BYTES + POINT_CONTENT_BYTES;
  const shp = new DataView(new ArrayBuffer(FILE_HEADER_BYTES + recordBytes * x.length));
  const shx = new DataView(new ArrayBuffer(FILE_HEADER_BYTES + RECORD_HEADER_BYTES * x.length));
  const bounds = { xMin: Infinity, yMin: Infinity, xMax: -Infinity, yMax: -Infinity };
  for (let record = 0; record < x.length; record++) {
    const xHere = x[record] as number;
    const yHere = y[record] as number;
    if (!Number.isFinite(xHere) || !Number.isFinite(yHere)) {
      throw new RangeError(`position (${xHere}, ${yHere}) of record ${record + 1} is not finite`);
    }
    bounds.xMin = Math.min(bounds.xMin, xHere);
    bounds.xMax = Math.max(bounds.xMax, xHere);
    bounds.yMin = Math.min(bounds.yMin, yHere);
    bounds.yMax = Math.max(bounds.yMax, yHere);
    const at = FILE_HEADER_BYTES + recordBytes * record;
    shp.setInt32(at, record + 1);
    shp.setInt32(at + 4, POINT_CONTENT_BYTES / 2);
    shp.setInt32(at + 8, SHAPE_TYPE_POINT, true);
    shp.setFloat64(at + 12, xHere, true);
    shp.setFloat64(at + 20, yHere, true);
    const indexAt = FILE_HEADER_BYTES + RECORD_HEADER_BYTES * record;
    shx.setInt32(indexAt, at / 2);
    shx.setInt32(indexAt + 4, POINT_CONTENT_BYTES / 2);
  }
  const box = x.length > 0 ? [bounds.xMin, bounds.yMin, bounds.xMax, bounds.yMax] : [0, 0, 0, 0];
  for (const view of [shp, shx]) writeFileHeader(view, box);
  return { shp: new Uint8Array(shp.buffer), shx: new Uint8Array(shx.buffer) };
}

/** Lengths in the format count 16-bit words, big-endian; the rest of the header is little-endian. */
function writeFileHeader(view: DataView, box: readonly number[]): void {
  view.setInt32(0, 9994);
  view.setInt32(24, view.byteLength / 2);
  view.setInt32(28, 1000, true);
  view.setInt32(32, SHAPE_TYPE_POINT, true);
  box.forEach((value, index) => {
    view.setFloat64(36 + 8 * index, value, true);
  });
}
