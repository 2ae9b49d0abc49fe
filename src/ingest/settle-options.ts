/** How the geometry of a layer is settled once its records are read. */
import type { Extent } from "./extent.ts";
import type { CoordinateSystem, LayerGeometry } from "./layer.ts";
import type { NoteBook } from "./note-book.ts";
import type { RepairOptions } from "./polygon-repair.ts";
import type { ExpectedGeometry } from "./read-options.ts";

export interface SettleOptions {
  file: string;
  role: string;
  expect: ExpectedGeometry;
  notes: NoteBook;
  /** Number of each record in the file, 1-based; null where record i is number i + 1. */
  fileRecord: Int32Array | null;
  noteWinding: RepairOptions["noteWinding"];
  /** What the file says its geometry is, for a layer without any. */
  declared?: LayerGeometry;
  /** Decides the coordinate system once it is known where nearly all records lie; a few wild ones do not count. */
  crsOf(extent: Extent): CoordinateSystem;
}
