/** Header of a dBASE table (.dbf): which columns stand where in a row. */
import { FileUnusableError } from "../errors.ts";
import type { NoteBook } from "./note-book.ts";
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

export interface DbfTable {
  bytes: Uint8Array;
  fields: DbfField[];
  /** Whole rows in the file. */
  rowCount: number;
  firstRow: number;
  rowLength: number;
  /** True for FoxPro tables, where type B is a double and not a memo. */
  foxPro: boolean;
  decode: (bytes: Uint8Array) => string;
}

const HEADER_LENGTH = 32;
const FIELD_LENGTH = 32;
const END_OF_FIELDS = 0x0d;

/**
 * Reads the header. Rows the file was cut before are not counted, with a note.
 * @throws {FileUnusableError} when the bytes are no dBASE III/IV or FoxPro table.
 */
export function readDbfHeader(
  bytes: Uint8Array,
  cpg: string | null,
  file: string,
  notes: NoteBook,
): DbfTable {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const firstRow = bytes.length >= HEADER_LENGTH ? view.getUint16(8, true) : 0;
  const rowLength = bytes.length >= HEADER_LENGTH ? view.getUint16(10, true) : 0;
  const version = bytes[0] ?? 0;
  if (firstRow < HEADER_LENGTH + 1 || firstRow > bytes.length || rowLength < 1 || (version & 7) === 4) {
    const accepted = "a dBASE III, dBASE IV or FoxPro table";
    const what = (version & 7) === 4 ? "is a dBASE 7 table" : "is damaged or no dBASE table";
    throw new FileUnusableError(`${file}: the attribute table (.dbf) ${what}; accepted is ${accepted}`, {
      file,
      field: ".dbf",
      value: `version byte ${version}`,
      accepted,
    });
  }
  const decode = textDecoderOf(cpg, bytes[29]!, notes);
  const declared = view.getUint32(4, true);
  const whole = Math.floor((bytes.length - firstRow) / rowLength);
  if (whole < declared) {
    notes.add({
      reason: `the attribute table (.dbf) ends after ${whole} of ${declared} rows; later records have no values`,
      effect: "left out",
      count: declared - whole,
      record: whole + 1,
    });
  }
  const fields = readFields(bytes, firstRow, rowLength, decode, file, notes);
  return {
    bytes,
    fields,
    rowCount: Math.min(declared, whole),
    firstRow,
    rowLength,
    foxPro: version === 0x30 || version === 0x31 || version === 0x32,
    decode,
  };
}

function readFields(
  bytes: Uint8Array,
  firstRow: number,
  rowLength: number,
  decode: (bytes: Uint8Array) => string,
  file: string,
  notes: NoteBook,
): DbfField[] {
  const fields: DbfField[] = [];
  const taken = new Set<string>();
  let offset = 1;
  for (
    let at = HEADER_LENGTH;
    at + FIELD_LENGTH <= firstRow && bytes[at] !== END_OF_FIELDS;
    at += FIELD_LENGTH
  ) {
    const nameBytes = bytes.subarray(at, at + 11);
    const nameEnd = nameBytes.indexOf(0);
    const inFile = decode(nameBytes.subarray(0, nameEnd < 0 ? 11 : nameEnd)).trim();
    const type = String.fromCharCode(bytes[at + 11]!);
    const length = bytes[at + 16]!;
    if (offset + length > rowLength) {
      notes.add({
        reason: `the columns of the attribute table (.dbf) are longer than its rows; those that fit are used`,
        effect: "left out",
        field: inFile,
      });
      break;
    }
    fields.push({ name: uniqueName(inFile, taken, notes), type, offset, length });
    offset += length;
  }
  if (fields.length === 0 && rowLength > 1) {
    notes.add({ reason: `the attribute table (.dbf) of ${file} describes no columns`, effect: "kept" });
  }
  return fields;
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
