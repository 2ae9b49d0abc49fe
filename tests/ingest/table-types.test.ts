/** Kinds of attribute tables beyond the common one: dBASE 7, long texts, code pages of DOS, headers that do not fit. */
import { describe, expect, it } from "vitest";
import { type InputFile, readLayer } from "../../src/ingest/index.ts";
import { valuesOf } from "./support/layers.ts";
import { type Shape, shapefileSet, tableBytes, viewOf } from "./support/shapefile-bytes.ts";

const options = { role: "plantingLog", expect: "any" } as const;
const points = (count: number): Shape[] =>
  Array.from({ length: count }, (_, index) => ({ type: 1, x: -93 + index / 8, y: 42 }));
const NUMBER = { name: "DEPTH_IN", type: "N", length: 9, decimals: 3 };
const bytesOf = (fill: (view: DataView) => void, length: number) => {
  const bytes = new Uint8Array(length);
  fill(viewOf(bytes));
  return bytes;
};

describe("a dBASE 7 table", () => {
  /** 68 bytes of header, 48 a column; whole numbers and doubles are stored so that they sort as bytes. */
  function dbase7(): Uint8Array {
    const columns = [
      { name: "A_NAME_LONGER_THAN_TEN_LETTERS", type: "C", length: 6 },
      { name: "COUNT", type: "I", length: 4 },
      { name: "DEPTH", type: "O", length: 8 },
      { name: "LOGGED", type: "@", length: 8 },
    ];
    const firstRow = 68 + 48 * columns.length + 1;
    const rowLength = 1 + 26;
    const bytes = new Uint8Array(firstRow + 2 * rowLength + 1).fill(0x20, firstRow);
    const view = viewOf(bytes);
    bytes[0] = 4;
    view.setUint32(4, 2, true);
    view.setUint16(8, firstRow, true);
    view.setUint16(10, rowLength, true);
    for (const [index, { name, type, length }] of columns.entries()) {
      const at = 68 + 48 * index;
      bytes.set(new TextEncoder().encode(name), at);
      bytes[at + 32] = type.charCodeAt(0);
      bytes[at + 33] = length;
    }
    bytes[firstRow - 1] = 0x0d;
    for (const [row, { count, depth }] of [
      { count: -3, depth: -2.5 },
      { count: 70_000, depth: 1.75 },
    ].entries()) {
      const at = firstRow + row * rowLength + 1;
      bytes.set(new TextEncoder().encode("lot B"), at);
      view.setInt32(at + 6, count ^ -0x80000000, false);
      view.setFloat64(at + 10, depth, false);
      if (depth > 0) bytes[at + 10] = bytes[at + 10]! ^ 0x80;
      else for (let byte = at + 10; byte < at + 18; byte++) bytes[byte] = bytes[byte]! ^ 0xff;
      // Julian day 2461155 is 2026-04-24 (day number of 2000-01-01, 2451545, and 9610 days).
      view.setUint32(at + 18, (2_461_155 | 0x80000000) >>> 0, false);
      view.setUint32(at + 22, (3_600_000 | 0x80000000) >>> 0, false);
    }
    return bytes;
  }

  it("is read with its own columns and numbers", async () => {
    const layer = await readLayer(shapefileSet(points(2), dbase7()), options);
    expect(layer.columns.map(({ name }) => [name, valuesOf(layer, name)])).toEqual([
      ["A_NAME_LONGER_THAN_TEN_LETTERS", ["lot B", "lot B"]],
      ["COUNT", [-3, 70_000]],
      ["DEPTH", [-2.5, 1.75]],
      ["LOGGED", ["2026-04-24T01:00:00.000Z", "2026-04-24T01:00:00.000Z"]],
    ]);
    expect(layer.notes).toEqual([]);
  });
});

