/**
 * What shapefiles of every kind share: the header of .shp and .shx, the index, and the five files in one flat zip.
 * Written from the published description of the format (Esri, Shapefile Technical Description, 1998).
 */
import { strToU8, zipSync } from "fflate";
import { type DbfField, writeDbfTable } from "./dbf-table.ts";
import { projectionText, type ShapefileCrs } from "./projection-text.ts";

export interface ShapefileTable {
  /** Stem of the five files in the zip: letters, digits, hyphens and underscores. */
  name: string;
  fields: readonly DbfField[];
  crs: ShapefileCrs;
}

/** The shapes of a file, in the order of the table's records. */
export interface Shapes {
  /** 1 for points, 5 for polygons. */
  type: number;
  count: number;
  /** xMin, yMin, xMax, yMax; all 0 for a file without shapes. */
  box: readonly [number, number, number, number];
  contentBytes(record: number): number;
  /** Writes the content of a record, shape type included, from `at` on. */
  writeContent(record: number, view: DataView, at: number): void;
}

const FILE_HEADER_BYTES = 100;
const RECORD_HEADER_BYTES = 8;

/**
 * Zipped shapefile. The same input gives the same bytes (every date in it is 1 January 1980).
 * @throws {RangeError} when the stem, a field or the zone of the projection cannot be written as it stands.
 */
export function zippedShapefile({ name, fields, crs }: ShapefileTable, shapes: Shapes): Uint8Array {
  if (!/^[A-Za-z0-9_-]+$/.test(name)) {
    throw new RangeError(`file name "${name}" is unusable: letters, digits, hyphens and underscores only`);
  }
  const table = writeDbfTable(shapes.count, fields);
  const { shp, shx } = shapeFiles(shapes);
  return zipSync(
    {
      [`${name}.shp`]: shp,
      [`${name}.shx`]: shx,
      [`${name}.dbf`]: table,
      [`${name}.prj`]: strToU8(projectionText(crs)),
      [`${name}.cpg`]: strToU8("UTF-8"),
    },
    // A zip keeps local time: the parts of the date below are the same in every time zone.
    { level: 6, mtime: new Date(1980, 0, 1) },
  );
}

function shapeFiles(shapes: Shapes): { shp: Uint8Array; shx: Uint8Array } {
  let length = FILE_HEADER_BYTES;
  for (let record = 0; record < shapes.count; record++)
    length += RECORD_HEADER_BYTES + shapes.contentBytes(record);
  const shp = new DataView(new ArrayBuffer(length));
  const shx = new DataView(new ArrayBuffer(FILE_HEADER_BYTES + RECORD_HEADER_BYTES * shapes.count));
  let at = FILE_HEADER_BYTES;
  for (let record = 0; record < shapes.count; record++) {
    const words = shapes.contentBytes(record) / 2;
    shp.setInt32(at, record + 1);
    shp.setInt32(at + 4, words);
    const indexAt = FILE_HEADER_BYTES + RECORD_HEADER_BYTES * record;
    shx.setInt32(indexAt, at / 2);
    shx.setInt32(indexAt + 4, words);
    shapes.writeContent(record, shp, at + RECORD_HEADER_BYTES);
    at += RECORD_HEADER_BYTES + 2 * words;
  }
  for (const view of [shp, shx]) writeFileHeader(view, shapes);
  return { shp: new Uint8Array(shp.buffer), shx: new Uint8Array(shx.buffer) };
}

/** Lengths in the format count 16-bit words, big-endian; the rest of the header is little-endian. */
function writeFileHeader(view: DataView, { type, box }: Shapes): void {
  view.setInt32(0, 9994);
  view.setInt32(24, view.byteLength / 2);
  view.setInt32(28, 1000, true);
  view.setInt32(32, type, true);
  box.forEach((value, index) => {
    view.setFloat64(36 + 8 * index, value, true);
  });
}

/** Box round positions, none of which may be missing. */
export class BoxAround {
  private readonly limits: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];

  /**
   * @param record 0-based, for the message
   * @throws {RangeError} when the position is not finite
   */
  add(x: number, y: number, record: number): void {
    if (!Number.isFinite(x) || !Number.isFinite(y)) {
      throw new RangeError(`position (${x}, ${y}) of record ${record + 1} is not finite`);
    }
    const limits = this.limits;
    if (x < limits[0]) limits[0] = x;
    if (y < limits[1]) limits[1] = y;
    if (x > limits[2]) limits[2] = x;
    if (y > limits[3]) limits[3] = y;
  }

  /** xMin, yMin, xMax, yMax; all 0 where nothing was added. */
  get box(): readonly [number, number, number, number] {
    return this.limits[0] <= this.limits[2] ? this.limits : [0, 0, 0, 0];
  }
}
