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

/** From this many positions on, those beyond the outermost hundredth of either side do not count (our judgement). */
const FEWEST_TYPICAL = 50;
const OUTERMOST = 0.01;
/** The middle is told by this many positions at most, spread over the file. */
const MOST_SAMPLED = 10_000;

/** The extent of all but the outermost positions, or null where they are few. */
export function typicalExtent(x: Float64Array, y: Float64Array): Extent | null {
  const step = Math.max(1, Math.floor(x.length / MOST_SAMPLED));
  const sampled = (values: Float64Array): Float64Array => {
    const sample: number[] = [];
    for (let index = 0; index < values.length; index += step)
      if (Number.isFinite(values[index]!)) sample.push(values[index]!);
    return Float64Array.from(sample).sort();
  };
  const [xs, ys] = [sampled(x), sampled(y)];
  if (xs.length < FEWEST_TYPICAL || ys.length < FEWEST_TYPICAL) return null;
  const outer = (sorted: Float64Array) => Math.ceil(sorted.length * OUTERMOST);
  return {
    minX: xs[outer(xs)]!,
    maxX: xs[xs.length - 1 - outer(xs)]!,
    minY: ys[outer(ys)]!,
    maxY: ys[ys.length - 1 - outer(ys)]!,
  };
}

function include(extent: Extent, x: number, y: number): void {
  if (!Number.isFinite(x) || !Number.isFinite(y)) return;
  if (x < extent.minX) extent.minX = x;
  if (x > extent.maxX) extent.maxX = x;
  if (y < extent.minY) extent.minY = y;
  if (y > extent.maxY) extent.maxY = y;
}
