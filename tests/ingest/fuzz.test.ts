/** A few thousand damaged files; the long run is in fuzz.full.test.ts. */
import { describe, expect, it } from "vitest";
import { FileUnusableError } from "../../src/errors.ts";
import { type RawLayer, readLayer } from "../../src/ingest/index.ts";
import { runFuzz } from "./support/fuzz.ts";
import { fixtures } from "./support/fuzz-fixtures.ts";
import { jsonFile, refusalOf, textFile, valuesOf } from "./support/layers.ts";
import { shapefileSet } from "./support/shapefile-bytes.ts";

const options = { role: "plantingLog", expect: "any" } as const;

describe("damaged files", () => {
  it("give a layer that adds up or a reason, in time", async () => {
    const tally = await runFuzz(fixtures(), 3000, 20260424);
    expect(tally.cases).toBe(3000);
    // A reader that refuses everything would pass all else.
    expect(tally.accepted).toBeGreaterThan(1200);
    expect(tally.valueFlipsIntact / tally.valueFlips).toBeGreaterThan(0.6);
  });
});

/** Within 5 s of processor time: a busy machine is no hang. */
const inTime = async (read: () => Promise<unknown>) => {
  const started = process.cpuUsage();
  const outcome = await read();
  const { user, system } = process.cpuUsage(started);
  expect((user + system) / 1000).toBeLessThan(5000);
  return outcome;
};

