/** Archives and loose files: several layers as one, traps, and what hides behind a name. */
import { gzipSync, strToU8, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { readLayer, type StreamedFile } from "../../src/ingest/index.ts";
import { contentOf, jsonFile, refusalOf, textFile, valuesOf } from "./support/layers.ts";
import {
  type Shape,
  shapeBytes,
  shapefileSet,
  tableBytes,
  viewOf,
  WGS84_PRJ,
} from "./support/shapefile-bytes.ts";

const options = { role: "plantingLog", expect: "any" } as const;
const DEPTH = { name: "DEPTH_IN", type: "N", length: 9, decimals: 3 };
const LOT = { name: "LOT", type: "C", length: 6 };

/** Files of one day in an archive: points from -93 on, one row each. */
function day(
  stem: string,
  rows: (string | Uint8Array)[][],
  columns = [DEPTH, LOT],
  where: { x: number; y: number; prj: string } = { x: -93, y: 42, prj: WGS84_PRJ },
): Record<string, Uint8Array> {
  const shapes = rows.map((_, index): Shape => ({ type: 1, x: where.x + index / 8, y: where.y }));
  const { shp, shx } = shapeBytes(shapes);
  return {
    [`${stem}.shp`]: shp,
    [`${stem}.shx`]: shx,
    [`${stem}.dbf`]: tableBytes(columns, rows),
    [`${stem}.prj`]: strToU8(where.prj),
  };
}
const zip = (entries: Record<string, Uint8Array>, name = "log.zip") => [{ name, bytes: zipSync(entries) }];

describe("several layers of one kind", () => {
  it("become one log by the names of their columns, in the order of their file names", async () => {
    const layer = await readLayer(
      zip({
        ...day("2026/day2", [["2.5", "B"]]),
        ...day("2026/day1", [
          ["1.5", "A"],
          ["*********", "B"],
        ]),
      }),
      options,
    );
    expect([valuesOf(layer, "DEPTH_IN"), valuesOf(layer, "LOT")]).toEqual([
      [1.5, null, 2.5],
      ["A", "B", "B"],
    ]);
    expect([...layer.x]).toEqual([-93, -92.875, -93]);
    expect(layer.parts).toEqual([
      { name: "2026/day1.shp", begin: 0, end: 2 },
      { name: "2026/day2.shp", begin: 2, end: 3 },
    ]);
    expect(layer.notes).toEqual([
      expect.objectContaining({
        field: "DEPTH_IN",
        firstRecord: 2,
        count: 1,
        reason: expect.stringContaining("in 2026/day1.shp, record 2 there"),
      }),
    ]);
  });

  it("count their records through, those that were dropped too", async () => {
    const first = day("a", [
      ["1", "A"],
      ["2", "A"],
      ["3", "A"],
    ]);
    first["a.dbf"] = tableBytes(
      [DEPTH, LOT],
      [
        ["1", "A"],
        ["2", "A"],
        ["3", "A"],
      ],
      { deleted: [1] },
    );
    const layer = await readLayer(zip({ ...first, ...day("b", [["4", "*"]]) }), options);
    expect([...layer.fileRecord!]).toEqual([1, 3, 4]);
    expect([layer.recordCount, layer.recordsInFile]).toEqual([3, 4]);
  });

  it("may miss columns or hold other types: said, and nothing lost", async () => {
    const layer = await readLayer(
      zip({
        ...day("a", [["1.5", "12"]], [DEPTH, { ...LOT, type: "N" }]),
        ...day("b", [["2.5", "B"]]),
        ...day("c", [["3.5"]], [DEPTH]),
      }),
      options,
    );
    expect(valuesOf(layer, "LOT")).toEqual(["12", "B", null]);
    expect(layer.notes).toContainEqual(
      expect.objectContaining({ effect: "converted", field: "LOT", value: "numbers in a.shp" }),
    );
    expect(layer.notes).toContainEqual(
      expect.objectContaining({ effect: "kept", field: "LOT", count: 1, value: "c.shp" }),
    );
  });

  it("are carried into degrees where their systems differ", async () => {
    const utm =
      'PROJCS["UTM_15N",GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-93.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]';
    // On the central meridian the easting is 500 000 m by the definition of UTM.
    const metres = day("b", [["2", "A"]], [DEPTH, LOT], { x: 500_000, y: 4_649_776, prj: utm });
    const layer = await readLayer(zip({ ...day("a", [["1", "A"]]), ...metres }), options);
    expect(layer.crs.definition).toBe("EPSG:4326");
    expect(layer.x[1]).toBeCloseTo(-93, 9);
    expect(layer.y[1]).toBeCloseTo(42, 2);
    expect(layer.notes).toContainEqual(expect.objectContaining({ effect: "converted", count: 2 }));
  });

  it("are refused where they are different things, and read without the one that is damaged", async () => {
    const counts = day("counts", [["30"]], [{ ...DEPTH, name: "PLANTS" }]);
    const different = (await refusalOf(zip({ ...day("log", [["1", "A"]]), ...counts }))).message;
    expect(different).toMatch(/log\.zip: holds several different layers: counts\.shp.*log\.shp/);
    const broken = { ...day("a", [["1", "A"]]), "b.shp": new Uint8Array(120) };
    const layer = await readLayer(zip(broken), options);
    expect(layer.recordCount).toBe(1);
    expect(layer.notes).toContainEqual(
      expect.objectContaining({
        effect: "left out",
        value: "b.shp",
        reason: expect.stringContaining("file code"),
      }),
    );
  });

  it("may be loose files; what could be a layer and is not read is named", async () => {
    const feature = (a: number) => ({
      type: "Feature",
      properties: { a },
      geometry: { type: "Point", coordinates: [-93, 42] },
    });
    const layer = await readLayer(
      [jsonFile(feature(1), "a.geojson"), jsonFile(feature(2), "b.geojson")],
      options,
    );
    expect([layer.file, valuesOf(layer, "a")]).toEqual(["a.geojson, b.geojson", [1, 2]]);
    const beside = await readLayer(
      zip({ ...day("a", [["1", "A"]]), "summary.csv": strToU8("x,y\n1,2\n") }),
      options,
    );
    expect(beside.notes).toEqual([
      expect.objectContaining({ effect: "left out", reason: expect.stringContaining("summary.csv") }),
    ]);
  });
});

describe("archives that are traps or damaged", () => {
  const feature = strToU8(
    '{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"a":1},"geometry":{"type":"Point","coordinates":[-93,42]}}]}',
  );

  it("are refused when they unpack to too much, saying the limits", async () => {
    const bomb = zipSync({ "log.geojson": new Uint8Array(8) }, { level: 9 });
    const view = viewOf(bomb);
    // The directory entry claims 3 GiB, then 300 MiB of a few bytes.
    const entry = bomb.length - 22 - 46 - "log.geojson".length;
    expect(view.getUint32(entry, true)).toBe(0x02014b50);
    view.setUint32(entry + 24, 3 * 2 ** 30, true);
    expect((await refusalOf([{ name: "log.zip", bytes: bomb }])).message).toMatch(
      /unpacks to 3221225472 bytes, more than the limit of 2147483648/,
    );
    view.setUint32(entry + 24, 300 * 2 ** 20, true);
    expect((await refusalOf([{ name: "log.zip", bytes: bomb }])).message).toMatch(
      /314572800 bytes, \d+ times its size; beyond 134217728 bytes the limit is 100 times/,
    );
  });

  it("give no more than they admit to, and their checksums are looked at", async () => {
    const bytes = zipSync({ "log.geojson": feature });
    const view = viewOf(bytes);
    const entry = bytes.length - 22 - 46 - "log.geojson".length;
    view.setUint32(entry + 24, 10, true);
    expect((await refusalOf([{ name: "log.zip", bytes }])).message).toMatch(/log\.geojson: it is damaged/);
    const stored = zipSync({ "log.geojson": [feature, { level: 0 }] });
    stored[40 + 20] = stored[40 + 20]! ^ 1;
    expect((await refusalOf([{ name: "log.zip", bytes: stored }])).message).toContain("checksum");
    const gz = gzipSync(feature);
    gz[gz.length - 6] = gz[gz.length - 6]! ^ 1;
    expect((await refusalOf([{ name: "log.geojson.gz", bytes: gz }])).message).toContain("checksum");
  });

  it("are not followed out of the archive", async () => {
    const layer = await readLayer(
      zip({ "../../etc/log2.geojson": feature, "log.geojson": feature }),
      options,
    );
    expect(layer.recordCount).toBe(1);
    expect(layer.notes).toEqual([
      expect.objectContaining({
        effect: "left out",
        value: "../../etc/log2.geojson",
        reason: expect.stringContaining("climbs out"),
      }),
    ]);
    expect((await refusalOf(zip({ "/log.geojson": feature }))).message).toContain("climbs out");
  });

  it("tell what hides behind a name", async () => {
    const html = strToU8("<!DOCTYPE html><html><body>Please log in</body></html>");
    const png = Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0, 0, 0);
    const said = async (name: string, bytes: Uint8Array) => (await refusalOf([{ name, bytes }])).message;
    expect(await said("log.shp", html)).toMatch(/log\.shp: is a web page \(HTML\) under another name/);
    expect(await said("log.zip", html)).toMatch(/log\.zip.*web page/);
    expect(await said("log.zip", png)).toMatch(/PNG picture/);
    expect(await said("log.geojson", html)).toMatch(/web page/);
    expect(await said("log.csv", png)).toMatch(/PNG picture/);
    expect(await said("log.shp", zipSync({ "a.shp": html }))).toMatch(/a\.shp: is a web page/);
  });
});

