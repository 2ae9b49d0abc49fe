/** One reader for each column of a dBASE table, by its type. */
import { ColumnBuilder } from "../column-builder.ts";
import type { RawColumn } from "../layer.ts";
import type { NoteBook } from "../note-book.ts";
import { isBlank, parseDecimal } from "../values/decimal-text.ts";
import type { DbfField, DbfTable } from "./dbf-header.ts";
import type { DbfMemos } from "./dbf-memo.ts";

const ASTERISK = 0x2a;
const COMMA = 0x2c;

/** Some rows of a table; `bytes` holds them one after the other. */
export interface Block {
  bytes: Uint8Array;
  view: DataView;
  /** Number of the first row in the table, 0-based. */
  firstRow: number;
  /** Rows wanted, counted within the block; the first `count` entries. */
  rows: Int32Array;
  count: number;
  /** Record the first wanted row becomes. */
  firstRecord: number;
}

export interface ColumnReader {
  read(block: Block): void;
  finish(recordCount: number): RawColumn;
}

/** The reader of a column, or null (noted) where its type is not read. */
export function columnReaderOf(
  table: DbfTable,
  field: DbfField,
  count: number,
  memos: DbfMemos | null,
  notes: NoteBook,
): ColumnReader | null {
  const { type, length } = field;
  if (type === "N" || type === "F") return decimalReader(table, field, count, notes);
  if (type === "L") return numberReader(table, field, count, ({ bytes }, at) => logicalValue(bytes[at]!));
  if (type === "C" || type === "V") return textReader(table, field, count, notes);
  if (type === "D") return dateReader(table, field, count, notes);
  if (type === "M" && memos) return memoReader(table, field, count, memos, notes);
  const binary = binaryReader(table, field, count, notes);
  if (binary) return binary;
  notes.add({
    reason:
      type === "M"
        ? "long texts stand in a .dbt or .fpt file, which is not beside the .dbf; the column is not read"
        : "columns of this dBASE type are not read; character, number, date and logical columns would be",
    effect: "left out",
    field: field.name,
    value: `type ${type}, ${length} bytes`,
  });
  return null;
}

/**
 * Numbers and moments stored as bytes. FoxPro and the older tables store them little-endian; dBASE 7 so that
 * they sort as bytes: big-endian, the sign bit turned, all bits turned in negative doubles (from memory).
 */
function binaryReader(table: DbfTable, field: DbfField, count: number, notes: NoteBook): ColumnReader | null {
  const { type, length } = field;
  const sorted = table.flavour === "dbase7";
  if ((type === "I" || type === "+") && length === 4) {
    return sorted
      ? numberReader(table, field, count, ({ view }, at) => view.getInt32(at, false) ^ -0x80000000)
      : numberReader(table, field, count, ({ view }, at) => view.getInt32(at, true));
  }
  if ((type === "O" || (type === "B" && table.flavour === "foxpro")) && length === 8) {
    return sorted
      ? numberReader(table, field, count, ({ view }, at) => sortedDouble(view, at))
      : numberReader(table, field, count, ({ view }, at) => view.getFloat64(at, true));
  }
  if (type === "Y" && length === 8) {
    return numberReader(table, field, count, ({ view }, at) => Number(view.getBigInt64(at, true)) / 10_000);
  }
  if ((type === "T" || type === "@") && length === 8)
    return timestampReader(table, field, count, sorted, notes);
  return null;
}

const scratch = new DataView(new ArrayBuffer(8));

function sortedDouble(view: DataView, at: number): number {
  const high = view.getUint32(at, false);
  const low = view.getUint32(at + 4, false);
  if (high === 0 && low === 0) return Number.NaN;
  const positive = high >>> 31 === 1;
  scratch.setUint32(0, positive ? high ^ 0x80000000 : ~high, false);
  scratch.setUint32(4, positive ? low : ~low, false);
  return scratch.getFloat64(0, false);
}

