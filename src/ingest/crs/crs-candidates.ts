/** Systems that bare numbers could be in, for a layer that does not name its own. */
import type { Extent } from "../extent.ts";
import { toLonLat } from "./crs.ts";
import { STATE_PLANES } from "./state-plane.ts";

export interface CrsCandidate {
  /** EPSG code as the manifest takes it. */
  code: string;
  name: string;
  /** Where the middle of the layer would lie, WGS 84 degrees. */
  longitude: number;
  latitude: number;
}

/** A field's layers lie closer together than this (our judgement), kilometres. */
const NEAR_KM = 50;
const EARTH_RADIUS_KM = 6371;

/** UTM zones over land that is farmed in North America (10 to 20), and the range of a zone's eastings in metres. */
const ZONES = Array.from({ length: 11 }, (_, index) => index + 10);
const EASTINGS = { least: 160_000, most: 840_000 };
const NORTHINGS = { least: 1_600_000, most: 6_700_000 };

/**
 * UTM zones of North America and state-plane zones in feet that fit the numbers; near a known place only those
 * that put the layer there, the nearest first, and UTM zones of the whole world.
 */
export function crsCandidates(
  extent: Extent,
  near: { longitude: number; latitude: number } | undefined,
): CrsCandidate[] {
  const x = (extent.minX + extent.maxX) / 2;
  const y = (extent.minY + extent.maxY) / 2;
  const place = (code: string, name: string): CrsCandidate[] => {
    const [longitude, latitude] = toLonLat({ basis: "range", name, definition: code })(x, y);
    return Number.isFinite(longitude) && Number.isFinite(latitude)
      ? [{ code, name, longitude, latitude }]
      : [];
  };
  const south = near !== undefined && near.latitude < 0;
  const zones = near ? neighbourZones(near.longitude) : ZONES;
  const utm = zones.flatMap((zone) =>
    place(`EPSG:${(south ? 32700 : 32600) + zone}`, `UTM zone ${zone}${south ? "S" : "N"}`),
  );
  const planes = STATE_PLANES.flatMap(({ code, name }) => place(`EPSG:${code}`, name));
  if (near) {
    return [...utm, ...planes]
      .map((candidate) => ({ candidate, km: distanceKm(candidate, near) }))
      .filter(({ km }) => km <= NEAR_KM)
      .sort((a, b) => a.km - b.km)
      .map(({ candidate }) => candidate);
  }
  const fitsUtm = x >= EASTINGS.least && x <= EASTINGS.most && y >= NORTHINGS.least && y <= NORTHINGS.most;
  return fitsUtm ? utm : [];
}

function neighbourZones(longitude: number): number[] {
  const zone = Math.min(60, Math.max(1, Math.floor((longitude + 180) / 6) + 1));
  return [zone, zone === 1 ? 60 : zone - 1, zone === 60 ? 1 : zone + 1];
}

function distanceKm(
  a: { longitude: number; latitude: number },
  b: { longitude: number; latitude: number },
): number {
  const radians = Math.PI / 180;
  const sinLatitude = Math.sin(((a.latitude - b.latitude) * radians) / 2);
  const sinLongitude = Math.sin(((a.longitude - b.longitude) * radians) / 2);
  const h =
    sinLatitude ** 2 + Math.cos(a.latitude * radians) * Math.cos(b.latitude * radians) * sinLongitude ** 2;
  return 2 * EARTH_RADIUS_KM * Math.asin(Math.min(1, Math.sqrt(h)));
}
