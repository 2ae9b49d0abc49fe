/** Walks the records of a .shp file and says whether it is whole (ESRI Shapefile Technical Description, 1998). */
import { FileUnusableError } from "../../errors.ts";
import { type ByteSource, ByteWindow } from "../containers/byte-window.ts";
import type { NoteBook } from "../note-book.ts";

export const SHAPE_TYPE_NAMES: Readonly<Record<number, string>> = {
  0: "Null",
  1: "Point",
  3: "PolyLine",
  5: "Polygon",
  8: "MultiPoint",
  11: "PointZ",
  13: "PolyLineZ",
  15: "PolygonZ",
  18: "MultiPointZ",
  21: "PointM",
  23: "PolyLineM",
  25: "PolygonM",
  28: "MultiPointM",
  31: "MultiPatch",
};

export interface ShpFile {
  source: ByteSource;
  /** Shape type of the file. */
  shapeType: number;
  /** Length the header declares, bytes. */
  declaredEnd: number;
}

/** Takes one record; `view` is valid during the call only. A record that is damaged has length 0. */
export type TakeShape = (view: DataView, at: number, length: number) => void;

const FILE_CODE = 9994;
const HEADER_LENGTH = 100;
const RECORD_HEADER_LENGTH = 8;
const INDEX_ENTRY_LENGTH = 8;
/** The largest number of 16-bit words a header can declare. */
const LARGEST_LENGTH = 2 ** 32;

/** @throws {FileUnusableError} when the bytes are no .shp file. */
export function openShpFile(source: ByteSource, file: string): ShpFile {
  const bytes = source.read(0, HEADER_LENGTH);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const code = bytes.length >= 4 ? view.getInt32(0, false) : Number.NaN;
  const shapeType = bytes.length >= HEADER_LENGTH ? view.getInt32(32, true) : -1;
  if (code !== FILE_CODE || !Object.hasOwn(SHAPE_TYPE_NAMES, shapeType)) {
    const value = code === FILE_CODE ? `shape type ${shapeType}, ${source.size} bytes` : `file code ${code}`;
    const accepted = `a .shp file (file code ${FILE_CODE}, 100 bytes of header, a known shape type)`;
    throw new FileUnusableError(
      `${file}: the shapes (.shp) cannot be read (${value}); accepted is ${accepted}`,
      { file, field: ".shp", value, accepted },
    );
  }
  // Counted in 16-bit words; read without a sign, so that files up to 8 GiB are told right.
  return { source, shapeType, declaredEnd: Math.min(view.getUint32(24, false) * 2, LARGEST_LENGTH * 2) };
}

/** How many records fit at most, for sizing: exact where all have the size of their type. */
export function mostRecords({ source, shapeType }: ShpFile): number {
  const shortest: Readonly<Record<number, number>> = { 1: 20, 11: 36, 21: 28 };
  const length = RECORD_HEADER_LENGTH + (shortest[shapeType] ?? 48);
  return Math.ceil(Math.max(0, source.size - HEADER_LENGTH) / length);
}

/**
 * Walks the records in file order. A damaged record is skipped where the index (.shx) tells the next one, or
 * where the length of its type does; else reading ends there. What was lost is noted.
 * @returns the number of records, and false for `sound` where anything was damaged, cut off or left over
 */
export function walkShpRecords(
  shp: ShpFile,
  shx: Uint8Array | null,
  notes: NoteBook,
  take: TakeShape,
): { count: number; sound: boolean } {
  const { source, shapeType, declaredEnd } = shp;
  const window = new ByteWindow(source);
  const { size } = source;
  const index = shx === null ? null : new DataView(shx.buffer, shx.byteOffset, shx.byteLength);
  const indexed = index === null ? 0 : Math.floor((index.byteLength - HEADER_LENGTH) / INDEX_ENTRY_LENGTH);
  let count = 0;
  let sound = true;
  let amiss = 0;
  let at = HEADER_LENGTH;
  while (at + RECORD_HEADER_LENGTH + 4 <= size) {
    const header = window.locate(at, RECORD_HEADER_LENGTH + 4);
    const length = window.view.getInt32(header + 4, false) * 2;
    const type = window.view.getInt32(header + RECORD_HEADER_LENGTH, true);
    const next = at + RECORD_HEADER_LENGTH + length;
    if (length >= 4 && next <= size && (type === 0 || type === shapeType) && fits(shapeType, type, length)) {
      const content = window.locate(at + RECORD_HEADER_LENGTH, length);
      take(window.view, content, length);
      if (index !== null && offsetIn(index, count) !== at) amiss++;
      count++;
      at = next;
      continue;
    }
    if (at >= declaredEnd && declaredEnd >= HEADER_LENGTH) break;
    sound = false;
    const resumed =
      nextByIndex(index, count + 1, at, size) ?? nextByNumber(window, at, shapeType, count + 2, size);
    if (resumed === null) break;
    notes.add({ reason: "the shape of the record is damaged", effect: "left out", record: count + 1 });
    take(window.view, 0, 0);
    count++;
    at = resumed;
  }
  if (at !== declaredEnd || at !== size) {
    sound = false;
    const lost = at < declaredEnd || at < size;
    notes.add({
      reason: `the shapes (.shp) declare ${declaredEnd} bytes and hold ${size}; whole records up to byte ${at} are used${lost ? ", the rest is not" : ""}`,
      effect: lost ? "left out" : "kept",
      record: lost ? count + 1 : undefined,
      count: Math.max(1, indexed - count),
    });
  }
  if (index !== null && (amiss > 0 || (sound && indexed !== count))) {
    notes.add({
      reason: `the index (.shx) is damaged or belongs to other shapes: it has ${indexed} entries for ${count} shapes, and ${amiss} point elsewhere; the shapes are read one after the other without it`,
      effect: "kept",
      count: Math.max(1, amiss),
    });
  }
  return { count, sound };
}

/** Points have one length each, with or without room for a measure; other shapes may be of any. */
function fits(shapeType: number, type: number, length: number): boolean {
  if (type === 0 || shapeType % 10 !== 1 || shapeType === 31) return true;
  return length >= 20 && length <= 36;
}

/** Offset of the header of record `record` (0-based) by the index, null where the index does not help. */
function nextByIndex(index: DataView | null, record: number, after: number, size: number): number | null {
  const offset = index === null ? null : offsetIn(index, record);
  return offset !== null && offset > after && offset + RECORD_HEADER_LENGTH + 4 <= size ? offset : null;
}

/** Offset the index gives for record `record` (0-based), bytes; null where it has no such entry. */
function offsetIn(index: DataView, record: number): number | null {
  const entry = HEADER_LENGTH + record * INDEX_ENTRY_LENGTH;
  return entry + INDEX_ENTRY_LENGTH > index.byteLength ? null : index.getInt32(entry, false) * 2;
}

/** Without an index: points all have one length, so the next record must follow with the next number. */
function nextByNumber(
  window: ByteWindow,
  at: number,
  shapeType: number,
  number: number,
  size: number,
): number | null {
  for (const length of [20, 28, 36]) {
    const next = at + RECORD_HEADER_LENGTH + length;
    if (shapeType % 10 !== 1 || next + RECORD_HEADER_LENGTH + 4 > size) continue;
    const header = window.locate(next, RECORD_HEADER_LENGTH + 4);
    const { view } = window;
    const type = view.getInt32(header + RECORD_HEADER_LENGTH, true);
    if (view.getInt32(header, false) === number && type === shapeType) return next;
  }
  return null;
}