describe("files made to harm", () => {
  const feature = (geometry: string, properties = "{}") =>
    `{"type":"Feature","properties":${properties},"geometry":${geometry}}`;
  const point = '{"type":"Point","coordinates":[-93,42]}';
  const collection = (...features: string[]) =>
    textFile("a.geojson", `{"type":"FeatureCollection","features":[${features.join(",")}]}`);

  it.each(["fast", "library"] as const)(
    "JSON nested a million deep is refused or noted, %s reader",
    async (reader) => {
      const deep = "[".repeat(1e6) + "]".repeat(1e6);
      const wrapped = `${'{"type":"GeometryCollection","geometries":['.repeat(1e5)}${point}${"]}".repeat(1e5)}`;
      const read = (...features: string[]) =>
        inTime(async () => {
          try {
            return await readLayer([collection(...features)], { ...options, reader });
          } catch (error) {
            expect(error).toBeInstanceOf(FileUnusableError);
            return null;
          }
        }) as Promise<RawLayer | null>;
      const asProperty = await read(feature(point), feature(point, `{"a":${deep}}`));
      expect(asProperty?.recordCount).toBe(2);
      expect(asProperty?.notes).toContainEqual(expect.objectContaining({ field: "a", firstRecord: 2 }));
      const asCoordinates = await read(feature(point), feature(`{"type":"Polygon","coordinates":${deep}}`));
      expect(asCoordinates?.x[0]).toBe(-93);
      await read(feature(point), feature(wrapped));
      await inTime(() => refusalOf([textFile("a.geojson", deep)], { reader }));
      await inTime(() => refusalOf([textFile("a.geojson", '{"a":'.repeat(3e5))], { reader }));
    },
  );

  it("property names of JavaScript's own stay names", async () => {
    for (const reader of ["fast", "library"] as const) {
      const text = collection(
        feature(point, '{"__proto__":{"polluted":1},"constructor":2,"toString":3,"hasOwnProperty":4}'),
      );
      const layer = await readLayer([text], { ...options, reader });
      expect(layer.columns.map(({ name }) => name)).toEqual([
        "__proto__",
        "constructor",
        "toString",
        "hasOwnProperty",
      ]);
      expect(valuesOf(layer, "constructor")).toEqual([2]);
    }
    const csv = await readLayer([textFile("a.csv", "lon,lat,__proto__\n-93,42,7\n")], options);
    expect(valuesOf(csv, "__proto__")).toEqual([7]);
    expect(({} as { polluted?: number }).polluted).toBeUndefined();
  });

  it("coordinates that are none are left out, the other records are used", async () => {
    const layer = await readLayer(
      [
        collection(
          feature(point),
          feature('{"type":"Point","coordinates":[1e308,-1e308]}'),
          feature('{"type":"Point","coordinates":[NaN,42]}'),
          feature('{"type":"Point","coordinates":[-93,4q2]}'),
          feature(point),
        ),
      ],
      options,
    );
    expect([...layer.x]).toEqual([-93, NaN, NaN, NaN, -93]);
    const metres = await readLayer(
      shapefileSet(
        [
          { type: 1, x: 450_000, y: 4_650_000 },
          { type: 1, x: 1e308, y: 1e308 },
          { type: 1, x: Infinity, y: 1 },
        ],
        null,
        null,
      ),
      { ...options, crs: "EPSG:32615" },
    );
    expect([...metres.x]).toEqual([450_000, NaN, NaN]);
    const ring = [
      [0, 0],
      [1e308, 0],
      [1e308, 1e308],
      [0, 0],
    ];
    const huge = { type: "Polygon", coordinates: [ring] };
    expect(
      (
        await refusalOf([jsonFile({ type: "Feature", properties: {}, geometry: huge })], {
          expect: "polygon",
        })
      ).message,
    ).toMatch(/1e\+308/);
  });

  it("rings of a million vertices are read, also where every edge overlaps every other", async () => {
    const around = Array.from({ length: 1e6 }, (_, index): [number, number] => {
      const angle = -(index / 1e6) * 2 * Math.PI;
      return [-93 + Math.cos(angle) / 100, 42 + Math.sin(angle) / 100];
    });
    around.push(around[0]!);
    const smooth = (await inTime(() =>
      readLayer(shapefileSet([{ type: 5, parts: [around] }], null), { ...options, expect: "polygon" }),
    )) as RawLayer;
    expect(smooth.polygons![0]![0]![0]!.length).toBe(1e6 + 1);
    expect(smooth.notes).toEqual([expect.objectContaining({ effect: "kept" })]);
    const combed = Array.from({ length: 1e5 }, (_, index): [number, number] => {
      const side = index % 2;
      return [-93 + side / 50 + index / 1e8, 42 + (1 - side) / 50 + index / 1e8];
    });
    combed.push(combed[0]!);
    const comb = (await inTime(() =>
      readLayer(shapefileSet([{ type: 5, parts: [combed] }], null), { ...options, expect: "polygon" }),
    )) as RawLayer;
    expect(comb.recordCount).toBe(1);
  });

  it("ten thousand rings in one record find their outer rings in time", async () => {
    const parts = Array.from({ length: 20_000 }, (_, index): [number, number][] => {
      const [x, y] = [-93 + (index >> 1) / 1e4, 42];
      const s = index % 2 === 0 ? 1 / 20_000 : 1 / 50_000;
      const o = index % 2 === 0 ? 0 : 1 / 80_000;
      const ring: [number, number][] = [
        [x + o, y + o],
        [x + o, y + o + s],
        [x + o + s, y + o + s],
        [x + o + s, y + o],
        [x + o, y + o],
      ];
      return index % 2 === 0 ? ring : ring.reverse();
    });
    const layer = (await inTime(() =>
      readLayer(shapefileSet([{ type: 5, parts }], null), { role: "soilZones", expect: "polygon" }),
    )) as RawLayer;
    expect(layer.polygons![0]!.length).toBe(10_000);
    expect(layer.polygons![0]!.every((rings) => rings.length === 2)).toBe(true);
  });

  it("a text full of half features comes to an end", async () => {
    const half = '{"type":"Feature","properties":{"a":'.repeat(60_000);
    await inTime(() => refusalOf([textFile("a.geojson", `{"type":"FeatureCollection","features":[${half}`)]));
    const quotes = `{"type":"FeatureCollection","features":[${feature(point)},${feature(point)},${'{"'.repeat(200_000)}`;
    const layer = (await inTime(() => readLayer([textFile("a.geojson", quotes)], options))) as RawLayer;
    expect([layer.recordCount, layer.recordsInFile]).toEqual([2, 3]);
  });
});
