/** Columns of a dBASE table (.dbf) as typed arrays, read column by column over blocks of rows. */

import { ColumnBuilder } from "./column-builder.ts";
import type { DbfField, DbfTable } from "./dbf-header.ts";
import { isBlank, parseDecimal } from "./decimal-text.ts";
import type { RawColumn } from "./layer.ts";
import type { NoteBook } from "./note-book.ts";

/** Rows are walked in blocks of about this many bytes, so that a block stays in the processor's cache. */
const BLOCK_BYTES = 4 << 20;
const DELETED = 0x2a;
const ASTERISK = 0x2a;
const COMMA = 0x2c;

/** Indices of the rows that are marked as deleted, ascending. */
export function deletedRows(table: DbfTable): number[] {
  const deleted: number[] = [];
  for (let row = 0, at = table.firstRow; row < table.rowCount; row++, at += table.rowLength) {
    if (table.bytes[at] === DELETED) deleted.push(row);
  }
  return deleted;
}

/**
 * Every column of the table.
 * @param rows row index of each record wanted, ascending; a row at or beyond the table's end gives missing values
 */
export function readDbfColumns(table: DbfTable, rows: Int32Array, notes: NoteBook): RawColumn[] {
  const readers = table.fields.flatMap((field) => readerOf(table, field, rows.length, notes) ?? []);
  const rowsInBlock = Math.max(1, Math.floor(BLOCK_BYTES / table.rowLength));
  for (let begin = 0; begin < rows.length; begin += rowsInBlock) {
    const end = Math.min(rows.length, begin + rowsInBlock);
    for (const reader of readers) reader.read(rows, begin, end);
  }
  return readers.map((reader) => reader.finish());
}

interface ColumnReader {
  /** Reads records [begin, end). */
  read(rows: Int32Array, begin: number, end: number): void;
  finish(): RawColumn;
}

function readerOf(table: DbfTable, field: DbfField, count: number, notes: NoteBook): ColumnReader | null {
  switch (field.type) {
    case "N":
    case "F":
      return numberReader(table, field, count, decimalCell(table, field, notes));
    case "L":
      return numberReader(table, field, count, (at) => logicalValue(table.bytes[at]!));
    case "C":
    case "V":
      return textReader(table, field, count, notes);
    case "D":
      return dateReader(table, field, count, notes);
  }
  const view = new DataView(table.bytes.buffer, table.bytes.byteOffset, table.bytes.byteLength);
  if ((field.type === "I" || field.type === "+") && field.length === 4) {
    return numberReader(table, field, count, (at) => view.getInt32(at, true));
  }
  if ((field.type === "O" || (field.type === "B" && table.foxPro)) && field.length === 8) {
    return numberReader(table, field, count, (at) => view.getFloat64(at, true));
  }
  if (field.type === "Y" && field.length === 8) {
    return numberReader(table, field, count, (at) => Number(view.getBigInt64(at, true)) / 10_000);
  }
  if ((field.type === "T" || field.type === "@") && field.length === 8) {
    return timestampReader(table, field, count, view, notes);
  }
  notes.add({
    reason: "columns of this dBASE type are not read; character, number, date and logical columns would be",
    effect: "left out",
    field: field.name,
    value: `type ${field.type}, ${field.length} bytes`,
  });
  return null;
}

function numberReader(
  table: DbfTable,
  field: DbfField,
  count: number,
  cell: (at: number, row: number) => number,
): ColumnReader {
  const values = new Float64Array(count).fill(Number.NaN);
  const first = table.firstRow + field.offset;
  return {
    read(rows, begin, end) {
      for (let record = begin; record < end; record++) {
        const row = rows[record]!;
        if (row < table.rowCount) values[record] = cell(first + row * table.rowLength, row);
      }
    },
    finish: () => ({ kind: "number", name: field.name, values }),
  };
}

function decimalCell(table: DbfTable, field: DbfField, notes: NoteBook): (at: number, row: number) => number {
  const { bytes } = table;
  const { length } = field;
  return (at, row) => {
    const value = parseDecimal(bytes, at, at + length);
    return Number.isNaN(value) && !isBlank(bytes, at, at + length)
      ? oddNumber(table, field, at, row, notes)
      : value;
  };
}

/** A number cell that is neither blank nor a number: asterisks, a decimal comma, or something else. */
function oddNumber(table: DbfTable, field: DbfField, at: number, row: number, notes: NoteBook): number {
  const cell = table.bytes.slice(at, at + field.length);
  const value = table.decode(cell).trim();
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
  const { bytes } = table;
  const column = new ColumnBuilder(field.name, count, table.decode);
  const first = table.firstRow + field.offset;
  return {
    read(rows, begin, end) {
      for (let record = begin; record < end; record++) {
        const row = rows[record]!;
        if (row >= table.rowCount) continue;
        let from = first + row * table.rowLength;
        let to = from + field.length;
        while (to > from && bytes[to - 1]! <= 0x20) to--;
        while (from < to && bytes[from]! <= 0x20) from++;
        if (from < to) column.setCode(record, column.dictionary.codeOfBytes(bytes, from, to));
      }
    },
    finish: () => column.finish(count, notes),
  };
}

/** Dates stay text, written the ISO 8601 way. */
function dateReader(table: DbfTable, field: DbfField, count: number, notes: NoteBook): ColumnReader {
  const column = new ColumnBuilder(field.name, count);
  const first = table.firstRow + field.offset;
  return {
    read(rows, begin, end) {
      for (let record = begin; record < end; record++) {
        const row = rows[record]!;
        if (row >= table.rowCount) continue;
        const at = first + row * table.rowLength;
        if (isBlank(table.bytes, at, at + field.length)) continue;
        const text = table.decode(table.bytes.subarray(at, at + field.length)).trim();
        const date = isoDate(text);
        if (date) column.setText(record, date);
        else if (!/^0*$/.test(text)) {
          const reason =
            "the cell is not a date; eight digits (year, month, day) or a blank would be accepted";
          notes.add({ reason, effect: "left out", field: field.name, record: row + 1, value: text });
        }
      }
    },
    finish: () => column.finish(count, notes),
  };
}

function isoDate(text: string): string | null {
  const match = /^(\d{4})(\d{2})(\d{2})$/.exec(text);
  if (!match) return null;
  const iso = `${match[1]}-${match[2]}-${match[3]}`;
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
  view: DataView,
  notes: NoteBook,
): ColumnReader {
  const column = new ColumnBuilder(field.name, count);
  const first = table.firstRow + field.offset;
  return {
    read(rows, begin, end) {
      for (let record = begin; record < end; record++) {
        const row = rows[record]!;
        if (row >= table.rowCount) continue;
        const at = first + row * table.rowLength;
        const day = view.getInt32(at, true);
        const milliseconds = view.getInt32(at + 4, true);
        if (day === 0 || isBlank(table.bytes, at, at + 8)) continue;
        if (day < 1 || day > LATEST_JULIAN_DAY || milliseconds < 0 || milliseconds >= MILLISECONDS_PER_DAY) {
          const reason = "the cell is not a date and time";
          notes.add({
            reason,
            effect: "left out",
            field: field.name,
            record: row + 1,
            value: `${day} ${milliseconds}`,
          });
          continue;
        }
        const time = (day - JULIAN_DAY_OF_EPOCH) * MILLISECONDS_PER_DAY + milliseconds;
        column.setText(record, new Date(time).toISOString());
      }
    },
    finish: () => column.finish(count, notes),
  };
}
