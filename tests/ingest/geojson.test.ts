import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { FileUnusableError } from "../../src/errors.ts";
import { readLayer } from "../../src/ingest/index.ts";
import { contentOf, jsonFile, READERS, refusalOf, textFile, valuesOf } from "./support/layers.ts";

const read = (
  value: unknown,
  reader: "fast" | "library",
  expect: "any" | "point" | "polygon" | "table" = "any",
) => readLayer([jsonFile(value)], { role: "standCounts", expect, reader });

const point = (x: number, y: number, properties: Record<string, unknown> | null = {}) => ({
  type: "Feature",
  properties,
  geometry: { type: "Point", coordinates: [x, y] },
});
const polygon = (...rings: [number, number][][]) => ({
  type: "Feature",
  properties: {},
  geometry: { type: "Polygon", coordinates: rings },
});
const collection = (...features: unknown[]) => ({ type: "FeatureCollection", features });

const SQUARE: [number, number][] = [
  [0, 0],
  [4, 0],
  [4, 4],
  [0, 4],
  [0, 0],
];

/** A property name a scanner could trip over: quotes, escapes, braces, letters beyond ASCII. */
const propertyName = fc.string({ minLength: 1, maxLength: 8, unit: fc.constantFrom(...'ab"\\{}[],:é\n ') });
const longitude = fc.double({ min: -180, max: 180, noNaN: true }).map((value) => (value === 0 ? 0 : value));
/** Beyond 66 degrees no field lies, and two numbers may stand the wrong way round. */
const latitude = fc.double({ min: 1, max: 66, noNaN: true });
/** JSON text knows no minus zero. */
const plainNumber = fc
  .double({ noNaN: true, noDefaultInfinity: true })
  .map((value) => (value === 0 ? 0 : value));
const propertyValue = fc.oneof(
  plainNumber,
  fc.integer(),
  fc.boolean(),
  fc.constant(null),
  fc.string({ unit: fc.constantFrom(...'ab"\\{}é✓ ') }),
);

