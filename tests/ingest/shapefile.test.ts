import { readFileSync } from "node:fs";
import fc from "fast-check";
import { zipSync } from "fflate";
import { read as readWithOracle } from "shapefile";
import { describe, expect, it } from "vitest";
import { readLayer } from "../../src/ingest/index.ts";
import { contentOf, READERS, refusalOf, valuesOf } from "./support/layers.ts";
import {
  type Shape,
  shapeBytes,
  shapefileSet,
  tableBytes,
  viewOf,
  WGS84_PRJ,
} from "./support/shapefile-bytes.ts";

type Ring = [number, number][];

/** Clockwise, as shapefiles wind outer rings. */
const box = (left: number, bottom: number, size: number): Ring => [
  [left, bottom],
  [left, bottom + size],
  [left + size, bottom + size],
  [left + size, bottom],
  [left, bottom],
];

const points = (count: number): Shape[] =>
  Array.from({ length: count }, (_, index) => ({ type: 1, x: -93 + index / 8, y: 42 + index / 16 }));

const NUMBER = { name: "DEPTH_IN", type: "N", length: 9, decimals: 3 };

const cellText = fc.string({ maxLength: 6, unit: fc.constantFrom(..."abé ß✓1.") }).map((text) => text.trim());

describe.each(READERS)("readLayer on shapefiles, %s reader", (reader) => {
  const options = { role: "soilZones", expect: "any", reader } as const;

  it("gives the records the shapefile library gives, for any points, numbers, texts and truth values", async () => {
    const record = fc.record({
      x: fc.double({ min: -180, max: 180, noNaN: true }),
      y: fc.double({ min: 10, max: 66, noNaN: true }),
      number: fc.option(fc.double({ min: -9999, max: 9999, noNaN: true })),
      text: cellText,
      flag: fc.constantFrom("T", "y", "F", "n", "?", " "),
      type: fc.constant(1),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(record, { minLength: 1, maxLength: 12 }), async (records) => {
        const dbf = tableBytes(
          [
            NUMBER,
            { name: "F", type: "F", length: 12 },
            { name: "TEXT", type: "C", length: 24 },
            { name: "OK", type: "L", length: 1 },
          ],
          records.map(({ number, text, flag }) => [
            number === null ? "" : number.toFixed(3),
            number === null ? "" : number.toExponential(4),
            // A word in front keeps the column text: texts that all are numbers would be read as numbers.
            text === "" ? "" : `w ${text}`,
            flag,
          ]),
        );
        const shapes = records.map(({ x, y }): Shape => ({ type: 1, x, y }));
        const cpg = { name: "layer.cpg", bytes: new TextEncoder().encode("UTF-8") };
        const layer = await readLayer([...shapefileSet(shapes, dbf), cpg], options);
        const oracle = await readWithOracle(shapeBytes(shapes).shp, dbf, { encoding: "utf-8" });
        expect(Array.from(layer.x, (x, index) => [x, layer.y[index]])).toEqual(
          oracle.features.map((feature) => (feature.geometry as GeoJSON.Point).coordinates),
        );
        for (const name of ["DEPTH_IN", "F", "TEXT", "OK"]) {
          expect(valuesOf(layer, name)).toEqual(
            oracle.features.map((feature) => {
              const value = feature.properties![name] as unknown;
              return typeof value === "boolean" ? Number(value) : value;
            }),
          );
        }
      }),
    );
  });

  it.each([11, 21] as const)("passes over the Z and M of point type %i", async (type) => {
    const layer = await readLayer(shapefileSet([{ type, x: -93, y: 42 }], null), options);
    expect([layer.geometry, layer.x[0], layer.y[0]]).toEqual(["point", -93, 42]);
  });

  it.each([5, 15, 25] as const)(
    "puts parts of polygon type %i together: islands, holes, islands in holes",
    async (type) => {
      const hole = box(1, 1, 4).toReversed();
      const shapes: Shape[] = [
        { type, parts: [box(0, 0, 6), hole, box(2, 2, 1), box(10, 10, 2)] },
        { type, parts: [hole, box(0, 0, 6)] },
      ];
      const layer = await readLayer(shapefileSet(shapes, null), { ...options, expect: "polygon" });
      const turned = (ring: Ring) => ring.toReversed();
      expect(layer.polygons).toEqual([
        [[turned(box(0, 0, 6)), turned(hole)], [turned(box(2, 2, 1))], [turned(box(10, 10, 2))]],
        [[turned(box(0, 0, 6)), turned(hole)]],
      ]);
      // Turning outer rings from the shapefile's way to GeoJSON's is no trouble worth a note.
      expect(layer.notes.filter(({ effect }) => effect === "converted")).toEqual([]);
    },
  );

  it("keeps records without a shape, and leaves out deleted ones", async () => {
    const shapes: Shape[] = [
      { type: 1, x: -93, y: 42 },
      null,
      { type: 1, x: -92, y: 41 },
      { type: 1, x: -91, y: 40 },
    ];
    const dbf = tableBytes([NUMBER], [["1"], ["2"], ["3"], ["4"]], { deleted: [2] });
    const layer = await readLayer(shapefileSet(shapes, dbf), options);
    expect([...layer.x]).toEqual([-93, NaN, -91]);
    expect(valuesOf(layer, "DEPTH_IN")).toEqual([1, 2, 4]);
    expect([...layer.fileRecord!]).toEqual([1, 2, 4]);
    expect(layer.notes.map(({ effect, count, firstRecord }) => [effect, count, firstRecord])).toEqual([
      ["left out", 1, 3],
      ["left out", 1, 2],
    ]);
  });

  it("reads odd numbers: asterisks and rubbish are missing, a decimal comma is a point, each noted", async () => {
    const dbf = tableBytes([NUMBER], [["1.5"], ["*********"], ["2,5"], ["deep"], [""], ["*********"]]);
    const layer = await readLayer(shapefileSet(points(6), dbf), options);
    expect(valuesOf(layer, "DEPTH_IN")).toEqual([1.5, null, 2.5, null, null, null]);
    expect(layer.notes).toEqual([
      expect.objectContaining({
        effect: "left out",
        field: "DEPTH_IN",
        count: 2,
        firstRecord: 2,
        value: "*********",
      }),
      expect.objectContaining({
        effect: "converted",
        field: "DEPTH_IN",
        count: 1,
        firstRecord: 3,
        value: "2,5",
      }),
      expect.objectContaining({
        effect: "left out",
        field: "DEPTH_IN",
        count: 1,
        firstRecord: 4,
        value: "deep",
      }),
    ]);
  });

  it("writes dates the ISO way; blank and impossible ones are missing", async () => {
    const dbf = tableBytes(
      [{ name: "DAY", type: "D", length: 8 }],
      [["20260424"], [""], ["20260231"], ["00000000"]],
    );
    const layer = await readLayer(shapefileSet(points(4), dbf), options);
    expect(valuesOf(layer, "DAY")).toEqual(["2026-04-24", null, null, null]);
    expect(layer.notes).toEqual([
      expect.objectContaining({ field: "DAY", count: 1, firstRecord: 3, value: "20260231" }),
    ]);
  });

  it("reads whole numbers, doubles, money and time stamps stored as bytes", async () => {
    const cell = (fill: (view: DataView) => void, length: number) => {
      const bytes = new Uint8Array(length);
      fill(viewOf(bytes));
      return bytes;
    };
    const dbf = tableBytes(
      [
        { name: "I", type: "I", length: 4 },
        { name: "B", type: "B", length: 8 },
        { name: "Y", type: "Y", length: 8 },
        { name: "T", type: "T", length: 8 },
      ],
      [
        [
          cell((view) => view.setInt32(0, -70000, true), 4),
          cell((view) => view.setFloat64(0, 2.25, true), 8),
          cell((view) => view.setBigInt64(0, 45_000n, true), 8),
          cell((view) => {
            // Julian day 2461155 is 2026-04-24 (day number of 2000-01-01, 2451545, and 9610 days).
            view.setInt32(0, 2_461_155, true);
            view.setInt32(4, 3_600_000, true);
          }, 8),
        ],
      ],
      { version: 0x30 },
    );
    const layer = await readLayer(shapefileSet(points(1), dbf), options);
    expect(["I", "B", "Y", "T"].map((name) => valuesOf(layer, name)[0])).toEqual([
      -70000,
      2.25,
      4.5,
      "2026-04-24T01:00:00.000Z",
    ]);
  });

  it("keeps hundreds of different texts apart", async () => {
    const texts = Array.from({ length: 700 }, (_, index) => `lot ${(index * 37) % 350}`);
    const dbf = tableBytes(
      [{ name: "LOT", type: "C", length: 8 }],
      texts.map((text) => [text]),
    );
    const layer = await readLayer(shapefileSet(points(700), dbf), options);
    expect(valuesOf(layer, "LOT")).toEqual(texts);
    expect(layer.columns[0]).toMatchObject({ kind: "text", labels: { length: 350 } });
  });

  it("names two columns of one name apart, and says which column type it cannot read", async () => {
    const dbf = tableBytes([NUMBER, NUMBER, { name: "MEMO", type: "M", length: 10 }], [["1", "2", ""]]);
    const layer = await readLayer(shapefileSet(points(1), dbf), options);
    expect([valuesOf(layer, "DEPTH_IN"), valuesOf(layer, "DEPTH_IN_2")]).toEqual([[1], [2]]);
    expect(layer.notes.map(({ field }) => field)).toEqual(["DEPTH_IN", "MEMO"]);
  });

  it("reads text in the encoding the .cpg or the table names, else tries UTF-8, then windows-1252", async () => {
    const column = [{ name: "ZONE", type: "C", length: 8 }];
    const latin = new Uint8Array([0x4c, 0xf6, 0xdf]);
    const utf8 = new TextEncoder().encode("Löß");
    const zoneOf = async (cell: Uint8Array, languageByte: number, cpg?: string) => {
      const set = shapefileSet(points(1), tableBytes(column, [[cell]], { languageByte }));
      if (cpg) set.push({ name: "LAYER.CPG", bytes: new TextEncoder().encode(cpg) });
      const layer = await readLayer(set, options);
      return [valuesOf(layer, "ZONE")[0], layer.notes.length];
    };
    expect(await zoneOf(utf8, 0, "UTF-8")).toEqual(["Löß", 0]);
    expect(await zoneOf(latin, 0, "ISO 8859-1\r\n")).toEqual(["Löß", 0]);
    expect(await zoneOf(new Uint8Array([0xc1]), 0, "1251")).toEqual(["Б", 0]);
    expect(await zoneOf(latin, 0x57)).toEqual(["Löß", 0]);
    expect(await zoneOf(utf8, 0)).toEqual(["Löß", 1]);
    expect(await zoneOf(latin, 0)).toEqual(["Löß", 1]);
    expect(await zoneOf(latin, 0, "klingon")).toEqual(["Löß", 1]);
  });

  it("uses what is whole of a cut file and notes the rest", async () => {
    const set = shapefileSet(points(4), tableBytes([NUMBER], [["1"], ["2"], ["3"], ["4"]]));
    const cut = set.map((file) => ({
      ...file,
      bytes: file.bytes.slice(0, file.name.endsWith(".shp") ? -10 : undefined),
    }));
    const layer = await readLayer(cut, options);
    expect(layer.recordCount).toBe(3);
    expect(valuesOf(layer, "DEPTH_IN")).toEqual([1, 2, 3]);
    expect(layer.notes[0]).toMatchObject({ effect: "left out", firstRecord: 4 });

    const cutTable = set.map((file) => ({
      ...file,
      bytes: file.bytes.slice(0, file.name.endsWith(".dbf") ? -14 : undefined),
    }));
    const short = await readLayer(cutTable, options);
    expect(short.recordCount).toBe(4);
    expect(valuesOf(short, "DEPTH_IN")).toEqual([1, 2, null, null]);
    expect(short.notes[0]).toMatchObject({ effect: "left out", count: 2, firstRecord: 3 });
  });

  it("steps over a damaged record where the index tells the next one", async () => {
    const set = shapefileSet(points(3), tableBytes([NUMBER], [["1"], ["2"], ["3"]]));
    const shp = set.find((file) => file.name.endsWith(".shp"))!.bytes;
    viewOf(shp).setInt32(100 + 28 + 4, -5, false);
    const layer = await readLayer(set, options);
    expect(valuesOf(layer, "DEPTH_IN")).toEqual([1, 2, 3]);
    expect([...layer.x]).toEqual([-93, NaN, -92.75]);
    expect(layer.notes).toContainEqual(
      expect.objectContaining({ effect: "left out", firstRecord: 2, count: 1 }),
    );

    const withoutIndex = set.filter((file) => !file.name.endsWith(".shx"));
    // Points all have one length, so the next record is found by its number.
    expect(valuesOf(await readLayer(withoutIndex, options), "DEPTH_IN")).toEqual([1, 2, 3]);
    const lastBroken = set.map((file) => ({ ...file, bytes: file.bytes.slice() }));
    viewOf(lastBroken[0]!.bytes).setInt32(100 + 2 * 28 + 4, -5, false);
    const cut = await readLayer(lastBroken, options);
    expect([cut.recordCount, cut.recordsInFile]).toEqual([2, 3]);
  });

  it("does not follow counts a record makes up", async () => {
    const set = shapefileSet(
      [
        { type: 5, parts: [box(0, 0, 2)] },
        { type: 5, parts: [box(5, 5, 2)] },
      ],
      null,
    );
    const view = viewOf(set[0]!.bytes);
    view.setInt32(100 + 8 + 40, 1_000_000_000, true);
    const layer = await readLayer(set, { ...options, reader: "fast" });
    expect(layer.polygons!.map((record) => record.length)).toEqual([0, 1]);
    expect(layer.notes).toContainEqual(expect.objectContaining({ effect: "left out", firstRecord: 1 }));
  });

  it("takes no-data coordinates for missing", async () => {
    const layer = await readLayer(
      shapefileSet([...points(1), { type: 1, x: -1e39, y: -1e39 }, { type: 1, x: NaN, y: 42 }], null),
      options,
    );
    expect([...layer.x]).toEqual([-93, NaN, NaN]);
    expect(layer.notes).toContainEqual(
      expect.objectContaining({ effect: "left out", count: 2, firstRecord: 2 }),
    );
  });

  it("refuses what is no shapefile, empty, or of the wrong kind", async () => {
    const refusal = async (...args: Parameters<typeof refusalOf>) =>
      (await refusalOf(args[0], { reader, ...args[1] })).message;
    const set = shapefileSet(points(1), tableBytes([NUMBER], [["1"]]));
    const withPart = (extension: string, bytes: Uint8Array) =>
      set.map((file) => (file.name.endsWith(extension) ? { ...file, bytes } : file));
    expect(await refusal(withPart(".shp", new Uint8Array(200)))).toMatch(
      /layer\.shp.*file code 0.*accepted.*9994/,
    );
    expect(await refusal(withPart(".shp", new Uint8Array(0)))).toMatch(/layer\.shp/);
    expect(await refusal(withPart(".dbf", new Uint8Array(10)))).toMatch(/layer\.shp.*\.dbf.*accepted/);
    expect(await refusal(shapefileSet([], null))).toMatch(/no records/);
    expect(await refusal(shapefileSet(points(1), tableBytes([NUMBER], [["1"]], { deleted: [0] })))).toMatch(
      /no records/,
    );
    expect(await refusal(set, { expect: "polygon" })).toMatch(/1 point;.*are polygons/);
    expect(await refusal(shapefileSet([{ type: 3, parts: [box(0, 0, 1)] }], null))).toMatch(
      /PolyLine.*points or polygons/,
    );
    expect(await refusal(shapefileSet([null], null))).toMatch(/no geometry/);
  });

  it("knows its coordinate system from the .prj, the manifest or the range of the numbers, in this order of trust", async () => {
    const metres: Shape[] = [{ type: 1, x: 450_000, y: 4_650_000 }];
    const utm =
      'PROJCS["NAD_1983_UTM_Zone_15N",GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-93.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]';
    const crsOf = async (shapes: Shape[], prj: string | null, crs?: string) =>
      (await readLayer(shapefileSet(shapes, null, prj), { ...options, crs })).crs;
    expect(await crsOf(metres, utm)).toEqual({
      basis: "file",
      name: "NAD_1983_UTM_Zone_15N",
      definition: utm,
    });
    expect(await crsOf(metres, utm, "EPSG:32615")).toMatchObject({
      basis: "manifest",
      definition: "EPSG:32615",
    });
    expect(await crsOf(points(2), null)).toMatchObject({ basis: "range", definition: "EPSG:4326" });
    const assumed = await readLayer(shapefileSet(points(2), null, null), options);
    expect(assumed.notes).toContainEqual(expect.objectContaining({ effect: "assumed" }));
    const unknown = await refusalOf(shapefileSet(metres, null, null), { reader });
    expect(unknown.message).toMatch(/coordinate system is unknown.*450000.*\.prj.*"crs" with the code/);
    expect((await refusalOf(shapefileSet(metres, null, "LOCAL_CS[]"), { reader })).message).toMatch(
      /LOCAL_CS.*accepted/,
    );
    expect((await refusalOf(shapefileSet(metres, null, null), { reader, crs: "EPSG:1" })).message).toMatch(
      /EPSG:1/,
    );
  });
});

