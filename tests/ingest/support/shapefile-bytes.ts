/** Shapefiles written byte by byte for the tests (ESRI Shapefile Technical Description, 1998; dBASE III layout). */
import type { InputFile } from "../../../src/ingest/index.ts";

export type Shape =
  | null
  | { type: 1 | 11 | 21; x: number; y: number }
  | { type: 3 | 5 | 15 | 25; parts: [number, number][][] }
  | { type: 31; parts: [number, number][][]; partTypes: number[] };

export interface DbfColumn {
  name: string;
  type: string;
  length: number;
  decimals?: number;
}

/** The .shp and its .shx; the shape type of the file is that of the first shape. */
export function shapeBytes(
  shapes: readonly Shape[],
  fileType?: number,
): { shp: Uint8Array; shx: Uint8Array } {
  const shapeType = fileType ?? shapes.find((shape) => shape !== null)?.type ?? 1;
  const contents = shapes.map(contentOf);
  const length = contents.reduce((sum, content) => sum + 8 + content.length, 100);
  const shp = new Uint8Array(length);
  const shx = new Uint8Array(100 + 8 * shapes.length);
  for (const bytes of [shp, shx]) {
    const view = viewOf(bytes);
    view.setInt32(0, 9994, false);
    view.setInt32(24, bytes.length / 2, false);
    view.setInt32(28, 1000, true);
    view.setInt32(32, shapeType, true);
  }
  let at = 100;
  for (const [index, content] of contents.entries()) {
    viewOf(shx).setInt32(100 + 8 * index, at / 2, false);
    viewOf(shx).setInt32(104 + 8 * index, content.length / 2, false);
    viewOf(shp).setInt32(at, index + 1, false);
    viewOf(shp).setInt32(at + 4, content.length / 2, false);
    shp.set(content, at + 8);
    at += 8 + content.length;
  }
  return { shp, shx };
}

function contentOf(shape: Shape): Uint8Array {
  if (shape === null) return new Uint8Array(4);
  if ("x" in shape) {
    const bytes = new Uint8Array({ 1: 20, 11: 36, 21: 28 }[shape.type]);
    const view = viewOf(bytes);
    view.setInt32(0, shape.type, true);
    view.setFloat64(4, shape.x, true);
    view.setFloat64(12, shape.y, true);
    return bytes;
  }
  const points = shape.parts.flat();
  // Z and M tails are left at zero; only their room matters to a reader that passes over them.
  const tails = { 3: 0, 5: 0, 15: 2, 25: 1, 31: 1 }[shape.type];
  const partTypes = shape.type === 31 ? shape.partTypes : [];
  const start = 44 + 4 * (shape.parts.length + partTypes.length);
  const bytes = new Uint8Array(start + 16 * points.length + tails * (16 + 8 * points.length));
  const view = viewOf(bytes);
  view.setInt32(0, shape.type, true);
  view.setInt32(36, shape.parts.length, true);
  view.setInt32(40, points.length, true);
  let first = 0;
  for (const [index, part] of shape.parts.entries()) {
    view.setInt32(44 + 4 * index, first, true);
    first += part.length;
  }
  for (const [index, type] of partTypes.entries())
    view.setInt32(44 + 4 * (shape.parts.length + index), type, true);
  for (const [index, [x, y]] of points.entries()) {
    view.setFloat64(start + 16 * index, x, true);
    view.setFloat64(start + 8 + 16 * index, y, true);
  }
  return bytes;
}

/** The .dbf. A cell is its bytes as they stand in the file, or a text padded with blanks. */
export function tableBytes(
  columns: readonly DbfColumn[],
  rows: readonly (readonly (string | Uint8Array)[])[],
  options: { deleted?: readonly number[]; languageByte?: number; version?: number } = {},
): Uint8Array {
  const rowLength = 1 + columns.reduce((sum, column) => sum + column.length, 0);
  const firstRow = 32 + 32 * columns.length + 1;
  const bytes = new Uint8Array(firstRow + rowLength * rows.length + 1).fill(0x20, firstRow);
  const view = viewOf(bytes);
  bytes[0] = options.version ?? 3;
  view.setUint32(4, rows.length, true);
  view.setUint16(8, firstRow, true);
  view.setUint16(10, rowLength, true);
  bytes[29] = options.languageByte ?? 0;
  for (const [index, column] of columns.entries()) {
    const at = 32 + 32 * index;
    bytes.set(new TextEncoder().encode(column.name).subarray(0, 11), at);
    bytes[at + 11] = column.type.charCodeAt(0);
    bytes[at + 16] = column.length;
    bytes[at + 17] = column.decimals ?? 0;
  }
  bytes[firstRow - 1] = 0x0d;
  for (const [row, cells] of rows.entries()) {
    let at = firstRow + row * rowLength;
    if (options.deleted?.includes(row)) bytes[at] = 0x2a;
    at++;
    for (const [index, cell] of cells.entries()) {
      const { length, type } = columns[index]!;
      const content = typeof cell === "string" ? new TextEncoder().encode(cell) : cell;
      const numeric = "NF".includes(type) && content.length < length;
      bytes.set(content.subarray(0, length), at + (numeric ? length - content.length : 0));
      at += length;
    }
  }
  bytes[bytes.length - 1] = 0x1a;
  return bytes;
}

/** A loose set of files of one shapefile, in degrees unless another .prj (or null for none) is given. */
export function shapefileSet(
  shapes: readonly Shape[],
  dbf: Uint8Array | null,
  prj: string | null = WGS84_PRJ,
  stem = "layer",
): InputFile[] {
  const { shp, shx } = shapeBytes(shapes);
  return [
    { name: `${stem}.shp`, bytes: shp },
    { name: `${stem}.shx`, bytes: shx },
    ...(dbf ? [{ name: `${stem}.dbf`, bytes: dbf }] : []),
    ...(prj === null ? [] : [{ name: `${stem}.prj`, bytes: new TextEncoder().encode(prj) }]),
  ];
}

export const WGS84_PRJ =
  'GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]';

export function viewOf(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}