describe.each(READERS)("readLayer on GeoJSON, %s reader", (reader) => {
  it("gives back positions and properties of any points", async () => {
    const features = fc.array(
      fc.record({
        x: longitude,
        y: latitude,
        properties: fc.dictionary(propertyName, propertyValue, { maxKeys: 5 }),
      }),
      { minLength: 1, maxLength: 8 },
    );
    await fc.assert(
      fc.asyncProperty(features, fc.constantFrom(0, 1, 2), async (records, indent) => {
        const value = collection(...records.map(({ x, y, properties }) => point(x, y, properties)));
        const text = JSON.stringify(value, null, indent);
        const layer = await readLayer([textFile("a.geojson", text)], { role: "x", expect: "point", reader });
        expect([...layer.x]).toEqual(records.map(({ x }) => x));
        expect([...layer.y]).toEqual(records.map(({ y }) => y));
        const names = new Set(records.flatMap(({ properties }) => Object.keys(properties)));
        expect(new Set(layer.columns.map(({ name }) => name))).toEqual(names);
        for (const name of names) {
          const given = records.map(({ properties }) =>
            Object.hasOwn(properties, name) ? properties[name] : null,
          );
          const values = given.map((value) => {
            if (typeof value === "boolean") return Number(value);
            return typeof value === "string" && value.trim() === "" ? null : value;
          });
          const isText = values.some((value) => typeof value === "string");
          expect(valuesOf(layer, name)).toEqual(
            values.map((value) => (isText && typeof value === "number" ? String(value) : value)),
          );
        }
      }),
    );
  });

  it("makes a number column of numbers, booleans and plain numbers in text", async () => {
    const layer = await read(
      collection(
        point(1, 2, { a: 1, b: true, c: "2.50", d: "007" }),
        point(2, 3, { a: null, b: false, c: 3 }),
      ),
      reader,
    );
    expect(layer.columns.map(({ name, kind }) => `${name} ${kind}`)).toEqual([
      "a number",
      "b number",
      "c number",
      "d text",
    ]);
    expect(["a", "b", "c", "d"].map((name) => valuesOf(layer, name))).toEqual([
      [1, null],
      [1, 0],
      [2.5, 3],
      ["007", null],
    ]);
    expect(layer.notes).toEqual([
      expect.objectContaining({ effect: "converted", field: "c", count: 1, firstRecord: 1, value: "2.50" }),
    ]);
  });

  it("makes a text column where one value is no number, and says so", async () => {
    const layer = await read(collection(point(1, 2, { lot: 12.5 }), point(2, 3, { lot: "B" })), reader);
    expect(valuesOf(layer, "lot")).toEqual(["12.5", "B"]);
    expect(layer.notes).toEqual([
      expect.objectContaining({ effect: "converted", field: "lot", value: "12.5" }),
    ]);
  });

  it("keeps lists and objects as JSON text with a note", async () => {
    const layer = await read(collection(point(1, 2, { a: [1, 2] }), point(1, 3, { a: { b: "}" } })), reader);
    expect(valuesOf(layer, "a")).toEqual(["[1,2]", '{"b":"}"}']);
    expect(layer.notes[0]).toMatchObject({ field: "a", count: 2, firstRecord: 1, effect: "kept" });
  });

  it("is WGS 84 degrees by the standard, also where the file says so itself", async () => {
    for (const crs of [undefined, { type: "name", properties: { name: "urn:ogc:def:crs:OGC:1.3:CRS84" } }]) {
      const layer = await read({ ...collection(point(-93, 42)), crs }, reader);
      expect(layer.crs).toEqual({ basis: "standard", name: "WGS 84, degrees", definition: "EPSG:4326" });
      expect(layer.notes).toEqual([]);
    }
  });

  it("uses another system that the crs member names, before or behind the features", async () => {
    const crs = { type: "name", properties: { name: "urn:ogc:def:crs:EPSG::32615" } };
    for (const value of [
      { crs, ...collection(point(450000, 4650000)) },
      { ...collection(point(450000, 4650000)), crs },
    ]) {
      const layer = await read(value, reader);
      expect(layer.crs).toMatchObject({ basis: "file", definition: "EPSG:32615" });
      expect(layer.notes).toEqual([expect.objectContaining({ effect: "converted", field: "crs" })]);
    }
  });

  it("refuses a crs member it does not understand, and metres passed off as degrees", async () => {
    const odd = {
      ...collection(point(1, 2)),
      crs: { type: "name", properties: { name: "urn:x:EPSG::99999" } },
    };
    expect((await refusalOf([jsonFile(odd)], { reader })).message).toMatch(
      /layer\.geojson.*EPSG:99999.*accepted/,
    );
    const metres = await refusalOf([jsonFile(collection(point(450000, 4650000)))], { reader });
    expect(metres.message).toMatch(/450000, 4650000.*metres.*"crs" with the code/);
    const beyond = await refusalOf([jsonFile(collection(point(95, -120)))], { reader });
    expect(beyond.message).toMatch(/95, -120.*longitude then latitude/);
  });

  it("takes metres where the manifest says which", async () => {
    const layer = await readLayer([jsonFile(collection(point(450000, 4650000)))], {
      role: "x",
      expect: "point",
      crs: "EPSG:32615",
      reader,
    });
    expect(layer.crs).toEqual({ basis: "manifest", name: "EPSG:32615", definition: "EPSG:32615" });
    expect([layer.x[0], layer.y[0]]).toEqual([450000, 4650000]);
  });

  it("keeps the records of unusable positions, without their place", async () => {
    const broken = {
      type: "Feature",
      properties: { n: 2 },
      geometry: { type: "Point", coordinates: ["-93", 42] },
    };
    const beyond = point(500, 42, { n: 3 });
    const bare = { type: "Feature", properties: { n: 4 }, geometry: null };
    const noFix = point(0, 0, { n: 5 });
    const layer = await read(collection(point(-93, 42, { n: 1 }), broken, beyond, bare, noFix), reader);
    expect([...layer.x]).toEqual([-93, NaN, NaN, NaN, NaN]);
    expect([...layer.y]).toEqual([42, NaN, NaN, NaN, NaN]);
    expect(valuesOf(layer, "n")).toEqual([1, 2, 3, 4, 5]);
    expect(layer.notes.map(({ firstRecord, effect }) => [firstRecord, effect]).sort()).toEqual([
      [2, "left out"],
      [3, "left out"],
      [4, "left out"],
      [5, "left out"],
    ]);
  });

  it("leaves out what is no feature and remembers the numbers in the file", async () => {
    const layer = await read(
      collection(point(1, 2, { a: 1 }), null, { type: "Featre" }, point(3, 4, { a: 4 })),
      reader,
    );
    expect([...layer.fileRecord!]).toEqual([1, 4]);
    expect([...layer.x]).toEqual([1, 3]);
    expect(valuesOf(layer, "a")).toEqual([1, 4]);
    expect(layer.notes).toEqual([
      expect.objectContaining({ effect: "left out", count: 2, firstRecord: 2, value: "null" }),
    ]);
  });

  it("takes a single feature, a bare geometry, one point in a MultiPoint, and drops heights", async () => {
    expect((await read(point(1, 2, { a: 5 }), reader)).recordCount).toBe(1);
    const multi = await read({ type: "MultiPoint", coordinates: [[-93, 42, 300]] }, reader);
    expect([multi.geometry, multi.x[0], multi.y[0], multi.notes]).toEqual(["point", -93, 42, []]);
  });

  it("turns and closes rings, and says so", async () => {
    const open = SQUARE.slice(0, 4);
    const turned = SQUARE.toReversed();
    const layer = await read(collection(polygon(SQUARE), polygon(open), polygon(turned)), reader, "polygon");
    expect(layer.polygons).toEqual([[[SQUARE]], [[SQUARE]], [[SQUARE]]]);
    expect([...layer.x]).toEqual([2, 2, 2]);
    expect(layer.notes).toEqual([
      expect.objectContaining({
        effect: "converted",
        count: 1,
        firstRecord: 2,
        reason: expect.stringContaining("closed"),
      }),
      expect.objectContaining({
        effect: "converted",
        count: 1,
        firstRecord: 3,
        reason: expect.stringContaining("turned"),
      }),
    ]);
  });

  it("puts the position of a polygon record at the centroid of its area, holes taken off", async () => {
    const hole: [number, number][] = [
      [0, 0],
      [0, 4],
      [2, 4],
      [2, 0],
      [0, 0],
    ];
    const layer = await read(collection(polygon(SQUARE, hole)), reader, "polygon");
    // What is left is the right half of the square: x from 2 to 4.
    expect(layer.x[0]).toBeCloseTo(3, 12);
    expect(layer.y[0]).toBeCloseTo(2, 12);
  });

  it("notes a ring that crosses itself and leaves out polygons without area", async () => {
    const bowTie: [number, number][] = [
      [0, 0],
      [4, 4],
      [4, 0],
      [0, 3],
      [0, 0],
    ];
    const flat: [number, number][] = [
      [0, 0],
      [1, 1],
      [2, 2],
      [0, 0],
    ];
    const layer = await read(
      collection(polygon(bowTie), polygon(flat), polygon(SQUARE), polygon([])),
      reader,
    );
    expect(layer.polygons!.map((record) => record.length)).toEqual([1, 0, 1, 0]);
    expect(layer.notes).toContainEqual(
      expect.objectContaining({
        effect: "kept",
        count: 1,
        firstRecord: 1,
        reason: expect.stringContaining("crosses itself"),
      }),
    );
    expect(layer.notes).toContainEqual(
      expect.objectContaining({ effect: "left out", count: 2, firstRecord: 2 }),
    );
    expect([layer.x[1], layer.x[3]]).toEqual([NaN, NaN]);
  });

  it("finds the crossing in a long ring, lying or standing, and none in a smooth one", async () => {
    const wave = (flatten: [number, number], crossed: boolean): [number, number][] => {
      const ring = Array.from({ length: 400 }, (_, index): [number, number] => {
        const angle = (index / 400) * 2 * Math.PI;
        return [Math.cos(angle) * flatten[0], Math.sin(angle) * flatten[1]];
      });
      if (crossed) [ring[50], ring[51]] = [ring[51]!, ring[50]!];
      return [...ring, ring[0]!];
    };
    for (const flatten of [
      [10, 0.1],
      [0.1, 10],
    ] as [number, number][]) {
      const layer = await read(
        collection(polygon(wave(flatten, false)), polygon(wave(flatten, true))),
        reader,
      );
      expect(layer.notes.map(({ effect, firstRecord }) => [effect, firstRecord])).toEqual([["kept", 2]]);
    }
  });

  it("refuses what is no GeoJSON, empty, or of the wrong kind", async () => {
    const refusal = async (text: string, expect: "any" | "point" | "polygon" | "table" = "any") =>
      (await refusalOf([textFile("log.geojson", text)], { reader, expect })).message;
    expect(await refusal("")).toMatch(/log\.geojson.*ends too early/);
    expect(await refusal("{ nonsense }")).toMatch(/log\.geojson: not JSON at byte 3.*nonsense/);
    expect(
      await refusal('{"type":"FeatureCollection","features":[{"type":"Feature"}, {"type":"Feature" "x":1}]}'),
    ).toMatch(/not JSON.*feature 2/);
    expect(await refusal("[1, 2]")).toContain("log.geojson");
    expect(await refusal('{"type":"Topology"}')).toMatch(/"Topology".*accepted/);
    expect(await refusal('{"type":"FeatureCollection","features":{}}')).toMatch(/no list of "features"/);
    expect(await refusal(JSON.stringify(collection()))).toMatch(/no records.*plantingLog/);
    expect(await refusal(JSON.stringify(collection(point(1, 2))), "polygon")).toMatch(
      /1 point;.*plantingLog are polygons/,
    );
    expect(await refusal(JSON.stringify(collection(polygon(SQUARE))), "point")).toMatch(
      /1 polygon;.*are points/,
    );
    const line = collection({
      type: "Feature",
      properties: {},
      geometry: {
        type: "LineString",
        coordinates: [
          [0, 0],
          [1, 1],
        ],
      },
    });
    expect(await refusal(JSON.stringify(line))).toMatch(/LineString.*points or polygons/);
    const bare = collection({ type: "Feature", properties: {}, geometry: null });
    expect(await refusal(JSON.stringify(bare), "table")).toContain("neither positions nor columns");
  });

  it("uses the whole features of a file that was cut off", async () => {
    const whole = JSON.stringify(
      collection(point(1, 2, { a: 1 }), point(3, 4, { a: 2 }), point(5, 6, { a: 3 })),
    );
    const cut = whole.slice(0, whole.indexOf('"a":3') + 4);
    const layer = await readLayer([textFile("a.geojson", cut)], { role: "x", expect: "any", reader });
    expect([...layer.x]).toEqual([1, 3]);
    expect(valuesOf(layer, "a")).toEqual([1, 2]);
    expect(layer.notes).toEqual([expect.objectContaining({ effect: "left out", firstRecord: 3 })]);
  });

  it("reads a bare NaN as missing", async () => {
    const text = JSON.stringify(collection(point(1, 2, { a: 1 }), point(3, 4, { a: 7 }))).replace(
      '"a":7',
      '"a":NaN',
    );
    const layer = await readLayer([textFile("a.geojson", text)], { role: "x", expect: "any", reader });
    expect(valuesOf(layer, "a")).toEqual([1, null]);
    expect(layer.notes).toEqual([
      expect.objectContaining({ effect: "left out", field: "a", firstRecord: 2 }),
    ]);
  });

  it("needs no geometry for a table", async () => {
    const layer = await read(
      collection({ type: "Feature", properties: { a: 1 }, geometry: null }),
      reader,
      "table",
    );
    expect([layer.geometry, layer.crs.definition, layer.x[0]]).toEqual(["none", null, NaN]);
  });
});

