/**
 * Round trips with GDAL as the other side: random logs written by `ogr2ogr` in six coordinate systems and three text
 * encodings come back in place and to the letter. Skipped where GDAL is not installed, unless CI is set.
 */
import { execFileSync, spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type RawLayer, readLayer, toLonLat } from "../../src/ingest/index.ts";
import { randomFrom } from "./support/fuzz.ts";
import { valuesOf } from "./support/layers.ts";

const hasGdal = spawnSync("ogr2ogr", ["--version"]).status === 0;
const wanted = hasGdal || process.env.CI !== undefined;
if (!wanted)
  process.stdout.write(
    "The round trips with GDAL are skipped: ogr2ogr is not installed (Debian: gdal-bin).\n",
  );

/** WGS 84; UTM on WGS 84 and NAD83; state plane in US survey and in international feet; web Mercator. */
const SYSTEMS = [
  { code: 4326, longitude: -93.6, latitude: 42.1 },
  { code: 32615, longitude: -93.6, latitude: 42.1 },
  { code: 26917, longitude: -82.9, latitude: 40.7 },
  { code: 3417, longitude: -93.6, latitude: 42.6 },
  { code: 2253, longitude: -84.4, latitude: 42.2 },
  { code: 3857, longitude: -89.1, latitude: 40.3 },
] as const;
const ENCODINGS = [
  { name: "UTF-8", letters: "aäößéñŁ✓я" },
  { name: "ISO-8859-1", letters: "aäößéñÅØ" },
  { name: "CP850", letters: "aäößéñÅ½" },
] as const;
/** How WKT can be written: GDAL's own `.prj` is the first. */
const FLAVOURS = ["wkt_esri", "wkt1", "wkt2_2015", "wkt2_2019"] as const;

const RECORDS = 200;
const METRES_PER_DEGREE = 111_320;

interface Log {
  x: Float64Array;
  y: Float64Array;
  depth: number[];
  unit: number[];
  lot: string[];
  day: string[];
}

function randomLog(seed: number, longitude: number, latitude: number, letters: string): Log {
  const random = randomFrom(seed);
  const symbols = [...letters];
  const share = () => random(1e9) / 1e9;
  const make = <T>(one: () => T) => Array.from({ length: RECORDS }, one);
  return {
    x: Float64Array.from(make(() => longitude + share() / 100)),
    y: Float64Array.from(make(() => latitude + share() / 100)),
    depth: make(() => Number((1 + share()).toFixed(1 + random(6)))),
    unit: make(() => 1 + random(24)),
    lot: make(
      () =>
        `lot ${make(() => symbols[random(symbols.length)]!)
          .slice(0, 1 + random(12))
          .join("")}.`,
    ),
    day: make(() => `2026-0${4 + random(2)}-${10 + random(20)}`),
  };
}

function geoJsonOf(log: Log): string {
  return JSON.stringify({
    type: "FeatureCollection",
    features: log.unit.map((unit, record) => ({
      type: "Feature",
      properties: { DEPTH_IN: log.depth[record], UNIT: unit, LOT: log.lot[record], DAY: log.day[record] },
      geometry: { type: "Point", coordinates: [log.x[record], log.y[record]] },
    })),
  });
}

/** Largest distance between where the layer puts its records and where the log had them, metres. */
function worstDistance(layer: RawLayer, log: Log): number {
  const convert = toLonLat(layer.crs);
  let worst = 0;
  for (let record = 0; record < RECORDS; record++) {
    const [longitude, latitude] = convert(layer.x[record]!, layer.y[record]!);
    const east = (longitude - log.x[record]!) * METRES_PER_DEGREE * Math.cos((latitude * Math.PI) / 180);
    const north = (latitude - log.y[record]!) * METRES_PER_DEGREE;
    worst = Math.max(worst, Math.hypot(east, north));
  }
  return worst;
}

