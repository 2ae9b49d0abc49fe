/** Natural-looking outlines in field metres, and the planar polygon work on them. */
import {
  booleanPointInPolygon,
  difference,
  featureCollection,
  intersect,
  multiPolygon,
  union,
} from "@turf/turf";
import type { MultiPolygon } from "geojson";
import type { Position } from "./frame.ts";

/** A closed list of positions. */
type Ring = Position[];
/** Polygons as lists of rings, the outer one first. */
export type Shape = Position[][][];

/** A rounded outline: an ellipse made uneven by a few waves along its edge. */
export interface Blob {
  centre: Position;
  /** Half axes along u and v at scale 1. */
  halfAxes: Position;
  /** [number of waves round the outline, relative height, phase in radians]. */
  waves: [number, number, number][];
}

const VERTICES = 96;

export function blobShape({ centre, halfAxes, waves }: Blob, scale: number): Shape {
  const ring: Ring = Array.from({ length: VERTICES }, (_, index) => {
    const angle = (2 * Math.PI * index) / VERTICES;
    const radius =
      scale *
      waves.reduce((sum, [count, height, phase]) => sum + height * Math.cos(count * angle + phase), 1);
    return [
      centre[0] + radius * halfAxes[0] * Math.cos(angle),
      centre[1] + radius * halfAxes[1] * Math.sin(angle),
    ];
  });
  return ringShape(ring);
}

/** A winding band of slowly changing width with round ends. */
export interface Band {
  /** Middle line: v as a function of u between the two ends. */
  fromU: number;
  toU: number;
  middleV(u: number): number;
  /** Half width at scale 1, metres, by the share of the way (0..1). */
  halfWidthM(share: number): number;
}

export function bandShape(band: Band, scale: number): Shape {
  const steps = VERTICES / 2;
  const north: Ring = [];
  const south: Ring = [];
  for (let step = 0; step <= steps; step++) {
    // Steps crowd towards the ends, where the outline turns.
    const share = (1 - Math.cos((Math.PI * step) / steps)) / 2;
    const u = band.fromU + share * (band.toU - band.fromU);
    const halfWidth = scale * band.halfWidthM(share);
    const slope = band.middleV(u + 0.5) - band.middleV(u - 0.5);
    const across: Position = [-slope / Math.hypot(1, slope), 1 / Math.hypot(1, slope)];
    north.push([u + halfWidth * across[0], band.middleV(u) + halfWidth * across[1]]);
    south.push([u - halfWidth * across[0], band.middleV(u) - halfWidth * across[1]]);
  }
  return ringShape([...south, ...north.reverse()]);
}

/** One polygon without holes from the open list of its corners. */
export function ringShape(corners: readonly Position[]): Shape {
  return [[[...corners, corners[0] as Position]]];
}

/** Part of the first shape inside the second. */
export function common(first: Shape, second: Shape): Shape {
  return shapeOf(intersect(featureCollection([multiPolygon(first), multiPolygon(second)])));
}

/** The first shape without the others. */
export function without(first: Shape, others: Shape[]): Shape {
  return shapeOf(difference(featureCollection([first, ...others].map((shape) => multiPolygon(shape)))));
}

/** All shapes as one. */
export function together(shapes: Shape[]): Shape {
  return shapeOf(union(featureCollection(shapes.map((shape) => multiPolygon(shape)))));
}

function shapeOf(feature: ReturnType<typeof intersect>): Shape {
  if (!feature) return [];
  const { geometry } = feature;
  const polygons = geometry.type === "Polygon" ? [geometry.coordinates] : geometry.coordinates;
  return polygons.map((rings) => rings.map((ring) => ring.map(([u, v]) => [millimetre(u), millimetre(v)])));
}

/** Rounded to the millimetre, so that a corner made by two shapes is the same number in both. */
function millimetre(value: number | undefined): number {
  return Math.round((value as number) * 1000) / 1000;
}

/** Planar area, square metres; holes subtracted. */
export function areaM2(shape: Shape): number {
  let total = 0;
  for (const rings of shape) {
    rings.forEach((ring, index) => {
      total += (index === 0 ? 1 : -1) * Math.abs(signedAreaM2(ring));
    });
  }
  return total;
}

/** Positive for a counter-clockwise ring. */
function signedAreaM2(ring: Ring): number {
  let twice = 0;
  for (let index = 1; index < ring.length; index++) {
    const [u1, v1] = ring[index - 1] as Position;
    const [u2, v2] = ring[index] as Position;
    twice += u1 * v2 - u2 * v1;
  }
  return twice / 2;
}

/** The shape of a growing family that has the given area (0.1 m2), by halving the interval of scales. */
export function shapeOfArea(targetM2: number, shapeAt: (scale: number) => Shape): Shape {
  let low = 0.2;
  let high = 5;
  for (let halving = 0; halving < 60; halving++) {
    const middle = (low + high) / 2;
    const excess = areaM2(shapeAt(middle)) - targetM2;
    if (Math.abs(excess) < 0.1) return shapeAt(middle);
    if (excess < 0) low = middle;
    else high = middle;
  }
  throw new RangeError(`no scale gives the area ${targetM2} m2`);
}

/** Whether a position lies in the shape; the outline counts as inside. */
export function insideTest(shape: Shape): (position: Position) => boolean {
  const geometry: MultiPolygon = { type: "MultiPolygon", coordinates: shape };
  const corners = shape.flat(2);
  const [west, east] = [Math.min(...corners.map(([u]) => u)), Math.max(...corners.map(([u]) => u))];
  const [south, north] = [Math.min(...corners.map(([, v]) => v)), Math.max(...corners.map(([, v]) => v))];
  return ([u, v]) =>
    u >= west && u <= east && v >= south && v <= north && booleanPointInPolygon([u, v], geometry);
}
