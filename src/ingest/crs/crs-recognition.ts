/** Finds out which coordinate system a layer is in: manifest first, then the file, then the numbers. */
import { FileUnusableError } from "../../errors.ts";
import type { Extent } from "../extent.ts";
import type { CoordinateSystem } from "../layer.ts";
import type { NoteBook } from "../note-book.ts";
import type { ReadOptions } from "../read-options.ts";
import { projectionOf, WGS84_DEFINITION } from "./crs.ts";
import { crsCandidates } from "./crs-candidates.ts";
import { datumTrouble } from "./datum-shifts.ts";

const ACCEPTED_WITHOUT_PRJ = 'a .prj file beside it, or "crs" with the code of its system in the manifest';

/** WGS 84 by the standard of the format (RFC 7946, section 4). */
const WGS84_BY_STANDARD: CoordinateSystem = {
  basis: "standard",
  name: "WGS 84, degrees",
  definition: WGS84_DEFINITION,
};

/** A layer without positions. */
export const NO_CRS: CoordinateSystem = { basis: "standard", name: "no positions", definition: null };

/**
 * The system the manifest names ("EPSG:32617", a proj string, WKT).
 * @throws {FileUnusableError} when it is not understood.
 */
export function crsFromManifest(text: string, file: string): CoordinateSystem {
  projectionOf(text, file);
  return { basis: "manifest", name: text.length > 60 ? nameInWkt(text) : text, definition: text };
}

/**
 * The system a .prj text describes, either flavour of WKT.
 * @throws {FileUnusableError} when it is not understood.
 */
export function crsFromPrj(wkt: string, file: string, notes: NoteBook): CoordinateSystem {
  const definition = wkt.replace(/^\uFEFF/, "").trim();
  const projection = projectionOf(definition, file);
  const trouble = datumTrouble(definition, hasShift(projection.datum_params));
  if (trouble) {
    notes.add({
      reason: `the coordinate system is on ${trouble.title}, whose shift grids are not at hand; positions may be off by ${trouble.size}, a file in WGS 84 or NAD83 would be exact`,
      effect: "assumed",
      value: nameInWkt(definition),
    });
  }
  return { basis: "file", name: nameInWkt(definition), definition };
}

function hasShift(parameters: readonly unknown[] | null | undefined): boolean {
  return parameters?.some((value) => Number(value) !== 0) ?? false;
}

/**
 * Degrees where the numbers can be degrees; anything else could be any system on earth.
 * @param near a place of another layer of the field, which narrows down what the numbers can be
 * @throws {FileUnusableError} saying what would be accepted, with the systems that fit.
 */
export function crsFromExtent(
  extent: Extent,
  file: string,
  notes: NoteBook,
  near?: ReadOptions["near"],
): CoordinateSystem {
  if (!fitsDegrees(extent) && !isUnsigned(extent) && !fitsSwappedDegrees(extent)) {
    const value = `x ${format(extent.minX)} to ${format(extent.maxX)}, y ${format(extent.minY)} to ${format(extent.maxY)}`;
    throw new FileUnusableError(
      `${file}: the coordinate system is unknown (no .prj) and the coordinates (${value}) are not degrees; ${candidateText(extent, near)}accepted are ${ACCEPTED_WITHOUT_PRJ}`,
      { file, field: "crs", value, accepted: ACCEPTED_WITHOUT_PRJ },
    );
  }
  notes.add({
    reason: `the file names no coordinate system; its numbers fit WGS 84 degrees, so that is assumed (${ACCEPTED_WITHOUT_PRJ} would settle it)`,
    effect: "assumed",
    value: `x ${format(extent.minX)} to ${format(extent.maxX)}, y ${format(extent.minY)} to ${format(extent.maxY)}`,
  });
  return { basis: "range", name: "WGS 84, degrees (assumed)", definition: WGS84_DEFINITION };
}

/**
 * GeoJSON is WGS 84 degrees by RFC 7946; an older file's `crs` member is honoured where it names another.
 * @throws {FileUnusableError} when the member names a system that is not understood.
 */
export function crsOfGeoJson(member: unknown, file: string, notes: NoteBook): CoordinateSystem {
  if (member === undefined || member === null) return WGS84_BY_STANDARD;
  const properties = (member as { properties?: unknown }).properties;
  const name = (properties as { name?: unknown } | undefined)?.name;
  const text = typeof name === "string" ? name : JSON.stringify(member);
  if (/CRS:?84$/i.test(text) || /\bWGS ?84$/i.test(text)) return WGS84_BY_STANDARD;
  const code = /EPSG[:/]{1,2}(?:[\d.]*[:/])?(\d{4,6})$/i.exec(text)?.[1];
  if (code === "4326") return WGS84_BY_STANDARD;
  if (code === undefined) {
    const accepted = 'no "crs" member (WGS 84 degrees), or one naming CRS84 or an EPSG code';
    throw new FileUnusableError(`${file}: the "crs" member names "${text}"; accepted is ${accepted}`, {
      file,
      field: "crs",
      value: text,
      accepted,
    });
  }
  projectionOf(`EPSG:${code}`, file);
  notes.add({
    reason:
      'the coordinates are read in the system the "crs" member names; standard GeoJSON is WGS 84 degrees',
    effect: "converted",
    field: "crs",
    value: text,
  });
  return { basis: "file", name: `EPSG:${code}`, definition: `EPSG:${code}` };
}

/** Degrees with the latitude first; whether they are is looked at later. */
function fitsSwappedDegrees({ minX, maxX, minY, maxY }: Extent): boolean {
  return fitsDegrees({ minX: minY, maxX: maxY, minY: minX, maxY: maxX });
}

/** What the numbers could be, each with where it would put the layer. */
function candidateText(extent: Extent, near: ReadOptions["near"]): string {
  const candidates = crsCandidates(extent, near);
  if (candidates.length === 0) return "";
  const listed = candidates
    .map(
      ({ code, name, longitude, latitude }) =>
        `"${code}" (${name}: longitude ${longitude.toFixed(2)}, latitude ${latitude.toFixed(2)})`,
    )
    .join(", ");
  return near
    ? `near the other layers they would lie in ${listed}; `
    : `metres of a UTM zone would fit: ${listed}; `;
}

/** True where every coordinate can be a longitude and a latitude in degrees. */
export function fitsDegrees(extent: Extent): boolean {
  return extent.minX >= -180 && extent.maxX <= 180 && extent.minY >= -90 && extent.maxY <= 90;
}

/** Degrees whose longitudes are all past 180: counted from 0 to 360. */
export function isUnsigned({ minX, maxX, minY, maxY }: Extent): boolean {
  return minX > 180 && maxX <= 360 && minY >= -90 && maxY <= 90;
}

function nameInWkt(wkt: string): string {
  return /^\s*\w+\s*\[\s*"([^"]+)"/.exec(wkt)?.[1] ?? (wkt.length > 60 ? `${wkt.slice(0, 59)}…` : wkt);
}

function format(value: number): string {
  return String(Number(value.toPrecision(9)));
}