function expectSame(layer: RawLayer, log: Log): void {
  expect(layer.recordCount).toBe(RECORDS);
  expect(valuesOf(layer, "DEPTH_IN")).toEqual(log.depth);
  expect(valuesOf(layer, "UNIT")).toEqual(log.unit);
  expect(valuesOf(layer, "LOT")).toEqual(log.lot);
  // GDAL writes dates in CSV with slashes.
  expect(valuesOf(layer, "DAY").map((day) => String(day).replaceAll("/", "-"))).toEqual(log.day);
  // A millimetre, far below what any receiver tells.
  expect(worstDistance(layer, log)).toBeLessThan(1e-3);
}

describe.runIf(wanted)("logs written by GDAL", () => {
  let folder = "";
  beforeAll(() => {
    if (!hasGdal) throw new Error("ogr2ogr is not installed (Debian: gdal-bin), and CI needs it");
    folder = mkdtempSync(join(tmpdir(), "evenstand-gdal-"));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const options = { role: "plantingLog", expect: "point" } as const;
  const setIn = (place: string) =>
    readdirSync(place).map((name) => ({ name, bytes: new Uint8Array(readFileSync(join(place, name))) }));

  describe.each(SYSTEMS)("in EPSG:$code", ({ code, longitude, latitude }) => {
    it.each(ENCODINGS)(
      "come back from shapefiles in $name, whatever the flavour of the .prj",
      async ({ name, letters }) => {
        const log = randomLog(code + name.length, longitude, latitude, letters);
        const place = join(folder, `${code}-${name}`);
        mkdirSync(place);
        const source = `${place}.geojson`;
        writeFileSync(source, geoJsonOf(log));
        execFileSync("ogr2ogr", [
          ...["-f", "ESRI Shapefile", join(place, "log.shp"), source],
          ...["-t_srs", `EPSG:${code}`, "-lco", `ENCODING=${name}`],
        ]);
        const files = setIn(place);
        expectSame(await readLayer(files, options), log);
        if (name === "CP850") {
          // GDAL leaves the language byte zero; 2 stands for code page 850 and has to tell without the .cpg.
          const table = files.find((file) => file.name.endsWith(".dbf"))!;
          const named = { name: table.name, bytes: table.bytes.slice() };
          named.bytes[29] = 2;
          const others = files.filter((file) => file !== table && !file.name.endsWith(".cpg"));
          expectSame(await readLayer([...others, named], options), log);
        }
        for (const flavour of FLAVOURS) {
          const wkt = execFileSync("gdalsrsinfo", ["-o", flavour, `EPSG:${code}`], { encoding: "utf8" });
          const others = files.filter((file) => !file.name.endsWith(".prj"));
          expect(wkt).toMatch(/^\s*[A-Z]+\[/);
          expect(wkt).toMatch(/^\s*[A-Z]+\[/);
          const prj = { name: "log.prj", bytes: new TextEncoder().encode(wkt) };
          expectSame(await readLayer([...others, prj], options), log);
        }
        expectSame(await readLayer(files, { ...options, crs: `EPSG:${code}` }), log);
        expectSame(await readLayer(files, { ...options, reader: "library" }), log);
      },
    );

    it("come back from GeoJSON, one feature a line too, and from CSV", async () => {
      const log = randomLog(code, longitude, latitude, ENCODINGS[0].letters);
      const source = join(folder, `${code}.geojson`);
      writeFileSync(source, geoJsonOf(log));
      const written = (format: string, name: string, ...more: string[]) => {
        const path = join(folder, `${code}-out-${name}`);
        execFileSync("ogr2ogr", ["-f", format, path, source, "-t_srs", `EPSG:${code}`, ...more]);
        return [{ name, bytes: new Uint8Array(readFileSync(path)) }];
      };
      const json = written("GeoJSON", "log.geojson", "-lco", "COORDINATE_PRECISION=11");
      expectSame(await readLayer(json, options), log);
      const csv = written("CSV", "log.csv", "-lco", "GEOMETRY=AS_XY");
      expectSame(await readLayer(csv, { ...options, crs: `EPSG:${code}` }), log);
      if (code !== 4326) return;
      expectSame(
        await readLayer(written("GeoJSONSeq", "log.geojsonl", "-lco", "COORDINATE_PRECISION=11"), options),
        log,
      );
    });
  });
});
