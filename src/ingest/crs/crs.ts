/**
 * Coordinate systems at work: from a layer's own coordinates to longitude and latitude, and to the
 * local metric frame of a field. All projection maths is proj4's.
 */
import proj4 from "proj4";
import { FileUnusableError } from "../../errors.ts";
import type { CoordinateSystem } from "../layer.ts";
import { STATE_PLANES } from "./state-plane.ts";

/** WGS 84 longitude and latitude in degrees, in that order. */
export const WGS84_DEFINITION = "EPSG:4326";

const ACCEPTED_CRS =
  'an EPSG code of WGS 84 ("EPSG:4326"), NAD83 ("EPSG:4269"), web Mercator ("EPSG:3857"), a UTM zone such as ' +
  '"EPSG:32617" or a state-plane zone in feet such as "EPSG:3417", a proj string ("+proj=...") or the text of a .prj file';

/** Metres in the UTM zone of a field, counted from a rounded origin near its middle. */
export interface UtmFrame {
  /** EPSG code of the UTM zone: 326zz north, 327zz south of the equator. */
  epsg: number;
  /** Subtracted from easting and northing, whole kilometres in metres. */
  originX: number;
  originY: number;
  toLocal(longitude: number, latitude: number): [number, number];
  toLonLat(x: number, y: number): [number, number];
}

/** The parameters of a projection that decide whether two systems share one grid. */
export interface Projection {
  projName?: string | undefined;
  lat0?: number | undefined;
  lat1?: number | undefined;
  lat2?: number | undefined;
  lat_ts?: number | undefined;
  long0?: number | undefined;
  k0?: number | undefined;
  x0?: number | undefined;
  y0?: number | undefined;
  a?: number | undefined;
  to_meter?: number | undefined;
  from_greenwich?: number | undefined;
  datumCode?: string | undefined;
  /** Numbers of the shift to WGS 84; null or zeros where none is made. */
  datum_params?: readonly unknown[] | null | undefined;
  /** Radians to metres; may write into the point. */
  forward(point: { x: number; y: number }): { x: number; y: number };
}

/**
 * The text proj4 needs for a code, proj string or WKT. UTM codes are spelled out, because a code is
 * only a name to proj4 unless it is built in.
 * EPSG ranges (EPSG Geodetic Parameter Dataset): 326zz/327zz WGS 84, 269zz NAD83, 258zz ETRS89.
 */
function definitionOf(text: string): string {
  const code = /^EPSG:{1,2}(\d+)$/i.exec(text.trim())?.[1];
  if (code === undefined) return newerWkt(text.trim());
  const number = Number(code);
  const zone = number % 100;
  const family = (number - zone) / 100;
  if ((family === 326 || family === 327) && zone >= 1 && zone <= 60) {
    return `+proj=utm +zone=${zone}${family === 327 ? " +south" : ""} +datum=WGS84 +units=m +no_defs`;
  }
  if (family === 269 && zone >= 1 && zone <= 23)
    return `+proj=utm +zone=${zone} +datum=NAD83 +units=m +no_defs`;
  if (family === 258 && zone >= 28 && zone <= 38)
    return `+proj=utm +zone=${zone} +ellps=GRS80 +units=m +no_defs`;
  const plane = STATE_PLANES.find((row) => row.code === number);
  if (plane) return plane.definition;
  if (number === 4258) return "+proj=longlat +ellps=GRS80 +no_defs";
  return `EPSG:${number}`;
}

