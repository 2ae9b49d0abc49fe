/** Small planar geometry of places, in local metres. */
import type { LocalPolygon } from "../field/field.ts";

/** True when the point lies in one of the polygons (holes respected, even-odd rule). */
export function containsPoint(polygons: readonly LocalPolygon[], x: number, y: number): boolean {
  return polygons.some((rings) =>
    rings.reduce((inside, ring) => (ringContains(ring, x, y) ? !inside : inside), false),
  );
}

function ringContains(ring: readonly [number, number][], x: number, y: number): boolean {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [xi, yi] = ring[i]!;
    const [xj, yj] = ring[j]!;
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
}

/** Area of the polygons, m2. */
export function polygonsArea(polygons: readonly LocalPolygon[]): number {
  let sum = 0;
  for (const rings of polygons) {
    rings.forEach((ring, k) => {
      const area = Math.abs(ringArea(ring));
      sum += k === 0 ? area : -area;
    });
  }
  return sum;
}

/** Signed area of a closed ring, m2; positive when counter-clockwise. */
export function ringArea(ring: readonly [number, number][]): number {
  let twice = 0;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    twice += ring[j]![0] * ring[i]![1] - ring[i]![0] * ring[j]![1];
  }
  return twice / 2;
}
