/** Looks at the positions of a layer in its coordinate system: swapped axes, places that are none, missing fixes. */
import { FileUnusableError } from "../errors.ts";
import { isGeographic, projectionOf, usesUtmGrid } from "./crs/crs.ts";
import { fitsDegrees, isUnsigned } from "./crs/crs-recognition.ts";
import { type Extent, extentOf, typicalExtent } from "./extent.ts";
import type { PolygonRings, RawLayer } from "./layer.ts";
import type { SettleOptions } from "./settle-options.ts";

type PlacedLayer = Pick<RawLayer, "geometry" | "x" | "y" | "polygons" | "crs">;

/** No projected system counts farther than this from its origin: 100 000 km, twice the way round the earth. */
const FARTHEST_METRES = 1e8;

/**
 * Leaves out positions that cannot be (noted), and puts swapped axes right where the numbers leave no doubt.
 * Changes the layer's positions.
 * @throws {FileUnusableError} when no position fits the system
 */
export function checkPositions(
  layer: PlacedLayer,
  extent: Extent,
  options: SettleOptions,
  numberOf: (record: number) => number,
): void {
  const geographic = isGeographic(layer.crs);
  let now = extent;
  if (axesAreSwapped(layer, typicalExtent(layer.x, layer.y) ?? extent, geographic)) {
    swapAxes(layer);
    now = { minX: extent.minY, maxX: extent.maxY, minY: extent.minX, maxY: extent.maxX };
    options.notes.add({
      reason: `${geographic ? "latitude stands before longitude" : "northing stands before easting"}; the two were swapped`,
      effect: "converted",
      count: layer.x.reduce((count, value) => count + (Number.isNaN(value) ? 0 : 1), 0),
      value: `${format(extent.minX)}, ${format(extent.minY)}`,
    });
  }
  if (geographic) {
    if (isUnsigned(now)) now = countedFromZero(layer, now, options);
    const fits = crossesDateline(now) ? fitsAcrossDateline : fitsDegrees;
    leaveOutBeyond(layer, now, fits, DEGREES, options, numberOf);
  } else {
    const reach = FARTHEST_METRES / (projectionOf(layer.crs.definition!, options.file).to_meter ?? 1);
    const fits = (one: Extent) =>
      one.minX >= -reach && one.maxX <= reach && one.minY >= -reach && one.maxY <= reach;
    leaveOutBeyond(layer, now, fits, "its position lies beyond the earth", options, numberOf);
  }
  if (layer.geometry === "point") leaveOutMissingFixes(layer, now, options, numberOf);
}

/** No field is wider, degrees (our judgement). */
const WIDEST_FIELD_DEG = 5;

/** A field that lies across longitude 180 and is counted on past it. */
function crossesDateline({ minX, maxX }: Extent): boolean {
  return maxX - minX < WIDEST_FIELD_DEG && minX < 180 && maxX > 180;
}

function fitsAcrossDateline(one: Extent): boolean {
  return fitsDegrees({ ...one, maxX: one.maxX - WIDEST_FIELD_DEG });
}

/** Longitudes counted eastwards from 0 to 360 are taken to those from -180 to 180. */
function countedFromZero(layer: PlacedLayer, extent: Extent, options: SettleOptions): Extent {
  const { x, polygons } = layer;
  for (let record = 0; record < x.length; record++) x[record]! -= 360;
  for (const record of polygons ?? [])
    for (const rings of record) for (const ring of rings) for (const position of ring) position[0] -= 360;
  options.notes.add({
    reason: "longitudes are counted from 0 to 360 degrees; 360 was taken off",
    effect: "converted",
    count: x.reduce((count, value) => count + (Number.isNaN(value) ? 0 : 1), 0),
    value: format(extent.minX),
  });
  return { ...extent, minX: extent.minX - 360, maxX: extent.maxX - 360 };
}

/** Nothing is planted beyond this latitude (our judgement); degrees, either side of the equator. */
const FARTHEST_FIELD_LATITUDE = 66;

/** Eastings of a UTM zone, metres, and northings of land that is farmed; from the definition of the grid. */
const UTM_EASTING = { least: 100_000, most: 900_000 };
const UTM_NORTHING = { least: 1_000_000, most: 9_900_000 };

/**
 * Degrees are swapped for sure where the second number can be no latitude of a field and the first can. On a
 * UTM grid, where the first number is as large as only a northing is.
 */
