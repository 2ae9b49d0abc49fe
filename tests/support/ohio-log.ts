import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { gunzipSync } from "node:zlib";
import proj4 from "proj4";
import { METRES_PER_FOOT } from "../../src/quantities/units.ts";
import type { Field, LocalPolygon } from "../../src/vocabulary/field.ts";
import { buildField } from "./field-builder.ts";

/** Folder with the reference data that are not part of the project, where there is one. */
const REFERENCE = process.env.EVENSTAND_REFERENCE;
const FOLDER = REFERENCE ? join(REFERENCE, "data", "ohio_corn_2017") : "";

/** True where the real log of 2017 (on-farm trial, 24 rows, CC BY 4.0) is at hand. */
export const HAS_OHIO_LOG = FOLDER !== "" && existsSync(join(FOLDER, "asplanted.geojson.gz"));

interface PointFeature {
  properties: Record<string, number>;
  geometry: { coordinates: [number, number] };
}

interface ZoneFeature {
  properties: { musym: string };
  geometry: { type: string; coordinates: [number, number][][] | [number, number][][][] };
}

/** Reads the reference results computed by an outside tool. */
export function readOhioJson(name: string): unknown {
  return JSON.parse(readFileSync(join(FOLDER, name), "utf8"));
}

/**
 * The real log as a field in UTM zone 17N, not shifted. Population, margin and speed are left in the units of
 * the file (seeds/ac, lbf, mi/h) where `inFileUnits` is set, so that outside figures compare digit by digit.
 */
export function readOhioField(inFileUnits = false): Field {
  const log = JSON.parse(gunzipSync(readFileSync(join(FOLDER, "asplanted.geojson.gz"))).toString("utf8")) as {
    features: PointFeature[];
  };
  const soil = readOhioJson("ssurgo.geojson") as { features: ZoneFeature[] };
  const toUtm = proj4("EPSG:4326", "+proj=utm +zone=17 +datum=WGS84 +units=m +no_defs");
  const points = log.features.map(
    (feature) => toUtm.forward(feature.geometry.coordinates) as [number, number],
  );
  const column = (name: string, factor = 1) =>
    Float64Array.from(log.features, (feature) => (feature.properties[name] ?? Number.NaN) * factor);
  const scale = (factor: number) => (inFileUnits ? 1 : factor);
  return buildField({
    x: points.map(([x]) => x),
    y: points.map(([, y]) => y),
    values: {
      distance: column("Distance_f", METRES_PER_FOOT),
      swathWidth: column("Swth_Wdth_", METRES_PER_FOOT),
      lateralOffset: column("Y_Offset_f", METRES_PER_FOOT),
      heading: column("Track_deg_"),
      population: column("Rt_Apd_Ct_", scale(1 / 0.40468564224)),
      downForceMargin: column("DF_Margin_", scale(4.4482216152605)),
      speed: column("Speed_mph_", scale(0.44704)),
    },
    labels: { pass: log.features.map((feature) => String(feature.properties.Pass_Num)) },
    soilZones: soil.features.flatMap((feature) =>
      polygonsOf(feature.geometry).map((rings) => ({
        name: feature.properties.musym,
        rings: rings.map((ring) => ring.map((point) => toUtm.forward(point) as [number, number])),
      })),
    ),
    planter: { rowUnits: 24, rowSpacingM: 0.762 },
  });
}

function polygonsOf(geometry: ZoneFeature["geometry"]): LocalPolygon[] {
  return geometry.type === "Polygon"
    ? [geometry.coordinates as LocalPolygon]
    : (geometry.coordinates as LocalPolygon[]);
}
