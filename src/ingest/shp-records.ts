/** Where the records of a .shp file stand, and whether the file is whole (ESRI Shapefile Technical Description, 1998). */
import { FileUnusableError } from "../errors.ts";
import type { NoteBook } from "./note-book.ts";

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

export interface ShpRecords {
  view: DataView;
  /** Shape type of the file. */
  shapeType: number;
  count: number;
  /** Byte offset of each record's content (its shape type); -1 for a record that is damaged. */
  offsets: Float64Array;
  /** Content length of each record, bytes. */
  lengths: Float64Array;
  /** False where anything was damaged, cut off or left over. */
  sound: boolean;
}

const FILE_CODE = 9994;
const HEADER_LENGTH = 100;
const RECORD_HEADER_LENGTH = 8;

/**
 * Walks the record headers. A damaged record is skipped where the index (.shx) tells the next one, else
 * reading ends there; both are noted.
 * @throws {FileUnusableError} when the bytes are no .shp file.
 */
export function findShpRecords(
  shp: Uint8Array,
  shx: Uint8Array | null,
  file: string,
  notes: NoteBook,
): ShpRecords {
  const view = new DataView(shp.buffer, shp.byteOffset, shp.byteLength);
  const code = shp.length >= 4 ? view.getInt32(0, false) : Number.NaN;
  const shapeType = shp.length >= HEADER_LENGTH ? view.getInt32(32, true) : -1;
  if (code !== FILE_CODE || !(shapeType in SHAPE_TYPE_NAMES)) {
    const value = code === FILE_CODE ? `shape type ${shapeType}, ${shp.length} bytes` : `file code ${code}`;
    const accepted = `a .shp file (file code ${FILE_CODE}, 100 bytes of header, a known shape type)`;
    throw new FileUnusableError(
      `${file}: the shapes (.shp) cannot be read (${value}); accepted is ${accepted}`,
      {
        file,
        field: ".shp",
        value,
        accepted,
      },
    );
  }
  const declaredEnd = view.getInt32(24, false) * 2;
  const index = shx === null ? null : new DataView(shx.buffer, shx.byteOffset, shx.byteLength);
  const capacity = Math.floor((shp.length - HEADER_LENGTH) / (RECORD_HEADER_LENGTH + 4)) + 1;
  const offsets = new Float64Array(capacity);
  const lengths = new Float64Array(capacity);
  let count = 0;
  let sound = true;
  let at = HEADER_LENGTH;
  while (at + RECORD_HEADER_LENGTH + 4 <= shp.length) {
    const length = view.getInt32(at + 4, false) * 2;
    const type = view.getInt32(at + RECORD_HEADER_LENGTH, true);
    const next = at + RECORD_HEADER_LENGTH + length;
    if (length >= 4 && next <= shp.length && (type === 0 || type === shapeType)) {
      offsets[count] = at + RECORD_HEADER_LENGTH;
      lengths[count] = length;
      count++;
      at = next;
      continue;
    }
    if (at >= declaredEnd && declaredEnd >= HEADER_LENGTH) break;
    sound = false;
    const resumed = nextByIndex(index, count + 1, at, shp.length);
    if (resumed === null) break;
    notes.add({ reason: "the shape of the record is damaged", effect: "left out", record: count + 1 });
    offsets[count] = -1;
    count++;
    at = resumed;
  }
  if (at !== declaredEnd || at !== shp.length) {
    sound = false;
    const lost = at < Math.max(declaredEnd, 0) || at < shp.length;
    notes.add({
      reason: `the shapes (.shp) declare ${declaredEnd} bytes and hold ${shp.length}; whole records up to byte ${at} are used${lost ? ", the rest is not" : ""}`,
      effect: lost ? "left out" : "kept",
      record: lost ? count + 1 : undefined,
    });
  }
  return { view, shapeType, count, offsets, lengths, sound };
}

/** Offset of the header of record `record` (0-based) by the index, null where the index does not help. */
function nextByIndex(index: DataView | null, record: number, after: number, length: number): number | null {
  const entry = HEADER_LENGTH + record * 8;
  if (index === null || entry + 8 > index.byteLength) return null;
  const offset = index.getInt32(entry, false) * 2;
  return offset > after && offset + RECORD_HEADER_LENGTH + 4 <= length ? offset : null;
}