describe("long texts", () => {
  const remark = "wet spot; planter stopped twice";
  const encoded = new TextEncoder().encode(remark);
  const withMemo = (
    cells: (string | Uint8Array)[][],
    ending: string,
    memo: Uint8Array,
    version: number,
  ): InputFile[] => {
    const length = ending === ".fpt" ? 4 : 10;
    const dbf = tableBytes([{ name: "REMARK", type: "M", length }], cells, { version });
    return [...shapefileSet(points(cells.length), dbf), { name: `layer${ending}`, bytes: memo }];
  };

  it("are read from the .dbt of dBASE III and IV and from the .fpt of FoxPro", async () => {
    const third = new Uint8Array(1536);
    third.set([...encoded, 0x1a, 0x1a], 1024);
    const fourth = new Uint8Array(1536);
    viewOf(fourth).setUint16(20, 512, true);
    viewOf(fourth).setUint32(1024, 0xffff0800, false);
    viewOf(fourth).setUint32(1028, encoded.length + 8, true);
    fourth.set(encoded, 1032);
    const fox = new Uint8Array(1536);
    viewOf(fox).setUint16(6, 64, false);
    viewOf(fox).setUint32(1024, 1, false);
    viewOf(fox).setUint32(1028, encoded.length, false);
    fox.set(encoded, 1032);
    const block = bytesOf((view) => view.setUint32(0, 16, true), 4);
    for (const files of [
      withMemo([["         2"], [""]], ".dbt", third, 0x83),
      withMemo([["2"], [""]], ".DBT", fourth, 0x8b),
      withMemo([[block], [new Uint8Array(4)]], ".fpt", fox, 0x30),
    ]) {
      const layer = await readLayer(files, options);
      expect(valuesOf(layer, "REMARK")).toEqual([remark, null]);
      expect(layer.notes).toEqual([]);
    }
  });

  it("that are not there are noted", async () => {
    const layer = await readLayer(withMemo([["77"], [""]], ".dbt", new Uint8Array(600), 0x83), options);
    expect(layer.notes).toEqual([
      expect.objectContaining({ effect: "left out", field: "REMARK", count: 1, value: "77" }),
    ]);
    const without = withMemo([["2"]], ".dbt", new Uint8Array(600), 0x83).filter(
      ({ name }) => !name.endsWith("dbt"),
    );
    expect((await readLayer(without, options)).notes).toEqual([
      expect.objectContaining({ effect: "left out", reason: expect.stringContaining(".dbt") }),
    ]);
  });
});

describe("text of DOS", () => {
  it.each([
    // Letters by the mapping tables of the Unicode Consortium: ä ö ß are 84 94 E1 on both pages, Á is B5 on 850 alone.
    { page: "437", bytes: [0x84, 0x94, 0xe1, 0xb5], text: "äöß╡" },
    { page: "CP850", bytes: [0x84, 0x94, 0xe1, 0xb5], text: "äößÁ" },
    { page: "852", bytes: [0x88, 0x9d, 0xe1], text: "łŁß" },
  ])("is read by code page $page", async ({ page, bytes, text }) => {
    const dbf = tableBytes([{ name: "ZONE", type: "C", length: 8 }], [[Uint8Array.from(bytes)]]);
    const cpg = { name: "layer.cpg", bytes: new TextEncoder().encode(page) };
    expect(valuesOf(await readLayer([...shapefileSet(points(1), dbf), cpg], options), "ZONE")).toEqual([
      text,
    ]);
  });

  it("is read by the language byte", async () => {
    const zone = [{ name: "ZONE", type: "C", length: 8 }];
    for (const [languageByte, text] of [
      [1, "╡"],
      [2, "Á"],
    ] as const) {
      const dbf = tableBytes(zone, [[Uint8Array.of(0xb5)]], { languageByte });
      const layer = await readLayer(shapefileSet(points(1), dbf), options);
      expect([valuesOf(layer, "ZONE"), layer.notes]).toEqual([[text], []]);
    }
  });
});

describe("a header that does not fit its file", () => {
  const table = () =>
    tableBytes(
      [NUMBER, { name: "LOT", type: "C", length: 5 }],
      [
        ["1.5", "A"],
        ["2.5", "B"],
        ["3.5", "C"],
      ],
    );

  it("is mended where the file shows the length of a row, or more rows than it counts", async () => {
    const longer = table();
    viewOf(longer).setUint16(10, 16, true);
    const fewer = table();
    viewOf(fewer).setUint32(4, 1, true);
    for (const [dbf, effect] of [
      [longer, "assumed"],
      [fewer, "kept"],
    ] as const) {
      const layer = await readLayer(shapefileSet(points(3), dbf), options);
      expect(valuesOf(layer, "DEPTH_IN")).toEqual([1.5, 2.5, 3.5]);
      expect(valuesOf(layer, "LOT")).toEqual(["A", "B", "C"]);
      expect(layer.notes).toEqual([expect.objectContaining({ effect })]);
    }
  });
});

describe("points in groups", () => {
  it("are one record each, at their middle, and kept apart where anything is wanted", async () => {
    const multipoint = (points: [number, number][]) => ({
      type: "Feature",
      properties: { n: points.length },
      geometry: { type: "MultiPoint", coordinates: points },
    });
    const text = JSON.stringify({
      type: "FeatureCollection",
      features: [
        multipoint([
          [-93, 42],
          [-92, 43],
        ]),
        multipoint([[-91, 41]]),
        multipoint([]),
      ],
    });
    const file = { name: "a.geojson", bytes: new TextEncoder().encode(text) };
    for (const reader of ["fast", "library"] as const) {
      const layer = await readLayer([file], { ...options, reader });
      expect([layer.geometry, ...layer.x]).toEqual(["point", -92.5, -91, NaN]);
      expect(layer.notes.map(({ effect, firstRecord }) => [effect, firstRecord])).toEqual([
        ["converted", 1],
        ["left out", 3],
      ]);
    }
    const looked = await readLayer([file], { role: "x", expect: "anything" });
    expect(looked.paths?.[0]).toEqual([
      [
        [-93, 42],
        [-92, 43],
      ],
    ]);
  });
});