/** Calls `take` with the record and the place of its cell for every wanted row of the block. */
function eachCell(
  block: Block,
  rowLength: number,
  offset: number,
  take: (record: number, at: number, row: number) => void,
): void {
  const { rows, count, firstRecord } = block;
  for (let i = 0; i < count; i++) {
    const row = rows[i]!;
    take(firstRecord + i, row * rowLength + offset, row);
  }
}

function numberReader(
  table: DbfTable,
  field: DbfField,
  count: number,
  cell: (block: Block, at: number) => number,
): ColumnReader {
  const values = new Float64Array(count).fill(Number.NaN);
  return {
    read(block) {
      const { rows, firstRecord } = block;
      for (let i = 0; i < block.count; i++) {
        const value = cell(block, rows[i]! * table.rowLength + field.offset);
        values[firstRecord + i] = value;
      }
    },
    finish: (recordCount) => ({ kind: "number", name: field.name, values: cut(values, recordCount) }),
  };
}

function cut(values: Float64Array, recordCount: number): Float64Array {
  return values.length === recordCount ? values : values.slice(0, recordCount);
}

function decimalReader(table: DbfTable, field: DbfField, count: number, notes: NoteBook): ColumnReader {
  const values = new Float64Array(count).fill(Number.NaN);
  const { length, offset } = field;
  const { rowLength } = table;
  return {
    read(block) {
      const { bytes, rows, firstRecord } = block;
      for (let i = 0; i < block.count; i++) {
        const row = rows[i]!;
        const at = row * rowLength + offset;
        const value = parseDecimal(bytes, at, at + length);
        values[firstRecord + i] =
          Number.isNaN(value) && !isBlank(bytes, at, at + length)
            ? oddNumber(table, field, bytes.slice(at, at + length), block.firstRow + row, notes)
            : value;
      }
    },
    finish: (recordCount) => ({ kind: "number", name: field.name, values: cut(values, recordCount) }),
  };
}

/** A number cell that is neither blank nor a number: asterisks, a decimal comma, or something else. */
function oddNumber(table: DbfTable, field: DbfField, cell: Uint8Array, row: number, notes: NoteBook): number {
  const value = table.decode(cell.slice()).trim();
  if (cell.includes(ASTERISK)) {
    const reason = "the cell is filled with asterisks (no number, or one too long for the column)";
    notes.add({ reason, effect: "left out", field: field.name, record: row + 1, value });
    return Number.NaN;
  }
  const comma = cell.indexOf(COMMA);
  if (comma >= 0 && comma === cell.lastIndexOf(COMMA)) {
    cell[comma] = 0x2e;
    const number = parseDecimal(cell, 0, cell.length);
    if (!Number.isNaN(number)) {
      const reason = "the comma in the number is read as a decimal point";
      notes.add({ reason, effect: "converted", field: field.name, record: row + 1, value });
      return number;
    }
  }
  const reason = "the cell is not a number; a decimal number or a blank would be accepted";
  notes.add({ reason, effect: "left out", field: field.name, record: row + 1, value });
  return Number.NaN;
}

function logicalValue(byte: number): number {
  const letter = String.fromCharCode(byte);
  if ("TtYy".includes(letter)) return 1;
  return "FfNn".includes(letter) ? 0 : Number.NaN;
}

function textReader(table: DbfTable, field: DbfField, count: number, notes: NoteBook): ColumnReader {
  const column = new ColumnBuilder(field.name, count, table.decode);
  return {
    read(block) {
      const { bytes } = block;
      eachCell(block, table.rowLength, field.offset, (record, at) => {
        let from = at;
        let to = at + field.length;
        while (to > from && bytes[to - 1]! <= 0x20) to--;
        while (from < to && bytes[from]! <= 0x20) from++;
        if (from < to) column.setCode(record, column.dictionary.codeOfBytes(bytes, from, to));
      });
    },
    finish: (recordCount) => column.finish(recordCount, notes),
  };
}

