/** A shapefile (its .shp with the .shx, .dbf, .prj and .cpg beside it) to a layer. */
import { crsFromExtent, crsFromManifest, crsFromPrj } from "./crs-recognition.ts";
import { deletedRows, readDbfColumns } from "./dbf.ts";
import { type DbfTable, readDbfHeader } from "./dbf-header.ts";
import type { RawLayer } from "./layer.ts";
import { NoteBook } from "./note-book.ts";
import type { ReadOptions } from "./read-options.ts";
import { emptyLayer } from "./refusals.ts";
import { settleGeometry } from "./settle.ts";
import { readShapes, readShapesWithLibrary } from "./shp.ts";
import { findShpRecords } from "./shp-records.ts";

/** Bytes of the parts of one shapefile; null where a part is missing. */
export interface ShapefileParts {
  shp: Uint8Array;
  shx: Uint8Array | null;
  dbf: Uint8Array | null;
  prj: Uint8Array | null;
  cpg: Uint8Array | null;
}

/**
 * Reads a shapefile of points or polygons (Z and M values are passed over). Records marked as deleted are
 * left out. The attribute table is always read by our own reader: the library returns deleted rows as
 * live ones, turns blank dates into dates of 1899 and fails on some column types.
 * @throws {FileUnusableError} when a part is no such file, or nothing in it is usable.
 */
export async function readShapefile(
  parts: ShapefileParts,
  file: string,
  options: ReadOptions,
): Promise<RawLayer> {
  const notes = new NoteBook();
  const records = findShpRecords(parts.shp, parts.shx, file, notes);
  const table = parts.dbf === null ? null : readDbfHeader(parts.dbf, textOf(parts.cpg), file, notes);
  if (parts.dbf === null) {
    notes.add({
      reason: "no .dbf file stands beside the .shp, so the records have no values",
      effect: "kept",
    });
  }
  if (records.count === 0) throw emptyLayer(file, options.role);
  const store =
    options.reader === "library" && records.sound
      ? await readShapesWithLibrary(parts.shp, records)
      : readShapes(records, notes);
  const rows = keptRows(table, records.count, notes);
  if (rows.length === 0) throw emptyLayer(file, options.role);
  const fileRecord = rows.length === records.count ? null : rows.map((row) => row + 1);
  if (fileRecord) store.finish(rows.length, rows);
  const columns = table === null ? [] : readDbfColumns(table, rows, notes);
  const settled = settleGeometry(store, {
    file,
    role: options.role,
    expect: options.expect,
    notes,
    fileRecord,
    noteWinding: false,
    crsOf: (extent) => {
      if (options.crs !== undefined) return crsFromManifest(options.crs, file);
      const prj = textOf(parts.prj)?.trim();
      return prj ? crsFromPrj(prj, file, notes) : crsFromExtent(extent, file, notes);
    },
  });
  return {
    file,
    recordCount: rows.length,
    ...settled,
    columns,
    ...(fileRecord ? { fileRecord } : {}),
    notes: notes.notes(),
  };
}

/** Shape numbers that are live: all but those whose row is marked as deleted. */
function keptRows(table: DbfTable | null, shapeCount: number, notes: NoteBook): Int32Array {
  const all = Int32Array.from({ length: shapeCount }, (_, row) => row);
  if (table === null) return all;
  if (table.rowCount !== shapeCount) {
    notes.add({
      reason: `the shapes (.shp) hold ${shapeCount} records, the attribute table (.dbf) ${table.rowCount}; records are matched from the first on, shapes without a row have no values and rows without a shape are not used`,
      effect: table.rowCount > shapeCount ? "left out" : "kept",
      record: Math.min(table.rowCount, shapeCount) + 1,
      count: Math.abs(table.rowCount - shapeCount),
    });
  }
  const deleted = deletedRows(table).filter((row) => row < shapeCount);
  if (deleted.length === 0) return all;
  notes.add({
    reason: "marked as deleted in the attribute table (.dbf)",
    effect: "left out",
    count: deleted.length,
    record: deleted[0]! + 1,
  });
  const gone = new Set(deleted);
  return all.filter((row) => !gone.has(row));
}

function textOf(bytes: Uint8Array | null): string | null {
  return bytes === null ? null : new TextDecoder().decode(bytes);
}
