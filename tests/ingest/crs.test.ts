import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type CoordinateSystem,
  describeLayer,
  placeInFrame,
  projectColumns,
  readLayer,
  toLonLat,
  utmFrame,
} from "../../src/ingest/index.ts";
import { jsonFile } from "./support/layers.ts";

const system = (definition: string): CoordinateSystem => ({
  basis: "manifest",
  name: definition,
  definition,
});

describe("utmFrame", () => {
  it("takes the zone of the field and an origin of whole kilometres near it", () => {
    // Zone 15 has its central meridian at 93 W, where the easting is 500 000 m (UTM by definition).
    const frame = utmFrame(-93, 42);
    expect([frame.epsg, frame.originX]).toEqual([32615, 500_000]);
    expect(frame.originY % 1000).toBe(0);
    expect(frame.toLocal(-93, 42)[0]).toBeCloseTo(0, 6);
    expect(Math.abs(frame.toLocal(-93, 42)[1])).toBeLessThanOrEqual(500);
    expect([utmFrame(-60, -34).epsg, utmFrame(180, 10).epsg, utmFrame(-180, 10).epsg]).toEqual([
      32721, 32660, 32601,
    ]);
  });

  it("comes back to where it started, within a tenth of a millimetre", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -179.9, max: 179.9, noNaN: true }),
        fc.double({ min: -75, max: 75, noNaN: true }),
        fc.double({ min: -0.05, max: 0.05, noNaN: true }),
        (longitude, latitude, step) => {
          const frame = utmFrame(longitude, latitude);
          const [lon, lat] = frame.toLonLat(...frame.toLocal(longitude + step, latitude - step));
          // One degree is at most 111.7 km, so 1e-9 degrees are 0.1 mm.
          expect(Math.abs(lon - longitude - step)).toBeLessThan(1e-9);
          expect(Math.abs(lat - latitude + step)).toBeLessThan(1e-9);
        },
      ),
    );
  });
});

describe("projectColumns", () => {
  const frame = utmFrame(-93.1, 42.2);

  it("only takes the origin off where the layer is in the zone of the frame, under any of its names", () => {
    const wkt =
      'PROJCS["NAD_1983_UTM_Zone_15N",GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-93.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]';
    const x = Float64Array.of(491_234.123456789, Number.NaN);
    const y = Float64Array.of(4_671_234.987654321, Number.NaN);
    for (const definition of ["EPSG:32615", "EPSG:26915", "+proj=utm +zone=15 +datum=WGS84", wkt]) {
      const local = projectColumns(x, y, system(definition), frame);
      expect([...local.x], definition).toEqual([x[0]! - frame.originX, Number.NaN]);
      expect([...local.y], definition).toEqual([y[0]! - frame.originY, Number.NaN]);
    }
  });

  it("does not take another grid with the same central meridian for its own", () => {
    const [x, y] = [450_000, 4_650_000];
    const place = (definition: string) => placeInFrame(system(definition), frame)(x, y);
    const own = place("EPSG:32615");
    const tmerc = "+proj=tmerc +lat_0=0 +lon_0=-93 +units=m";
    // Scale 1 instead of 0.9996 puts the place 4 parts in ten thousand nearer: 1.86 km of 4650 km.
    const scaled = place(`${tmerc} +k=1 +x_0=500000 +y_0=0 +datum=WGS84`);
    expect(scaled[1] - own[1]).toBeCloseTo(-0.0004 * y, -1);
    expect(place(`${tmerc} +k=0.9996 +x_0=400000 +y_0=0 +datum=WGS84`)[0] - own[0]).toBeGreaterThan(99_000);
    // A shift of the datum by 100 m along the axis to the pole moves places at 42 degrees by some 74 m.
    const shifted = place("+proj=utm +zone=15 +ellps=WGS84 +towgs84=0,0,100");
    expect(Math.hypot(shifted[0] - own[0], shifted[1] - own[1])).toBeGreaterThan(50);
  });

  it("projects any other system: the neighbour zone, degrees, feet", () => {
    const [x, y] = frame.toLocal(-93.12, 42.21);
    for (const definition of [
      "EPSG:4326",
      "EPSG:4269",
      "EPSG:32614",
      "EPSG:3857",
      "+proj=utm +zone=15 +datum=WGS84 +units=us-ft",
    ]) {
      const there = utmLike(definition, -93.12, 42.21);
      const [px, py] = placeInFrame(system(definition), frame)(...there);
      expect(Math.hypot(px - x, py - y), definition).toBeLessThan(1e-3);
    }
    expect(placeInFrame(system("EPSG:4326"), frame)(Number.NaN, 42)).toEqual([Number.NaN, Number.NaN]);
  });
});