describe("files read piece by piece", () => {
  /** Gives no more than it is asked for, and overwrites what it gave before. */
  const inPieces = (name: string, bytes: Uint8Array): StreamedFile => {
    let given = new Uint8Array(0);
    return {
      name,
      size: bytes.length,
      read(offset, length) {
        given.fill(0xff);
        expect(offset + length).toBeLessThanOrEqual(bytes.length);
        given = bytes.slice(offset, offset + length);
        return given;
      },
    };
  };
  const many = (count: number) =>
    Array.from({ length: count }, (_, index) => ({
      type: "Feature",
      properties: { n: index, lot: `lot ${index % 7}`, pad: "x".repeat(300) },
      geometry: { type: "Point", coordinates: [-93 + index / 1e6, 42] },
    }));

  it("give the layer that whole files give, at whatever byte the pieces end", async () => {
    const features = many(30_000);
    const collection = JSON.stringify({ type: "FeatureCollection", features, name: "log" });
    // More than two pieces of 4 MiB, so that pieces end within features.
    expect(collection.length).toBeGreaterThan(9 << 20);
    for (const text of [collection, features.map((feature) => JSON.stringify(feature)).join("\n")]) {
      const whole = await readLayer([textFile("a.geojson", text)], options);
      const pieces = await readLayer([inPieces("a.geojson", strToU8(text))], options);
      expect(pieces.recordCount).toBe(30_000);
      expect(pieces.notes).toEqual([]);
      for (const [index, column] of pieces.columns.entries()) expect(column).toEqual(whole.columns[index]);
      expect(pieces.x).toEqual(whole.x);
    }
  });

  it("are the parts of a shapefile too", async () => {
    const rows = Array.from({ length: 20_000 }, (_, index) => [
      String(index),
      `lot ${index % 9}`,
      "y".repeat(240),
    ]);
    const shapes = rows.map((_, index): Shape => ({ type: 1, x: -93 + index / 1e6, y: 42 }));
    const set = shapefileSet(
      shapes,
      tableBytes([DEPTH, LOT, { name: "PAD", type: "C", length: 250 }], rows, { deleted: [7, 16_500] }),
    );
    const whole = await readLayer(set, options);
    const pieces = await readLayer(
      set.map(({ name, bytes }) => inPieces(name, bytes)),
      options,
    );
    expect(pieces.recordCount).toBe(19_998);
    expect(pieces.columns).toEqual(whole.columns);
    const kept = rows.map((_, index) => index).filter((index) => index !== 7 && index !== 16_500);
    expect(valuesOf(pieces, "DEPTH_IN")).toEqual(kept);
    expect(valuesOf(pieces, "LOT")).toEqual(kept.map((index) => `lot ${index % 9}`));
    expect([...pieces.x]).toEqual(kept.map((index) => -93 + index / 1e6));
    expect([...pieces.fileRecord!.slice(0, 8)]).toEqual([1, 2, 3, 4, 5, 6, 7, 9]);
  });
});

describe("one feature after the other", () => {
  const line = (n: number) =>
    `{"type":"Feature","properties":{"n":${n}},"geometry":{"type":"Point","coordinates":[-93,42]}}`;

  it.each(["fast", "library"] as const)("is read whatever stands between them, %s reader", async (reader) => {
    for (const text of [
      `${line(1)}\n${line(2)}\n`,
      `\x1e${line(1)}\n\x1e${line(2)}`,
      `${line(1)},\r\n${line(2)}`,
    ]) {
      for (const name of ["a.ndjson", "a.geojsonl", "a.json", "a.geojson"]) {
        const layer = await readLayer([textFile(name, text)], { ...options, reader });
        expect(valuesOf(layer, "n"), name).toEqual([1, 2]);
        expect(layer.notes).toEqual([]);
      }
    }
  });

  it("leaves out a damaged line alone", async () => {
    const layer = await readLayer(
      [textFile("a.ndjson", [1, 2, 3].map(line).join("\n").replace('"n":2}', '"n":2]'))],
      options,
    );
    expect(contentOf(layer).fileRecord).toEqual([1, 3]);
    expect(layer.notes).toEqual([expect.objectContaining({ effect: "left out", firstRecord: 2, count: 1 })]);
  });
});