function axesAreSwapped(layer: PlacedLayer, extent: Extent, geographic: boolean): boolean {
  const { minX, maxX, minY, maxY } = extent;
  if (geographic) {
    const firstIsLatitude = minX >= -FARTHEST_FIELD_LATITUDE && maxX <= FARTHEST_FIELD_LATITUDE;
    const secondIsNone = minY > FARTHEST_FIELD_LATITUDE || maxY < -FARTHEST_FIELD_LATITUDE;
    return firstIsLatitude && secondIsNone && minY >= -180 && maxY <= 180;
  }
  const swappedRange =
    minX >= UTM_NORTHING.least &&
    maxX <= UTM_NORTHING.most &&
    minY >= UTM_EASTING.least &&
    maxY <= UTM_EASTING.most;
  return swappedRange && usesUtmGrid(layer.crs);
}

function swapAxes(layer: PlacedLayer): void {
  const { x, y, polygons } = layer;
  const first = x.slice();
  x.set(y);
  y.set(first);
  for (const record of polygons ?? []) {
    for (const rings of record) for (const ring of rings) swapRing(ring);
  }
}

/** Swapping the axes mirrors a ring, so it is turned to keep its winding. */
function swapRing(ring: [number, number][]): void {
  for (const position of ring) position.reverse();
  ring.reverse();
}

const DEGREES = "its position lies beyond longitude -180 to 180 or latitude -90 to 90";

/** Where a position does not fit it is wrong; all of them wrong, the system is. */
function leaveOutBeyond(
  layer: PlacedLayer,
  extent: Extent,
  fits: (extent: Extent) => boolean,
  reason: string,
  options: SettleOptions,
  numberOf: (record: number) => number,
): void {
  if (fits(extent)) return;
  const { x, y, polygons } = layer;
  const beyond: number[] = [];
  let placed = 0;
  for (let record = 0; record < x.length; record++) {
    if (Number.isNaN(x[record]!)) continue;
    placed++;
    const one = polygons
      ? extentOf(new Float64Array(0), new Float64Array(0), [polygons[record]!])
      : { minX: x[record]!, maxX: x[record]!, minY: y[record]!, maxY: y[record]! };
    if (one && !fits(one)) beyond.push(record);
  }
  const value = `${x[beyond[0]!]}, ${y[beyond[0]!]}`;
  if (beyond.length === placed && options.expect === "anything") {
    options.notes.add({ reason, effect: "kept", count: placed, value });
    return;
  }
  if (beyond.length === placed) throw notInSystem(layer, options.file, extent, value);
  for (const record of beyond) {
    options.notes.add({
      reason,
      effect: "left out",
      record: numberOf(record),
      value: `${x[record]}, ${y[record]}`,
    });
    leaveOut(x, y, polygons, record);
  }
}

function leaveOut(x: Float64Array, y: Float64Array, polygons: PolygonRings[][] | null, record: number): void {
  x[record] = Number.NaN;
  y[record] = Number.NaN;
  if (polygons) polygons[record] = [];
}

/** A receiver without a fix logs 0, 0, in degrees as in metres; no field lies there (common practice, no source). */
function leaveOutMissingFixes(
  layer: PlacedLayer,
  extent: Extent,
  options: SettleOptions,
  numberOf: (record: number) => number,
): void {
  const { x, y } = layer;
  const elsewhere = Math.max(Math.abs(extent.minX), extent.maxX, Math.abs(extent.minY), extent.maxY) > 1;
  if (!elsewhere) return;
  for (let record = 0; record < x.length; record++) {
    if (x[record] !== 0 || y[record] !== 0) continue;
    const reason = "its position is 0, 0, which a receiver without a fix writes";
    options.notes.add({ reason, effect: "left out", record: numberOf(record), value: "0, 0" });
    leaveOut(x, y, null, record);
  }
}

function notInSystem(layer: PlacedLayer, file: string, extent: Extent, value: string): FileUnusableError {
  const swapped = extent.minX >= -90 && extent.maxX <= 90 && extent.minY >= -180 && extent.maxY <= 180;
  const guess = swapped
    ? "latitude seems to stand before longitude"
    : "they look like metres of a projected system";
  const accepted =
    'longitude then latitude in WGS 84 degrees, or "crs" with the code of its system in the manifest';
  const what = isGeographic(layer.crs)
    ? `no position is a longitude and latitude (first: ${value}); ${guess}`
    : `no position lies on the earth in ${layer.crs.name} (first: ${value})`;
  return new FileUnusableError(`${file}: ${what}; accepted is ${accepted}`, {
    file,
    field: "coordinates",
    value,
    accepted,
  });
}

function format(value: number): string {
  return String(Number(value.toPrecision(9)));
}
