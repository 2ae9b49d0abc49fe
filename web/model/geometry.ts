/** Small geometry of findings on the map, in degrees; exact enough for drawing and choosing, not for areas. */
import type { DocumentGeometry } from "../../src/findings/findings-document.ts";
import { labelPlace } from "../../src/numerics/label-point.ts";

type Ring = number[][];

/** True when a place lies in the polygons (even-odd rule over all rings). */
export function isInside(geometry: DocumentGeometry, longitude: number, latitude: number): boolean {
  return geometry.coordinates.some((rings) => {
    let inside = false;
    for (const ring of rings) if (crossesOdd(ring, longitude, latitude)) inside = !inside;
    return inside;
  });
}

/** West, south, east, north; null for an empty geometry. */
export function boundsOf(geometry: DocumentGeometry): [number, number, number, number] | null {
  let bounds: [number, number, number, number] | null = null;
  for (const rings of geometry.coordinates) {
    for (const [longitude, latitude] of rings[0] ?? []) {
      if (longitude === undefined || latitude === undefined) continue;
      bounds = bounds
        ? [
            Math.min(bounds[0], longitude),
            Math.min(bounds[1], latitude),
            Math.max(bounds[2], longitude),
            Math.max(bounds[3], latitude),
          ]
        : [longitude, latitude, longitude, latitude];
    }
  }
  return bounds;
}

/** A place inside the largest polygon to write its number on: the middle of the widest level cut near its middle. */
export function labelPoint(geometry: DocumentGeometry): [number, number] | null {
  const largest = [...geometry.coordinates].sort(
    (a, b) => Math.abs(signedArea(b[0] ?? [])) - Math.abs(signedArea(a[0] ?? [])),
  )[0];
  const ring = largest?.[0];
  const bounds = ring && boundsOf({ type: "MultiPolygon", coordinates: [[ring]] });
  if (!largest || !bounds) return null;
  return labelPlace(largest)?.place ?? [(bounds[0] + bounds[2]) / 2, (bounds[1] + bounds[3]) / 2];
}

function crossesOdd(ring: Ring, x: number, y: number): boolean {
  let odd = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [xi, yi] = ring[i] as [number, number];
    const [xj, yj] = ring[j] as [number, number];
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) odd = !odd;
  }
  return odd;
}

function signedArea(ring: Ring): number {
  let sum = 0;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    sum += ring[j]![0]! * ring[i]![1]! - ring[i]![0]! * ring[j]![1]!;
  }
  return sum / 2;
}
