/** A shapefile (its .shp with the files beside it) to a layer. */
import { type ByteSource, wholeOf } from "../containers/byte-window.ts";
import { crsFromExtent, crsFromManifest, crsFromPrj } from "../crs/crs-recognition.ts";
import type { LayerGeometry, RawLayer } from "../layer.ts";
import { NoteBook } from "../note-book.ts";
import type { ReadOptions } from "../read-options.ts";
import { emptyLayer } from "../refusals.ts";
import { settleGeometry } from "../settle.ts";
import { type DbfRecords, readDbfRecords } from "./dbf.ts";
import { type DbfTable, readDbfHeader } from "./dbf-header.ts";
import { openMemos } from "./dbf-memo.ts";
import { readShapes } from "./shp.ts";
import { openShpFile } from "./shp-records.ts";

/** The parts of one shapefile; null where a part is missing. */
export interface ShapefileParts {
  shp: ByteSource;
  shx: ByteSource | null;
  dbf: ByteSource | null;
  /** Long texts of the table: .dbt, or .fpt of a FoxPro table. */
  memo: ByteSource | null;
  prj: ByteSource | null;
  cpg: ByteSource | null;
}

/** Geometry by the last digit of the shape type, whatever Z and M stand beside it. */
const DECLARED: Readonly<Record<number, LayerGeometry>> = {
  1: "point",
  3: "line",
  5: "polygon",
  8: "multipoint",
};

/** A .prj or .cpg is a line of text; more than this is read of none. */
const LONGEST_TEXT_BYTES = 1 << 16;

/**
 * Reads a shapefile (Z and M values are passed over). Records marked as deleted are left out. The attribute
 * table is always read by our own reader: the library returns deleted rows as live ones, turns blank dates
 * into dates of 1899 and fails on some column types.
 * @throws {FileUnusableError} when a part is no such file, or nothing in it is usable.
 */
export async function readShapefile(
  parts: ShapefileParts,
  file: string,
  options: ReadOptions,
): Promise<RawLayer> {
  const notes = new NoteBook();
  const shp = openShpFile(parts.shp, file);
  const table = parts.dbf === null ? null : readDbfHeader(parts.dbf, textOf(parts.cpg), file, notes);
  const shx = parts.shx === null ? null : wholeOf(parts.shx);
  const { store, count } = await readShapes(shp, shx, notes, options.reader);
  if (table === null) {
    notes.add({
      reason: "no .dbf file stands beside the .shp, so the records have their coordinates and no values",
      effect: "kept",
    });
  }
  const mayBeEmpty = options.expect === "anything";
  if (count === 0 && !mayBeEmpty) throw emptyLayer(file, options.role);
  const records = table === null ? null : readTable(table, parts, count, notes);
  const rows = records?.rows ?? null;
  const recordCount = rows?.length ?? count;
  if (recordCount === 0 && !mayBeEmpty) throw emptyLayer(file, options.role);
  const fileRecord = rows === null ? null : rows.map((row) => row + 1);
  if (rows) store.finish(recordCount, rows);
  const settled = settleGeometry(store, {
    file,
    role: options.role,
    expect: options.expect,
    notes,
    fileRecord,
    noteWinding: false,
    declared: DECLARED[shp.shapeType === 31 ? 5 : shp.shapeType % 10] ?? "none",
    crsOf: (extent) => {
      if (options.crs !== undefined) return crsFromManifest(options.crs, file);
      const prj = textOf(parts.prj)?.trim();
      return prj ? crsFromPrj(prj, file, notes) : crsFromExtent(extent, file, notes, options.near);
    },
  });
  const recordsInFile = Math.max(count, table?.rowCount ?? 0);
  return {
    file,
    recordCount,
    ...settled,
    columns: records?.columns ?? [],
    ...(fileRecord ? { fileRecord } : {}),
    ...(recordsInFile === recordCount ? {} : { recordsInFile }),
    notes: notes.notes(),
  };
}

function readTable(table: DbfTable, parts: ShapefileParts, count: number, notes: NoteBook): DbfRecords {
  if (table.rowCount !== count) {
    notes.add({
      reason: `the shapes (.shp) hold ${count} records, the attribute table (.dbf) ${table.rowCount}; records are matched from the first on, shapes without a row have no values and rows without a shape are not used`,
      effect: table.rowCount > count ? "left out" : "kept",
      record: Math.min(table.rowCount, count) + 1,
      count: Math.abs(table.rowCount - count),
    });
  }
  const memos = parts.memo === null ? null : openMemos(parts.memo, table.flavour === "foxpro");
  const records = readDbfRecords(table, count, memos, notes);
  if (records.deletedCount > 0) {
    notes.add({
      reason: "marked as deleted in the attribute table (.dbf)",
      effect: "left out",
      count: records.deletedCount,
      record: records.firstDeleted + 1,
    });
  }
  return records;
}

function textOf(source: ByteSource | null): string | null {
  return source === null
    ? null
    : new TextDecoder().decode(source.read(0, Math.min(source.size, LONGEST_TEXT_BYTES)));
}