/** proj4 reads the datum of WKT2 of 2019 only (ISO 19162); that of 2015 spells the same under other names. */
function newerWkt(text: string): string {
  return text.replace(/\bBASEGEODCRS\s*\[/gi, "BASEGEOGCRS[").replace(/^GEOD(?:ETIC)?CRS\s*\[/i, "GEOGCRS[");
}

/** Parameters that a damaged text leaves as no number; a projection with one of them places nothing. */
const PARAMETERS = ["lat0", "lat1", "lat2", "lat_ts", "long0", "k0", "x0", "y0", "a", "to_meter"] as const;

function isUsable(parameter: unknown): boolean {
  return parameter === undefined || (typeof parameter === "number" && Number.isFinite(parameter));
}

/**
 * The projection of a definition.
 * @throws {FileUnusableError} when proj4 does not understand it; the message names the text and what would be accepted.
 */
export function projectionOf(definition: string, file: string): Projection {
  try {
    const projection = new proj4.Proj(definitionOf(definition)) as unknown as Projection;
    if (!projection.projName) throw new Error("no projection named");
    const wrong = PARAMETERS.find((name) => !isUsable(projection[name]));
    if (wrong !== undefined) throw new Error(`its ${wrong} is no number`);
    return projection;
  } catch (cause) {
    const shown = definition.length > 80 ? `${definition.slice(0, 79)}…` : definition;
    throw new FileUnusableError(
      `${file}: the coordinate system "${shown}" is not understood; accepted are ${ACCEPTED_CRS}`,
      { file, field: "crs", value: shown, accepted: ACCEPTED_CRS, cause },
    );
  }
}

/** True where the layer's own numbers are longitude and latitude in degrees, whatever the datum. */
export function isGeographic(crs: CoordinateSystem): boolean {
  if (crs.definition === null) return false;
  return projectionOf(crs.definition, crs.name).projName === "longlat";
}

/**
 * Function from the layer's coordinates to WGS 84 [longitude, latitude], degrees.
 * @throws {FileUnusableError} when the layer has no positions or its system is not understood.
 */
export function toLonLat(crs: CoordinateSystem): (x: number, y: number) => [number, number] {
  const definition = requireDefinition(crs);
  const projection = projectionOf(definition, crs.name);
  if (projection.projName === "longlat" && isWgs84Like(projection)) return (x, y) => [x, y];
  const converter = proj4(definitionOf(definition), WGS84_DEFINITION);
  return (x, y) =>
    Number.isFinite(x) && Number.isFinite(y)
      ? (converter.forward([x, y]) as [number, number])
      : [Number.NaN, Number.NaN];
}

/**
 * The metric frame of a field around a place given in WGS 84 degrees. UTM zones are the plain six-degree
 * ones (zone 31 begins at 0 degrees), without the exceptions of Norway and Svalbard.
 */
export function utmFrame(longitudeMean: number, latitudeMean: number): UtmFrame {
  const zone = Math.min(60, Math.max(1, Math.floor((longitudeMean + 180) / 6) + 1));
  const epsg = (latitudeMean < 0 ? 32700 : 32600) + zone;
  const converter = proj4(WGS84_DEFINITION, definitionOf(`EPSG:${epsg}`));
  const [easting, northing] = converter.forward([longitudeMean, latitudeMean]) as [number, number];
  const originX = Math.round(easting / 1000) * 1000;
  const originY = Math.round(northing / 1000) * 1000;
  return {
    epsg,
    originX,
    originY,
    toLocal(longitude, latitude) {
      const [x, y] = converter.forward([longitude, latitude]) as [number, number];
      return [x - originX, y - originY];
    },
    toLonLat(x, y) {
      return converter.inverse([x + originX, y + originY]) as [number, number];
    },
  };
}

/**
 * Positions of a layer in the frame, metres, in one pass. Where the layer already is in the frame's UTM
 * zone the origin is subtracted and nothing else is done. NaN stays NaN.
 * @param x layer coordinates, one entry a record; not changed
 */
export function projectColumns(
  x: Float64Array,
  y: Float64Array,
  crs: CoordinateSystem,
  frame: UtmFrame,
): { x: Float64Array; y: Float64Array } {
  const place = placerOf(crs, frame);
  const localX = new Float64Array(x.length);
  const localY = new Float64Array(x.length);
  const point = { x: 0, y: 0 };
  for (let i = 0; i < x.length; i++) {
    place(x[i]!, y[i]!, point);
    localX[i] = point.x;
    localY[i] = point.y;
  }
  return { x: localX, y: localY };
}

/** Function from the layer's coordinates to the frame's metres; NaN gives NaN. */
export function placeInFrame(
  crs: CoordinateSystem,
  frame: UtmFrame,
): (x: number, y: number) => [number, number] {
  const place = placerOf(crs, frame);
  const point = { x: 0, y: 0 };
  return (x, y) => {
    place(x, y, point);
    return [point.x, point.y];
  };
}

/** Puts a position into the frame: writes it into the point, so that a long log makes no object a record. */
type Placer = (x: number, y: number, point: { x: number; y: number }) => void;

function placerOf(crs: CoordinateSystem, frame: UtmFrame): Placer {
  const definition = requireDefinition(crs);
  const { originX, originY } = frame;
  const own = projectionOf(definition, crs.name);
  if (sharesGrid(own, frame))
    return (x, y, point) => {
      point.x = x - originX;
      point.y = y - originY;
    };
  if (own.projName === "longlat" && own.datumCode?.toLowerCase() === "wgs84" && !own.from_greenwich)
    return placeDegrees(frame);
  const converter = proj4(definitionOf(definition), definitionOf(`EPSG:${frame.epsg}`));
  return (x, y, point) => {
    const isPlace = Number.isFinite(x) && Number.isFinite(y);
    const [easting, northing] = isPlace ? converter.forward([x, y]) : [Number.NaN, Number.NaN];
    point.x = easting! - originX;
    point.y = northing! - originY;
  };
}

const RADIANS_PER_DEGREE = Math.PI / 180;

/**
 * Degrees of WGS 84 into the frame: proj4's projection itself, without what it does around it for any two systems (the
 * same digits in a quarter of the time; most logs come this way).
 */
function placeDegrees({ epsg, originX, originY }: UtmFrame): Placer {
  const utm = projectionOf(`EPSG:${epsg}`, "the frame");
  return (longitude, latitude, point) => {
    point.x = Number.NaN;
    point.y = Number.NaN;
    if (!Number.isFinite(longitude) || !Number.isFinite(latitude)) return;
    point.x = longitude * RADIANS_PER_DEGREE;
    point.y = latitude * RADIANS_PER_DEGREE;
    const { x: easting, y: northing } = utm.forward(point);
    point.x = easting - originX;
    point.y = northing - originY;
  };
}

/** True where the layer's numbers are metres of a UTM zone, whatever the datum. */
export function usesUtmGrid(crs: CoordinateSystem): boolean {
  if (crs.definition === null) return false;
  const projection = projectionOf(crs.definition, crs.name);
  const metres = projection.to_meter === undefined || projection.to_meter === 1;
  return isTransverseMercator(projection) && metres && projection.k0 === 0.9996 && projection.x0 === 500_000;
}

function isTransverseMercator(projection: Projection): boolean {
  return ["utm", "tmerc", "etmerc", "transverse_mercator"].includes(
    (projection.projName ?? "").toLowerCase().replaceAll(" ", "_"),
  );
}

function requireDefinition(crs: CoordinateSystem): string {
  if (crs.definition === null) throw new FileUnusableError(`the layer has no positions (${crs.name})`);
  return crs.definition;
}

/** Datums proj4 treats as WGS 84 itself (no shift): WGS 84, NAD83, ETRS89; GRS80 differs by 0.1 mm in b. */
function isWgs84Like(projection: Projection): boolean {
  const datum = (projection.datumCode ?? "").toLowerCase().replaceAll(/[^a-z0-9]/g, "");
  const greenwich = !projection.from_greenwich;
  return greenwich && ["wgs84", "nad83", "northamerican1983", "etrs89"].includes(datum);
}

/** Degrees in radians, up to rounding of the text of a .prj. */
const ANGLE_TOLERANCE = 1e-9;

function sharesGrid(projection: Projection, frame: UtmFrame): boolean {
  const zone = frame.epsg % 100;
  const own = projectionOf(`EPSG:${frame.epsg}`, `UTM zone ${zone}`);
  const metres = projection.to_meter === undefined || projection.to_meter === 1;
  return (
    isTransverseMercator(projection) &&
    metres &&
    isWgs84Like(projection) &&
    Math.abs((projection.lat0 ?? 0) - (own.lat0 ?? 0)) < ANGLE_TOLERANCE &&
    Math.abs((projection.long0 ?? 0) - (own.long0 ?? 0)) < ANGLE_TOLERANCE &&
    projection.k0 === own.k0 &&
    projection.x0 === own.x0 &&
    projection.y0 === own.y0
  );
}
