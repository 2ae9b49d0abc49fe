/** Where a layer lies, in local metres, and how far two layers are apart. */
import { FileUnusableError } from "../errors.ts";
import type { LocalPolygon } from "./field.ts";

/** Smallest upright rectangle round some places; minimum above maximum where there are none. */
export interface Extent {
  minimumX: number;
  minimumY: number;
  maximumX: number;
  maximumY: number;
}

export function emptyExtent(): Extent {
  return {
    minimumX: Number.POSITIVE_INFINITY,
    minimumY: Number.POSITIVE_INFINITY,
    maximumX: Number.NEGATIVE_INFINITY,
    maximumY: Number.NEGATIVE_INFINITY,
  };
}

function widen(extent: Extent, x: number, y: number): void {
  if (x < extent.minimumX) extent.minimumX = x;
  if (x > extent.maximumX) extent.maximumX = x;
  if (y < extent.minimumY) extent.minimumY = y;
  if (y > extent.maximumY) extent.maximumY = y;
}

export function extentOfPoints(x: Float64Array, y: Float64Array): Extent {
  const extent = emptyExtent();
  for (let index = 0; index < x.length; index++) widen(extent, x[index]!, y[index]!);
  return extent;
}

export function extentOfPolygons(polygons: readonly LocalPolygon[]): Extent {
  const extent = emptyExtent();
  for (const polygon of polygons) for (const [x, y] of polygon[0] ?? []) widen(extent, x, y);
  return extent;
}

/** Gap between two extents, metres; 0 where they touch or overlap. */
export function gapBetween(first: Extent, second: Extent): number {
  const gapX = Math.max(0, first.minimumX - second.maximumX, second.minimumX - first.maximumX);
  const gapY = Math.max(0, first.minimumY - second.maximumY, second.minimumY - first.maximumY);
  return Math.hypot(gapX, gapY);
}

/** Layers of one field lie no farther apart than this (our judgement: no field is as large). */
const FARTHEST_GAP_M = 5000;
/** A layer that reaches no nearer than this to the log has nothing to say about it. */
const BESIDE_M = 100;

/**
 * Checks that a layer belongs to the log's field.
 * @throws {FileUnusableError} naming both files and how far they are apart.
 */
export function requireOverlap(
  log: { file: string; extent: Extent },
  other: { file: string; role: string; extent: Extent },
): void {
  const gap = gapBetween(log.extent, other.extent);
  if (gap <= BESIDE_M) return;
  const far = gap > FARTHEST_GAP_M;
  const distance = gap >= 1000 ? `${(gap / 1000).toFixed(1)} km` : `${Math.round(gap)} m`;
  throw new FileUnusableError(
    `${other.file} (${other.role}) and ${log.file} (plantingLog) ${far ? "are not of one field" : "do not overlap"}: they lie ${distance} apart. Give files of the same field, or name the right coordinate system with "crs"`,
    { file: other.file, field: other.role, value: distance, accepted: `a layer that overlaps ${log.file}` },
  );
}
