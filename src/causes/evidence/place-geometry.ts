/** Small planar geometry of places, in local metres. */
import { booleanPointInPolygon } from "@turf/boolean-point-in-polygon";
import { polygon } from "@turf/helpers";
import { distanceToSegment } from "../../numerics/coverage-grid.ts";
import type { LocalPolygon } from "../../vocabulary/field.ts";

/** Distance from the point to the nearest edge of the polygons, m; 0 inside. */
export function distanceToPolygons(polygons: readonly LocalPolygon[], x: number, y: number): number {
  if (containsPoint(polygons, x, y)) return 0;
  let best = Number.POSITIVE_INFINITY;
  for (const ring of polygons.flat()) {
    for (let i = 1; i < ring.length; i++)
      best = Math.min(best, distanceToSegment([x, y], ring[i - 1]!, ring[i]!));
  }
  return best;
}

/** True when the point lies in one of the polygons, their edges included. */
export function containsPoint(polygons: readonly LocalPolygon[], x: number, y: number): boolean {
  return polygons.some((rings) => booleanPointInPolygon([x, y], polygon(rings)));
}
