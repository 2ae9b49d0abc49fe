/** Bounding box of the finite coordinates of a layer, in the layer's own coordinates. */
import type { PolygonRings } from "./layer.ts";

export interface Extent {
  minX: number;
  minY: number;
  maxX: number;
  maxY: number;
}

/** The extent, or null where no coordinate is finite. */
export function extentOf(
  x: Float64Array,
  y: Float64Array,
  polygons: readonly (readonly PolygonRings[])[] | null = null,
): Extent | null {
  const extent: Extent = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };
  for (let i = 0; i < x.length; i++) include(extent, x[i]!, y[i]!);
  for (const record of polygons ?? []) {
    for (const rings of record)
      for (const ring of rings) for (const [px, py] of ring) include(extent, px, py);
  }
  return extent.minX <= extent.maxX ? extent : null;
}

function include(extent: Extent, x: number, y: number): void {
  if (!Number.isFinite(x) || !Number.isFinite(y)) return;
  if (x < extent.minX) extent.minX = x;
  if (x > extent.maxX) extent.maxX = x;
  if (y < extent.minY) extent.minY = y;
  if (y > extent.maxY) extent.maxY = y;
}
