/**
 * The planted ground as columns for drawing: one piece a record (or a cell, in the report). Positions are
 * Web Mercator offsets from an origin, so that 32-bit floats stay exact to a millimetre on the graphics
 * card; the origin itself is kept in 64 bits and folded into the matrix.
 */
import type { CellColumns } from "../../src/report/map-layers.ts";
import type { ShownVariable } from "../../src/vocabulary/variables.ts";

export type ValueName = ShownVariable;

export interface Ground {
  count: number;
  /** A cell of the bar's whole width, or one row unit's record. */
  pieces: "records" | "cells";
  /** Mercator origin, 0..1 across the world, y downwards. */
  origin: [number, number];
  /** x, y of the middle of the bar at the piece's moment, offsets from the origin. Length 2 x count. */
  centre: Float32Array;
  /** Half of the piece's length as a vector along the travel. Length 2 x count. */
  along: Float32Array;
  /** Offset of the piece from the middle of the bar to the right of travel, and half its width. Length 2 x count. */
  lateral: Float32Array;
  /** Our pass number, 0 where none. */
  pass: Int32Array;
  /** Row unit from the left, 0 for the whole bar. */
  rowUnit: Int16Array;
  /** Soil zone, -1 where none. */
  zone: Int16Array;
  /** Metres along the pass. */
  alongM: Float32Array;
  /** Inside units, NaN where missing. */
  values: Partial<Record<ValueName, Float32Array>>;
}

const EARTH_CIRCUMFERENCE_M = 2 * Math.PI * 6378137;

export function mercatorX(longitude: number): number {
  return (180 + longitude) / 360;
}

export function mercatorY(latitude: number): number {
  const radians = (latitude * Math.PI) / 180;
  return (1 - Math.log(Math.tan(Math.PI / 4 + radians / 2)) / Math.PI) / 2;
}

export function longitudeOf(x: number): number {
  return x * 360 - 180;
}

export function latitudeOf(y: number): number {
  return (360 / Math.PI) * Math.atan(Math.exp(Math.PI * (1 - 2 * y))) - 90;
}

/** Mercator units a metre at a latitude. */
export function mercatorPerMetre(latitude: number): number {
  return 1 / (EARTH_CIRCUMFERENCE_M * Math.cos((latitude * Math.PI) / 180));
}

/** Empty columns for `count` pieces around an origin in degrees. */
export function emptyGround(
  count: number,
  pieces: Ground["pieces"],
  longitude: number,
  latitude: number,
): Ground {
  return {
    count,
    pieces,
    origin: [mercatorX(longitude), mercatorY(latitude)],
    centre: new Float32Array(2 * count),
    along: new Float32Array(2 * count),
    lateral: new Float32Array(2 * count),
    pass: new Int32Array(count),
    rowUnit: new Int16Array(count),
    zone: new Int16Array(count).fill(-1),
    alongM: new Float32Array(count),
    values: {},
  };
}

/** Ground of the report: one piece a cell. */
export function groundFromCells(cells: CellColumns): Ground {
  const count = cells.pass.length;
  const ground = emptyGround(count, "cells", cells.longitude[0] ?? 0, cells.latitude[0] ?? 0);
  for (let i = 0; i < count; i++) {
    const latitude = cells.latitude[i]!;
    const scale = mercatorPerMetre(latitude);
    const heading = (cells.headingDeg[i]! * Math.PI) / 180;
    const half = (cells.lengthM[i]! / 2) * scale;
    ground.centre[2 * i] = mercatorX(cells.longitude[i]!) - ground.origin[0];
    ground.centre[2 * i + 1] = mercatorY(latitude) - ground.origin[1];
    ground.along[2 * i] = Math.sin(heading) * half;
    ground.along[2 * i + 1] = -Math.cos(heading) * half;
    ground.lateral[2 * i + 1] = (cells.widthM[i]! / 2) * scale;
    ground.pass[i] = cells.pass[i]!;
    ground.zone[i] = cells.zone[i]!;
    ground.alongM[i] = cells.alongM[i]!;
  }
  for (const [name, values] of Object.entries(cells.values)) {
    ground.values[name as ValueName] = Float32Array.from(values, (value) => value ?? Number.NaN);
  }
  return ground;
}

/** Degrees of the true middle of a piece. */
export function positionOf(ground: Ground, i: number): [number, number] {
  const [x, y] = offsetOf(ground, i);
  return [longitudeOf(ground.origin[0] + x), latitudeOf(ground.origin[1] + y)];
}

/** Mercator offset of the true middle of a piece: the middle of the bar moved to the piece's side. */
export function offsetOf(ground: Ground, i: number): [number, number] {
  const dx = ground.along[2 * i]!;
  const dy = ground.along[2 * i + 1]!;
  const length = Math.hypot(dx, dy) || 1;
  const side = ground.lateral[2 * i]!;
  return [ground.centre[2 * i]! - (dy / length) * side, ground.centre[2 * i + 1]! + (dx / length) * side];
}

/** Buffers to hand over instead of copying. */
export function buffersOf(ground: Ground): ArrayBuffer[] {
  const arrays = [
    ground.centre,
    ground.along,
    ground.lateral,
    ground.pass,
    ground.rowUnit,
    ground.zone,
    ground.alongM,
    ...Object.values(ground.values),
  ];
  return arrays.map((array) => array.buffer as ArrayBuffer);
}