/** A memo cell is the number of a block, as ten digits or (FoxPro) four bytes. */
function memoReader(
  table: DbfTable,
  field: DbfField,
  count: number,
  memos: DbfMemos,
  notes: NoteBook,
): ColumnReader {
  const column = new ColumnBuilder(field.name, count);
  return {
    read(block) {
      eachCell(block, table.rowLength, field.offset, (record, at, row) => {
        const { bytes, view } = block;
        const binary = field.length === 4;
        if (!binary && isBlank(bytes, at, at + field.length)) return;
        const number = binary ? view.getUint32(at, true) : parseDecimal(bytes, at, at + field.length);
        if (number === 0) return;
        const text = memos(number);
        if (text) {
          const value = table.decode(text.slice()).trim();
          if (value !== "") column.setText(record, value);
        } else {
          notes.add({
            reason: "the long text is not where the table says it is",
            effect: "left out",
            field: field.name,
            record: block.firstRow + row + 1,
            value: String(number),
          });
        }
      });
    },
    finish: (recordCount) => column.finish(recordCount, notes),
  };
}

/** Dates stay text, written the ISO 8601 way. */
function dateReader(table: DbfTable, field: DbfField, count: number, notes: NoteBook): ColumnReader {
  const column = new ColumnBuilder(field.name, count);
  return {
    read(block) {
      const { bytes } = block;
      eachCell(block, table.rowLength, field.offset, (record, at, row) => {
        if (isBlank(bytes, at, at + field.length)) return;
        const text = table.decode(bytes.slice(at, at + field.length)).trim();
        const date = isoDate(text);
        if (date) column.setText(record, date);
        else if (!/^0*$/.test(text)) {
          const reason =
            "the cell is not a date; eight digits (year, month, day) or a blank would be accepted";
          const number = block.firstRow + row + 1;
          notes.add({ reason, effect: "left out", field: field.name, record: number, value: text });
        }
      });
    },
    finish: (recordCount) => column.finish(recordCount, notes),
  };
}

/** Eight digits, or ten characters with hyphens or slashes between them. */
function isoDate(text: string): string | null {
  const match = /^(\d{4})([-/]?)(\d{2})\2(\d{2})$/.exec(text);
  if (!match) return null;
  const iso = `${match[1]}-${match[3]}-${match[4]}`;
  const time = Date.parse(`${iso}T00:00:00Z`);
  return !Number.isNaN(time) && new Date(time).toISOString().startsWith(iso) ? iso : null;
}

/** Julian day number of 1970-01-01 (noon). */
const JULIAN_DAY_OF_EPOCH = 2_440_588;
const MILLISECONDS_PER_DAY = 86_400_000;
const LATEST_JULIAN_DAY = 5_373_484;

function timestampReader(
  table: DbfTable,
  field: DbfField,
  count: number,
  sorted: boolean,
  notes: NoteBook,
): ColumnReader {
  const column = new ColumnBuilder(field.name, count);
  return {
    read(block) {
      eachCell(block, table.rowLength, field.offset, (record, at, row) => {
        const { view } = block;
        // dBASE 7 turns the sign bit of both halves.
        const day = sorted ? view.getInt32(at, false) & 0x7fffffff : view.getInt32(at, true);
        const milliseconds = sorted ? view.getInt32(at + 4, false) & 0x7fffffff : view.getInt32(at + 4, true);
        if (day === 0 || isBlank(block.bytes, at, at + 8)) return;
        if (day < 1 || day > LATEST_JULIAN_DAY || milliseconds < 0 || milliseconds >= MILLISECONDS_PER_DAY) {
          const reason = "the cell is not a date and time";
          const value = `${day} ${milliseconds}`;
          const number = block.firstRow + row + 1;
          notes.add({ reason, effect: "left out", field: field.name, record: number, value });
          return;
        }
        const time = (day - JULIAN_DAY_OF_EPOCH) * MILLISECONDS_PER_DAY + milliseconds;
        column.setText(record, new Date(time).toISOString());
      });
    },
    finish: (recordCount) => column.finish(recordCount, notes),
  };
}