describe("shapes that are seldom met", () => {
  const ring = (west: number, south: number, size: number, turned = false): [number, number][] => {
    const corners: [number, number][] = [
      [west, south],
      [west, south + size],
      [west + size, south + size],
      [west + size, south],
      [west, south],
    ];
    return turned ? corners.reverse() : corners;
  };
  const table = (rows: number) =>
    tableBytes(
      [{ name: "A", type: "N", length: 4 }],
      Array.from({ length: rows }, (_, row) => [String(row)]),
    );
  const read = (files: ReturnType<typeof shapefileSet>) =>
    readLayer(files, { role: "soilZones", expect: "polygon" });

  it("multipatches of rings are polygons seen from above; those of triangles are refused by name", async () => {
    const patch = {
      type: 31 as const,
      parts: [ring(-93.6, 42, 0.01), ring(-93.597, 42.003, 0.002, true)],
      partTypes: [2, 3],
    };
    const layer = await read(shapefileSet([patch], table(1)));
    expect(layer.polygons![0]!.map((rings) => rings.length)).toEqual([2]);
    expect(layer.notes).toEqual([]);
    await expect(read(shapefileSet([{ ...patch, partTypes: [0, 0] }], table(1)))).rejects.toThrow(
      /MultiPatch of triangles/,
    );
  });

  it("a hole that crosses its outer ring is noted, one that touches it is not", async () => {
    const outer = ring(-93.6, 42, 0.01);
    for (const [hole, count] of [
      [ring(-93.5925, 42.003, 0.005, true), 1],
      [ring(-93.6, 42.003, 0.005, true), 0],
    ] as const) {
      const layer = await read(shapefileSet([{ type: 5, parts: [outer, hole] }], table(1)));
      expect(
        layer.notes.filter(({ reason }) => reason.includes("a hole crosses its outer ring")),
      ).toHaveLength(count);
    }
  });

  it("a damaged index is noted, and the shapes are read without it", async () => {
    const shapes = [0, 1, 2].map((k) => ({ type: 5 as const, parts: [ring(-93.6 + 0.02 * k, 42, 0.01)] }));
    for (const spoil of [
      (shx: Uint8Array) => shx.fill(7, 108, 112),
      (shx: Uint8Array) => shx.subarray(0, 108),
      (shx: Uint8Array) => shx.fill(0, 100),
    ]) {
      const files = shapefileSet(shapes, table(3));
      files[1] = { name: files[1]!.name, bytes: spoil(files[1]!.bytes) };
      const layer = await read(files);
      expect(layer.recordCount).toBe(3);
      expect(layer.notes.map(({ reason }) => reason).join()).toContain("the index (.shx) is damaged");
    }
    expect((await read(shapefileSet(shapes, table(3)))).notes).toEqual([]);
  });
});