/** Coordinates of a place in a system, by inverting `toLonLat` with Newton steps, so that no second converter is needed. */
function utmLike(definition: string, longitude: number, latitude: number): [number, number] {
  const convert = toLonLat(system(definition));
  let [x, y] = definition.startsWith("EPSG:4") ? [longitude, latitude] : [500_000, 4_600_000];
  const step = definition.startsWith("EPSG:4") ? 1e-4 : 10;
  for (let round = 0; round < 60; round++) {
    const [lon, lat] = convert(x, y);
    const [lonX, latX] = convert(x + step, y);
    const [lonY, latY] = convert(x, y + step);
    const [a, b, c, d] = [lonX - lon, lonY - lon, latX - lat, latY - lat].map((value) => value / step) as [
      number,
      number,
      number,
      number,
    ];
    const determinant = a * d - b * c;
    x -= (d * (lon - longitude) - b * (lat - latitude)) / determinant;
    y -= (a * (lat - latitude) - c * (lon - longitude)) / determinant;
  }
  return [x, y];
}

describe("toLonLat", () => {
  it("leaves degrees of WGS 84 and NAD83 alone and refuses a layer without positions", () => {
    for (const definition of ["EPSG:4326", "EPSG:4269"])
      expect(toLonLat(system(definition))(-93, 42)).toEqual([-93, 42]);
    expect(() => toLonLat({ basis: "standard", name: "no positions", definition: null })).toThrow(
      "no positions",
    );
  });

  it("is exact where UTM is exact by definition: the central meridian at the equator", () => {
    const [longitude, latitude] = toLonLat(system("EPSG:32617"))(500_000, 0);
    expect([longitude, latitude]).toEqual([expect.closeTo(-81, 12), expect.closeTo(0, 12)]);
  });
});

describe("describeLayer", () => {
  it("counts, ranges and shows the first values", async () => {
    const features = [
      { a: 2, b: "x" },
      { a: -1, b: null },
      { a: 2, b: "y" },
      { a: null, b: "x" },
    ].map((properties, index) => ({
      type: "Feature",
      properties,
      geometry: index === 3 ? null : { type: "Point", coordinates: [-93 + index, 42 - index] },
    }));
    const layer = await readLayer([jsonFile({ type: "FeatureCollection", features })], {
      role: "x",
      expect: "any",
    });
    const extent = { minX: -93, maxX: -91, minY: 40, maxY: 42 };
    expect(describeLayer(layer)).toEqual({
      file: "layer.geojson",
      recordCount: 4,
      geometry: "point",
      placed: 3,
      crs: "WGS 84, degrees",
      extent,
      extentDegrees: extent,
      columns: [
        { name: "a", kind: "number", blank: 1, distinct: 2, minimum: -1, maximum: 2, examples: ["2", "-1"] },
        {
          name: "b",
          kind: "text",
          blank: 1,
          distinct: 2,
          minimum: null,
          maximum: null,
          examples: ["x", "y"],
        },
      ],
    });
  });
});

const reference = process.env.EVENSTAND_REFERENCE;
describe.runIf(reference)("the real log of 2017 (needs EVENSTAND_REFERENCE)", () => {
  const read = (name: string, reader: "fast" | "library") =>
    readLayer([{ name, bytes: new Uint8Array(readFileSync(`${reference}/data/ohio_corn_2017/${name}`)) }], {
      role: "plantingLog",
      expect: "any",
      reader,
    });

  it("is the same by both readers and in both formats; GDAL's projection agrees within 2 mm", async () => {
    const [degrees, metres] = [
      await read("asplanted.geojson.gz", "fast"),
      await read("asplanted_utm17n.zip", "fast"),
    ];
    expect([degrees.recordCount, metres.recordCount]).toEqual([6382, 6382]);
    expect(metres.columns).toEqual(degrees.columns);
    for (const [name, fast] of [
      ["asplanted.geojson.gz", degrees],
      ["asplanted_utm17n.zip", metres],
    ] as const) {
      expect(await read(name, "library")).toEqual(fast);
    }
    const frame = utmFrame(degrees.x[0]!, degrees.y[0]!);
    expect(frame.epsg).toBe(32617);
    const ours = projectColumns(degrees.x, degrees.y, degrees.crs, frame);
    const gdal = projectColumns(metres.x, metres.y, metres.crs, frame);
    const worst = Math.max(
      ...Array.from(ours.x, (x, i) => Math.hypot(x - gdal.x[i]!, ours.y[i]! - gdal.y[i]!)),
    );
    // The degrees are rounded to 8 decimals: half a unit is 0.6 mm a direction.
    expect(worst).toBeLessThan(2e-3);
  });
});