describe("the two GeoJSON readers", () => {
  it("make the same layer of any mixture of good and odd features", async () => {
    const ring = fc.array(fc.tuple(longitude, latitude), { minLength: 3, maxLength: 6 });
    const geometry = fc.oneof(
      fc.record({ type: fc.constant("Point"), coordinates: fc.tuple(longitude, latitude) }),
      fc.record({
        type: fc.constant("Polygon"),
        coordinates: fc.array(ring, { minLength: 1, maxLength: 2 }),
      }),
      fc.record({
        type: fc.constant("LineString"),
        coordinates: fc.array(fc.tuple(longitude, latitude), { minLength: 2 }),
      }),
      fc.constant(null),
    );
    const feature = fc.oneof(
      {
        weight: 9,
        arbitrary: fc.record({
          type: fc.constant("Feature"),
          properties: fc.dictionary(propertyName, propertyValue, { maxKeys: 3 }),
          geometry,
        }),
      },
      { weight: 1, arbitrary: fc.constant({ type: "Other" }) },
    );
    let compared = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(feature, { minLength: 1, maxLength: 6 }), async (features) => {
        const made = await Promise.all(
          READERS.map((reader) =>
            read(collection(...features), reader).then(contentOf, (error: Error) => error.message),
          ),
        );
        expect(made[0]).toEqual(made[1]);
        if (typeof made[0] === "object") compared++;
      }),
    );
    expect(compared).toBeGreaterThan(20);
  });
});

const reference = process.env.EVENSTAND_REFERENCE;
describe.runIf(reference)("conformance GeoJSON (needs EVENSTAND_REFERENCE)", () => {
  const folder = `${reference}/data/conformance/geojsonhint`;
  const filesOf = (kind: "good" | "bad") =>
    readdirSync(`${folder}/${kind}`)
      .filter((name) => name.endsWith(".geojson"))
      .map((name) => ({ name, bytes: new Uint8Array(readFileSync(`${folder}/${kind}/${name}`)) }));
  const outcome = async (file: { name: string; bytes: Uint8Array }, reader: "fast" | "library") => {
    try {
      return await readLayer([file], { role: "x", expect: "any", reader });
    } catch (error) {
      expect(error, file.name).toBeInstanceOf(FileUnusableError);
      return null;
    }
  };

  it("both readers make the same of each", async () => {
    for (const file of [...filesOf("good"), ...filesOf("bad")]) {
      const [fast, library] = await Promise.all(READERS.map((reader) => outcome(file, reader)));
      expect(fast && contentOf(fast!), file.name).toEqual(library && contentOf(library!));
    }
  });
});