describe("the two shapefile readers", () => {
  it("make the same layer of any polygons", async () => {
    const ring = fc
      .tuple(
        fc.integer({ min: -90, max: 80 }),
        fc.integer({ min: -80, max: 70 }),
        fc.integer({ min: 1, max: 10 }),
        fc.boolean(),
      )
      .map(([left, bottom, size, hole]) =>
        hole ? box(left, bottom, size).toReversed() : box(left, bottom, size),
      );
    // The library gives a hole to the first outer ring around it, ours to the smallest: one outer ring tells no difference.
    const shape = fc.tuple(ring, fc.integer({ min: 1, max: 3 })).map(([outer, holes]): Shape => {
      const [left, bottom] = outer[0]!;
      const inner = Array.from({ length: holes }, (_, index) =>
        box(left + 0.1 + index * 0.2, bottom + 0.1, 0.1).toReversed(),
      );
      return { type: 5, parts: [outer, ...inner] };
    });
    await fc.assert(
      fc.asyncProperty(fc.array(fc.option(shape), { minLength: 1, maxLength: 5 }), async (shapes) => {
        fc.pre(shapes.some((candidate) => candidate !== null));
        const made = await Promise.all(
          READERS.map((reader) =>
            readLayer(shapefileSet(shapes, null), { role: "x", expect: "any", reader }).then(contentOf),
          ),
        );
        expect(made[0]).toEqual(made[1]);
      }),
    );
  });
});

