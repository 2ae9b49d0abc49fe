/** Header of a dBASE table (.dbf): which columns stand where in a row. */
import { FileUnusableError } from "../../errors.ts";
import type { ByteSource } from "../containers/byte-window.ts";
import type { NoteBook } from "../note-book.ts";
import { textDecoderOf } from "./text-encoding.ts";

export interface DbfField {
  /** Name in the file, made unique where two columns share one. */
  name: string;
  /** dBASE type letter. */
  type: string;
  /** First byte within a row. */
  offset: number;
  length: number;
}

/** How a table stores what is not text: FoxPro and dBASE 7 differ from the older ones. */
export type DbfFlavour = "dbase" | "foxpro" | "dbase7";

export interface DbfTable {
  source: ByteSource;
  fields: DbfField[];
  /** Whole rows in the file. */
  rowCount: number;
  firstRow: number;
  rowLength: number;
  flavour: DbfFlavour;
  decode: (bytes: Uint8Array) => string;
}

/** Where the descriptions of the columns stand and what is where in one. dBASE 7: from memory. */
const LAYOUTS = {
  older: { first: 32, length: 32, nameLength: 11, type: 11, width: 16 },
  dbase7: { first: 68, length: 48, nameLength: 32, type: 32, width: 33 },
} as const;
const HEADER_LENGTH = 32;
const END_OF_FIELDS = 0x0d;

/**
 * Reads the header. Rows the file was cut before are not counted, with a note; a row length that does not fit
 * the columns is mended where the size of the file shows which of the two is right.
 * @throws {FileUnusableError} when the bytes are no dBASE or FoxPro table.
 */
export function readDbfHeader(
  source: ByteSource,
  cpg: string | null,
  file: string,
  notes: NoteBook,
): DbfTable {
  const start = source.read(0, HEADER_LENGTH).slice();
  const view = new DataView(start.buffer);
  const firstRow = start.length === HEADER_LENGTH ? view.getUint16(8, true) : 0;
  const declaredLength = start.length === HEADER_LENGTH ? view.getUint16(10, true) : 0;
  const version = start[0] ?? 0;
  const flavour = flavourOf(version);
  const layout = LAYOUTS[flavour === "dbase7" ? "dbase7" : "older"];
  if (firstRow < layout.first + 1 || firstRow > source.size || declaredLength < 1) {
    const accepted = "a dBASE or FoxPro table";
    throw new FileUnusableError(
      `${file}: the attribute table (.dbf) is damaged or no dBASE table; accepted is ${accepted}`,
      { file, field: ".dbf", value: `version byte ${version}`, accepted },
    );
  }
  const header = source.read(0, firstRow).slice();
  const decode = textDecoderOf(cpg, start[29]!, notes);
  const described = describedFields(header, layout, decode);
  const rows = view.getUint32(4, true);
  const rowLength = settleRowLength(declaredLength, described, rows, source.size - firstRow, notes);
  const fields = placeFields(described, rowLength, notes);
  if (fields.length === 0 && rowLength > 1) {
    notes.add({ reason: `the attribute table (.dbf) of ${file} describes no columns`, effect: "kept" });
  }
  const rowCount = settleRowCount(rows, rowLength, source.size - firstRow, notes);
  return { source, fields, rowCount, firstRow, rowLength, flavour, decode };
}

function flavourOf(version: number): DbfFlavour {
  if ((version & 7) === 4) return "dbase7";
  return version === 0x30 || version === 0x31 || version === 0x32 ? "foxpro" : "dbase";
}

type Described = Omit<DbfField, "offset">;

function describedFields(
  header: Uint8Array,
  layout: (typeof LAYOUTS)[keyof typeof LAYOUTS],
  decode: (bytes: Uint8Array) => string,
): Described[] {
  const fields: Described[] = [];
  for (let at: number = layout.first; at + layout.length <= header.length; at += layout.length) {
    if (header[at] === END_OF_FIELDS) break;
    const nameBytes = header.subarray(at, at + layout.nameLength);
    const nameEnd = nameBytes.indexOf(0);
    fields.push({
      name: decode(nameBytes.subarray(0, nameEnd < 0 ? layout.nameLength : nameEnd)).trim(),
      type: String.fromCharCode(header[at + layout.type]!),
      length: header[at + layout.width]!,
    });
  }
  return fields;
}

/** Byte lengths of one row by the header and by its columns must agree; the size of the file tells which holds. */
function settleRowLength(
  declared: number,
  fields: readonly Described[],
  rows: number,
  bytes: number,
  notes: NoteBook,
): number {
  const sum = fields.reduce((total, field) => total + field.length, 1);
  if (sum === declared || fields.length === 0) return declared;
  // Behind the last row stands one end mark, which some writers leave out.
  const fitsFile = (length: number) => bytes - rows * length === 0 || bytes - rows * length === 1;
  const settled = fitsFile(sum) && !fitsFile(declared) ? sum : declared;
  notes.add({
    reason: `the header of the attribute table (.dbf) says rows of ${declared} bytes, its columns take ${sum}; ${settled} is used`,
    effect: "assumed",
  });
  return settled;
}

function placeFields(described: readonly Described[], rowLength: number, notes: NoteBook): DbfField[] {
  const fields: DbfField[] = [];
  const taken = new Set<string>();
  let offset = 1;
  for (const field of described) {
    if (offset + field.length > rowLength) {
      notes.add({
        reason: "the columns of the attribute table (.dbf) are longer than its rows; those that fit are used",
        effect: "left out",
        field: field.name,
      });
      break;
    }
    fields.push({ ...field, name: uniqueName(field.name, taken, notes), offset });
    offset += field.length;
  }
  return fields;
}

function settleRowCount(declared: number, rowLength: number, bytes: number, notes: NoteBook): number {
  const whole = Math.floor(bytes / rowLength);
  if (whole < declared) {
    notes.add({
      reason: `the attribute table (.dbf) ends after ${whole} of ${declared} rows; later records have no values`,
      effect: "left out",
      count: declared - whole,
      record: whole + 1,
    });
  } else if (whole > declared && rowLength > 1 && bytes - whole * rowLength <= 1) {
    notes.add({
      reason: `the attribute table (.dbf) declares ${declared} rows and holds ${whole}; all are used`,
      effect: "kept",
      count: whole - declared,
      record: declared + 1,
    });
    return whole;
  }
  return Math.min(declared, whole);
}

/** The name itself, or with a number behind it where an earlier column has it already (noted). */
export function uniqueName(name: string, taken: Set<string>, notes: NoteBook): string {
  let unique = name;
  for (let number = 2; taken.has(unique); number++) unique = `${name}_${number}`;
  taken.add(unique);
  if (unique !== name) {
    notes.add({
      reason: `a second column of the same name is called "${unique}" here`,
      effect: "converted",
      field: name,
    });
  }
  return unique;
}
