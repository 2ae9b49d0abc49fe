/**
 * Rate zones of invented fields (300 in `npm run studies`) as GDAL and GEOS see them: every value read back, no ground twice, none left
 * out, the area of the boundary. Skipped where GDAL is not installed, unless CI is set.
 */
import { execFileSync, spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { drawRateZones } from "../../src/rate-zones/rate-zones.ts";
import { rateZonesGeoJson, rateZonesShapefile } from "../../src/write/rate-zones-files.ts";
import { drawnPrescription, FRAME } from "../prescription/support/drawn-prescription.ts";
import { expectGoodZones } from "../prescription/support/limits-check.ts";
import { randomGround } from "../prescription/support/random-ground.ts";
import { studySize } from "../support/study-size.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

const hasGdal = spawnSync("ogr2ogr", ["--version"]).status === 0;
const wanted = hasGdal || process.env.CI !== undefined;
if (!wanted)
  process.stdout.write("Rate zones are not read by GDAL: ogr2ogr is not installed (Debian: gdal-bin).\n");

const FIELDS = studySize(300, 60);
const SMALLEST_ZONE_M2 = 6000;
const CHANNELS = ["margin", "added-force", "pressure"] as const;
const COLUMN = { margin: "MARGIN_LBF", "added-force": "FORCE_LBF", pressure: "PRESS_PSI" } as const;

/** Rows of a query in the SQL of SQLite with the functions of SpatiaLite, columns by name. */
function query(file: string, sql: string): Record<string, string>[] {
  const text = execFileSync(
    "ogr2ogr",
    ["-f", "CSV", "/vsistdout/", file, "-dialect", "SQLite", "-sql", sql],
    { encoding: "utf8", maxBuffer: 1e8, stdio: ["ignore", "pipe", "pipe"] },
  );
  const [head, ...lines] = text.trim().split("\n");
  const names = head!.split(",");
  return lines.map((line) => {
    const cells = line.split(",");
    return Object.fromEntries(names.map((name, k) => [name, cells[k]!.replaceAll('"', "")]));
  });
}

/** What GDAL reads of one zone, with the area of all zones put together. Areas in m2, in UTM zone 15. */
interface ReadZone {
  values: [zone: number, rate: number, proof: number];
  singleAndValid: boolean;
  areaM2: number;
  wholeM2: number;
}

/** SQL of the zones of a layer: number, load, strip, shape. */
function zonesSql(layer: string, rate: string): string {
  return `z AS (SELECT CAST(ZONE AS INTEGER) AS zone, ${rate} AS rate, CASE PROOF WHEN 'yes' THEN 1 ELSE 0 END AS proof, ST_Transform(geometry, 32615) AS g
                FROM "${layer}" WHERE CAST(ZONE AS INTEGER) > 0),
          u AS (SELECT ST_Union(g) AS g FROM z)`;
}

const ZONE_COLUMNS =
  "zone, rate, proof, ST_IsValid(z.g) AS valid, ST_GeometryType(z.g) AS type, ST_Area(z.g) AS area, ST_Area(u.g) AS whole";

function readZones(rows: Record<string, string>[]): ReadZone[] {
  return rows.map((row) => ({
    values: [Number(row.zone), Number(row.rate), Number(row.proof)],
    singleAndValid: row.valid === "1" && row.type === "POLYGON",
    areaM2: Number(row.area),
    wholeM2: Number(row.whole),
  }));
}

describe.runIf(wanted)("rate zones read by GDAL", () => {
  const folder = temporaryFolder();
  it.each(Array.from({ length: FIELDS }, (_, k) => k + 1))("field %i", (seed) => {
    const field = randomGround(seed);
    const drawn = drawRateZones(field.ground, field.loads, field.limits);
    expectGoodZones(field, drawn, seed);
    const channel = CHANNELS[seed % 3]!;
    const prescription = drawnPrescription(drawn.zones, channel);
    const { name, bytes } = rateZonesShapefile(prescription, FRAME);
    const zip = join(folder, `${seed}-${name}`);
    writeFileSync(zip, bytes);
    const collection = rateZonesGeoJson(prescription, FRAME);
    // The boundary goes into the same file, so that one query sees both.
    const boundary = field.ground.outline.map((polygon) => ({
      type: "Feature",
      properties: { ZONE: "-1" },
      geometry: {
        type: "Polygon",
        coordinates: polygon.map((ring) => ring.map(([x, y]) => FRAME.toLonLat(x, y))),
      },
    }));
    const json = join(folder, `zones-${seed}.geojson`);
    writeFileSync(json, JSON.stringify({ ...collection, features: [...collection.features, ...boundary] }));

    const shapes = query(
      `/vsizip/${zip}`,
      `WITH ${zonesSql(name.replace(".zip", ""), COLUMN[channel])} SELECT ${ZONE_COLUMNS} FROM z, u`,
    );
    // Rounding to 1e-7 degrees moves the edge by a centimetre; ground farther in than 3 cm is no rounding.
    const features = query(
      json,
      `WITH ${zonesSql(`zones-${seed}`, COLUMN[channel])},
            b AS (SELECT ST_Union(ST_MakeValid(ST_Transform(geometry, 32615))) AS g
                  FROM "zones-${seed}" WHERE CAST(ZONE AS INTEGER) < 0)
       SELECT ${ZONE_COLUMNS}, ST_Area(b.g) AS boundary,
              COALESCE(ST_Area(ST_Difference(b.g, ST_Buffer(u.g, 0.03))), 0) AS gap,
              COALESCE(ST_Area(ST_Difference(u.g, ST_Buffer(b.g, 0.03))), 0) AS beyond FROM z, u, b`,
    );
    const areaM2 = drawn.zones.reduce((sum, zone) => sum + zone.areaHa, 0) * 1e4;
    // 0.01 % of the field, or of the smallest zone where the field is smaller: 7 decimals are about a centimetre,
    // which along the edge of a garden plot is more.
    const toleranceM2 = 1e-4 * Math.max(areaM2, SMALLEST_ZONE_M2);
    for (const zones of [readZones(shapes), readZones(features)]) {
      expect(zones.map((zone) => zone.values)).toEqual(
        collection.features.map(({ properties }) => [
          Number(properties.ZONE),
          properties[COLUMN[channel]],
          properties.PROOF === "yes" ? 1 : 0,
        ]),
      );
      expect(zones.filter((zone) => !zone.singleAndValid)).toEqual([]);
      const total = zones.reduce((sum, zone) => sum + zone.areaM2, 0);
      expect(Math.abs(total - zones[0]!.wholeM2)).toBeLessThan(0.1);
      expect(Math.abs(total - areaM2)).toBeLessThan(toleranceM2);
    }

    const { gap, beyond, boundary: boundaryM2, whole } = features[0]!;
    const straightened = drawn.guards.some(
      (guard) => guard.code === "most-vertices" && guard.result === "changed",
    );
    const leftOutM2 = drawn.notes.some((note) => note.effect === "left out") ? 5e-5 * areaM2 : 0;
    const allowedM2 = straightened ? 5e-5 * areaM2 : 1;
    expect(Number(gap)).toBeLessThan(allowedM2 + leftOutM2);
    // A spot gone round twice is ground to us and a hole to GEOS.
    if (field.loop) return;
    expect(Number(beyond)).toBeLessThan(allowedM2);
    expect(Math.abs(Number(whole) - Number(boundaryM2))).toBeLessThan(toleranceM2);
  });
});
