import { unzipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { type PolygonShapefile, writePolygonShapefile } from "../../src/write/shapefile/polygon-shapefile.ts";

type Ring = [number, number][];

function layer(polygons: Ring[][], changes: Partial<PolygonShapefile> = {}): PolygonShapefile {
  const values = polygons.map((_, index) => index + 1);
  return {
    name: "zones",
    polygons,
    fields: [{ kind: "number", name: "ZONE", width: 4, decimals: 0, values }],
    crs: { kind: "degrees" },
    ...changes,
  };
}

const triangle: Ring = [
  [0, 0],
  [4, 0],
  [0, 4],
  [0, 0],
];
const hole: Ring = [
  [1, 1],
  [1, 2],
  [2, 1],
  [1, 1],
];

describe("writePolygonShapefile", () => {
  it("lays records out as the published description says, byte by byte", () => {
    const files = unzipSync(writePolygonShapefile(layer([[triangle, hole], [triangle]])));
    const shp = new DataView(files["zones.shp"]!.slice().buffer);
    const shx = new DataView(files["zones.shx"]!.slice().buffer);
    // Shapefile Technical Description (Esri, 1998): header of 100 bytes, shape type 5 at byte 32.
    expect([shp.getInt32(0), shp.getInt32(28, true), shp.getInt32(32, true)]).toEqual([9994, 1000, 5]);
    expect(shp.getInt32(24) * 2).toBe(shp.byteLength);
    expect([36, 44, 52, 60].map((at) => shp.getFloat64(at, true))).toEqual([0, 0, 4, 4]);
    const first = shx.getInt32(100) * 2;
    expect(first).toBe(100);
    const content = first + 8;
    expect(shp.getInt32(first + 4) * 2).toBe(44 + 2 * 4 + 8 * 16);
    expect([
      shp.getInt32(content, true),
      shp.getInt32(content + 36, true),
      shp.getInt32(content + 40, true),
    ]).toEqual([5, 2, 8]);
    expect([shp.getInt32(content + 44, true), shp.getInt32(content + 48, true)]).toEqual([0, 4]);
    // The outer ring clockwise: from (0, 0) to (0, 4) first.
    expect([shp.getFloat64(content + 52 + 16, true), shp.getFloat64(content + 52 + 24, true)]).toEqual([
      0, 4,
    ]);
    // The hole counter-clockwise: from (1, 1) to (2, 1) first.
    expect([shp.getFloat64(content + 52 + 80, true), shp.getFloat64(content + 52 + 88, true)]).toEqual([
      2, 1,
    ]);
    expect(shx.getInt32(108) * 2).toBe(content + shp.getInt32(first + 4) * 2);
  });

  it("gives the same bytes again", () => {
    expect(writePolygonShapefile(layer([[triangle]]))).toEqual(writePolygonShapefile(layer([[triangle]])));
  });

  it("refuses rings that no reader takes, and says which record", () => {
    expect(() => writePolygonShapefile(layer([[triangle], [triangle.slice(0, 3)]]))).toThrow("record 2");
    expect(() => writePolygonShapefile(layer([[]]))).toThrow("record 1 has no ring");
    const flat: Ring = [
      [0, 0],
      [1, 1],
      [2, 2],
      [0, 0],
    ];
    expect(() => writePolygonShapefile(layer([[flat]]))).toThrow("encloses no area");
    const missing = triangle.with(1, [Number.NaN, 0]);
    expect(() => writePolygonShapefile(layer([[missing]]))).toThrow("position (NaN, 0) of record 1");
  });
});
