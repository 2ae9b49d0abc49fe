/** Small planar geometry of places, in local metres. */
import type { LocalPolygon } from "../field/field.ts";
import { ringContains } from "../numerics/coverage-grid.ts";

/** True when the point lies in one of the polygons (holes respected, even-odd rule). */
export function containsPoint(polygons: readonly LocalPolygon[], x: number, y: number): boolean {
  return polygons.some((rings) =>
    rings.reduce((inside, ring) => (ringContains(ring, x, y) ? !inside : inside), false),
  );
}
