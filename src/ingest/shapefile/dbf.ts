/** Columns of a dBASE table (.dbf) as typed arrays, read column by column over blocks of rows. */
import { WINDOW_BYTES } from "../containers/byte-window.ts";
import type { RawColumn } from "../layer.ts";
import { mostColumns, noteTooManyColumns } from "../most-columns.ts";
import type { NoteBook } from "../note-book.ts";
import { type Block, type ColumnReader, columnReaderOf } from "./dbf-columns.ts";
import type { DbfTable } from "./dbf-header.ts";
import type { DbfMemos } from "./dbf-memo.ts";

const DELETED = 0x2a;

export interface DbfRecords {
  columns: RawColumn[];
  /** Row of each record, ascending; null where no row is marked as deleted, so that record i is row i. */
  rows: Int32Array | null;
  /** Row of the first deleted record, and how many there are. */
  firstDeleted: number;
  deletedCount: number;
}

/**
 * Every column of the first `count` rows that are not marked as deleted, in one walk over the file. A row at
 * or beyond the table's end gives missing values.
 */
export function readDbfRecords(
  table: DbfTable,
  count: number,
  memos: DbfMemos | null,
  notes: NoteBook,
): DbfRecords {
  const { source, firstRow, rowLength } = table;
  const most = mostColumns(count);
  const beyond = table.fields.slice(most);
  if (beyond.length > 0) noteTooManyColumns(notes, beyond[0]!.name, beyond.length);
  const fields = table.fields.slice(0, most);
  const readers = fields.flatMap((field) => columnReaderOf(table, field, count, memos, notes) ?? []);
  const rowsInBlock = Math.max(1, Math.floor(WINDOW_BYTES / rowLength));
  const present = Math.min(count, table.rowCount);
  const live = new Int32Array(Math.min(rowsInBlock, present));
  let rows: Int32Array | null = null;
  let records = 0;
  let firstDeleted = -1;
  for (let first = 0; first < present; first += rowsInBlock) {
    const inBlock = Math.min(rowsInBlock, present - first);
    const bytes = source.read(firstRow + first * rowLength, inBlock * rowLength);
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    let lives = 0;
    for (let row = 0; row < inBlock; row++) {
      if (bytes[row * rowLength] !== DELETED) live[lives++] = row;
      else if (firstDeleted < 0) {
        firstDeleted = first + row;
        rows = Int32Array.from({ length: count }, (_, index) => index);
      }
    }
    if (rows) for (let i = 0; i < lives; i++) rows[records + i] = first + live[i]!;
    const block: Block = { bytes, view, firstRow: first, rows: live, count: lives, firstRecord: records };
    for (const reader of readers) reader.read(block);
    records += lives;
  }
  // Shapes beyond the table's end are records without values.
  for (let row = present; row < count; row++) {
    if (rows) rows[records] = row;
    records++;
  }
  return {
    columns: readers.map((reader: ColumnReader) => reader.finish(records)),
    rows: rows?.slice(0, records) ?? null,
    firstDeleted,
    deletedCount: count - records,
  };
}