describe("zipped shapefiles", () => {
  it("are found in folders, in mixed case, among what desktop systems leave behind", async () => {
    const { shp, shx } = shapeBytes(points(2));
    const dbf = tableBytes([NUMBER], [["1.5"], ["2.5"]]);
    const bytes = zipSync({
      "export/2026/Planting.SHP": shp,
      "export/2026/planting.shx": shx,
      "export/2026/PLANTING.dbf": dbf,
      "export/2026/Planting.Prj": new TextEncoder().encode(WGS84_PRJ),
      "export/2026/.DS_Store": new Uint8Array(4),
      "__MACOSX/export/2026/._Planting.SHP": new Uint8Array(4),
      "__MACOSX/planting.shp": new Uint8Array(4),
      "export/2026/planting.sbn": new Uint8Array(4),
    });
    const layer = await readLayer([{ name: "planting.zip", bytes }], { role: "plantingLog", expect: "any" });
    expect(layer.file).toBe("planting.zip");
    expect(valuesOf(layer, "DEPTH_IN")).toEqual([1.5, 2.5]);
    expect(layer.crs).toMatchObject({ basis: "file", name: "GCS_WGS_1984" });
  });
});

const reference = process.env.EVENSTAND_REFERENCE;
describe.runIf(reference)("conformance shapefiles (need EVENSTAND_REFERENCE)", () => {
  const folder = `${reference}/data/conformance`;
  const bytesOf = (path: string) => new Uint8Array(readFileSync(path));
  const optional = (path: string) => {
    try {
      return bytesOf(path);
    } catch {
      return null;
    }
  };

  it("give the library's records, or say why not", async () => {
    for (const name of [
      "mixed-properties",
      "number-property",
      "string-property",
      "utf8-property",
      "latin1-property",
    ]) {
      const stem = `${folder}/mbostock_shapefile/${name}`;
      const [shp, dbf, cpg] = [bytesOf(`${stem}.shp`), bytesOf(`${stem}.dbf`), optional(`${stem}.cpg`)];
      const files = [
        { name: "a.shp", bytes: shp },
        { name: "a.dbf", bytes: dbf },
        ...(cpg ? [{ name: "a.cpg", bytes: cpg }] : []),
      ];
      const layer = await readLayer(files, { role: "plantingLog", expect: "any" });
      const oracle = await readWithOracle(shp, dbf, { encoding: cpg ? "utf-8" : "windows-1252" });
      for (const { name: column } of layer.columns) {
        expect(valuesOf(layer, column), `${name} ${column}`).toEqual(
          oracle.features.map((feature) => feature.properties![column]),
        );
      }
    }
  });

  it("read blockgroups.zip alike with both readers: 663 polygons of a city", async () => {
    const files = [{ name: "blockgroups.zip", bytes: bytesOf(`${folder}/pyshp/blockgroups.zip`) }];
    const [fast, library] = await Promise.all(
      READERS.map((reader) => readLayer(files, { role: "x", expect: "polygon", reader }).then(contentOf)),
    );
    expect(fast!.recordCount).toBe(663);
    expect(fast).toEqual(library);
  });

  it("refuse what is damaged or holds nothing", async () => {
    const part = (extension: string) => ({
      name: `a${extension}`,
      bytes: bytesOf(`${folder}/pyshp/corrupt_too_long${extension}`),
    });
    expect((await refusalOf([part(".shp"), part(".shx"), part(".dbf")])).message).toContain("PolyLine");
    const empty = { name: "empty_zipfile.zip", bytes: bytesOf(`${folder}/pyshp/empty_zipfile.zip`) };
    expect((await refusalOf([empty])).message).toContain("dummyfile.txt");
  });
});
