/** Whether two layers, in local metres, are of one field. */
import { FileUnusableError } from "../errors.ts";
import { type Extent, extentOf } from "../ingest/index.ts";
import type { LocalPolygon } from "../vocabulary/field.ts";

/** Extent of polygons; null where there are none. */
export function extentOfPolygons(polygons: readonly LocalPolygon[]): Extent | null {
  return extentOf(new Float64Array(), new Float64Array(), [polygons]);
}

/** Gap between two extents, metres; 0 where they touch or overlap. */
function gapBetween(first: Extent, second: Extent): number {
  const gapX = Math.max(0, first.minX - second.maxX, second.minX - first.maxX);
  const gapY = Math.max(0, first.minY - second.maxY, second.minY - first.maxY);
  return Math.hypot(gapX, gapY);
}

/** Layers of one field lie no farther apart than this (our judgement: no field is as large). */
const FARTHEST_GAP_M = 5000;
/** A layer that reaches no nearer than this to the log has nothing to say about it. */
const BESIDE_M = 100;

/**
 * Checks that a layer belongs to the log's field; a layer without any place passes.
 * @throws {FileUnusableError} naming both files and how far they are apart.
 */
export function requireOverlap(
  log: { file: string; extent: Extent | null },
  other: { file: string; role: string; extent: Extent | null },
): void {
  if (log.extent === null || other.extent === null) return;
  const gap = gapBetween(log.extent, other.extent);
  if (gap <= BESIDE_M) return;
  const far = gap > FARTHEST_GAP_M;
  const distance = gap >= 1000 ? `${(gap / 1000).toFixed(1)} km` : `${Math.round(gap)} m`;
  throw new FileUnusableError(
    `${other.file} (${other.role}) and ${log.file} (plantingLog) ${far ? "are not of one field" : "do not overlap"}: they lie ${distance} apart. Give files of the same field, or name the right coordinate system with "crs"`,
    { file: other.file, field: other.role, value: distance, accepted: `a layer that overlaps ${log.file}` },
  );
}
