import fc from "fast-check";
import { strFromU8, unzipSync } from "fflate";
import type { Point } from "geojson";
import proj4 from "proj4";
import { open } from "shapefile";
import { describe, expect, it } from "vitest";
import { type PointShapefile, writePointShapefile } from "../../sample-data/point-shapefile.ts";

/** Reads a zipped point shapefile with the `shapefile` library, which shares no code with the writer. */
async function readBack(zip: Uint8Array, name: string) {
  const files = unzipSync(zip);
  const source = await open(bytesOf(files, `${name}.shp`), bytesOf(files, `${name}.dbf`), {
    encoding: strFromU8(files[`${name}.cpg`]!),
  });
  const features = [];
  for (let step = await source.read(); !step.done; step = await source.read()) features.push(step.value);
  return { files, bbox: source.bbox, features };
}

function bytesOf(files: Record<string, Uint8Array>, name: string): ArrayBuffer {
  return files[name]!.slice().buffer as ArrayBuffer;
}

function layer(changes: Partial<PointShapefile> = {}): PointShapefile {
  return {
    name: "points",
    x: [-93.1, -93.2, -93.05],
    y: [42.1, 42.3, 42.2],
    fields: [
      { kind: "number", name: "DEPTH_IN", width: 6, decimals: 2, values: [1.957, -0.001, Number.NaN] },
      { kind: "text", name: "ZONE", width: 12, values: ["clay loam", "", "Lößlehm"] },
    ],
    crs: { kind: "degrees" },
    ...changes,
  };
}

describe("writePointShapefile", () => {
  it("reads back with positions, numbers, blanks and text beyond ASCII", async () => {
    const { features, bbox } = await readBack(writePointShapefile(layer()), "points");
    expect(features.map((feature) => feature.geometry)).toEqual([
      { type: "Point", coordinates: [-93.1, 42.1] },
      { type: "Point", coordinates: [-93.2, 42.3] },
      { type: "Point", coordinates: [-93.05, 42.2] },
    ]);
    expect(features.map((feature) => feature.properties)).toEqual([
      { DEPTH_IN: 1.96, ZONE: "clay loam" },
      { DEPTH_IN: 0, ZONE: null },
      { DEPTH_IN: null, ZONE: "Lößlehm" },
    ]);
    expect(bbox).toEqual([-93.2, 42.1, -93.05, 42.3]);
  });

  it("gives the five parts, an index that leads to every record and no minus zero", async () => {
    const { files } = await readBack(writePointShapefile(layer()), "points");
    expect(Object.keys(files).sort()).toEqual(
      ["cpg", "dbf", "prj", "shp", "shx"].map((part) => `points.${part}`),
    );
    const shp = new DataView(bytesOf(files, "points.shp"));
    const shx = new DataView(bytesOf(files, "points.shx"));
    expect(shp.getInt32(24) * 2).toBe(shp.byteLength);
    expect(shx.getInt32(24) * 2).toBe(shx.byteLength);
    for (let record = 0; record < 3; record++) {
      const offset = shx.getInt32(100 + 8 * record) * 2;
      expect(shp.getInt32(offset)).toBe(record + 1);
      expect(shp.getFloat64(offset + 12, true)).toBe(layer().x[record]);
    }
    expect(strFromU8(files["points.dbf"]!)).not.toContain("-0.00");
  });

  it("describes its coordinate system so that another library places it", async () => {
    const [longitude, latitude] = [-93.6, 42.0];
    // EPSG:32615 is UTM zone 15 north; proj4 knows it by this definition.
    const [x, y] = proj4("+proj=utm +zone=15 +datum=WGS84 +units=m", [longitude, latitude]) as [
      number,
      number,
    ];
    const zip = writePointShapefile(
      layer({
        x: [x],
        y: [y],
        fields: [{ kind: "number", name: "ID", width: 3, decimals: 0, values: [1] }],
        crs: { kind: "utm", zone: 15, hemisphere: "north" },
      }),
    );
    const { files, features } = await readBack(zip, "points");
    const back = proj4(
      strFromU8(files["points.prj"]!),
      "EPSG:4326",
      (features[0]!.geometry as Point).coordinates,
    );
    expect(back[0]).toBeCloseTo(longitude, 8);
    expect(back[1]).toBeCloseTo(latitude, 8);
    const degrees = unzipSync(writePointShapefile(layer()))["points.prj"]!;
    expect(proj4(strFromU8(degrees), "EPSG:4326", [-93.1, 42.1])[0]).toBeCloseTo(-93.1, 9);
    const south = unzipSync(
      writePointShapefile(layer({ crs: { kind: "utm", zone: 21, hemisphere: "south" } })),
    );
    expect(proj4(strFromU8(south["points.prj"]!), "EPSG:4326", [500000, 7000000])[0]).toBeCloseTo(-57, 8);
  });

  it("keeps any finite number within half of its last decimal and any position exactly", async () => {
    const finite = fc.double({ min: -1e6, max: 1e6, noNaN: true });
    const record = fc.record({
      x: finite,
      y: finite,
      value: finite,
      text: fc.stringMatching(/^[a-zà-ü]{0,8}$/),
    });
    await fc.assert(
      fc.asyncProperty(
        fc.array(record, { maxLength: 30 }),
        fc.integer({ min: 0, max: 6 }),
        async (records, decimals) => {
          const zip = writePointShapefile({
            name: "any",
            x: records.map((one) => one.x),
            y: records.map((one) => one.y),
            fields: [
              { kind: "number", name: "VALUE", width: 18, decimals, values: records.map((one) => one.value) },
              { kind: "text", name: "TEXT", width: 20, values: records.map((one) => one.text) },
            ],
            crs: { kind: "degrees" },
          });
          const { features } = await readBack(zip, "any");
          expect(features.length).toBe(records.length);
          features.forEach((feature, index) => {
            const { x, y, value, text } = records[index]!;
            const [xBack, yBack] = feature.geometry.type === "Point" ? feature.geometry.coordinates : [];
            expect(xBack! - x).toBe(0);
            expect(yBack! - y).toBe(0);
            expect(Math.abs(feature.properties!.VALUE - value)).toBeLessThanOrEqual(
              0.5 * 10 ** -decimals + 1e-9,
            );
            expect(feature.properties!.TEXT ?? "").toBe(text);
          });
        },
      ),
      { numRuns: 60, seed: 7 },
    );
  });

  it("gives the same bytes whatever the day and the time zone", () => {
    const zoneBefore = process.env.TZ;
    const first = writePointShapefile(layer());
    process.env.TZ = "Pacific/Auckland";
    const second = writePointShapefile(layer());
    if (zoneBefore === undefined) delete process.env.TZ;
    else process.env.TZ = zoneBefore;
    expect(second).toEqual(first);
  });

  it.each<[string, Partial<PointShapefile>, RegExp]>([
    [
      "a name of eleven letters",
      { fields: [numberField({ name: "ELEVENCHARS" })] },
      /"ELEVENCHARS".*1 to 10/,
    ],
    ["a name used twice", { fields: [numberField({}), numberField({ name: "a" })] }, /"a" is used twice/],
    ["no field", { fields: [] }, /at least one field/],
    ["a value too wide", { fields: [numberField({ values: [1, 1000, 2] })] }, /"1000" of record 2.*field A/],
    ["too many decimals", { fields: [numberField({ decimals: 2 })] }, /width 3 cannot have 2 decimals/],
    ["a number field too wide", { fields: [numberField({ width: 19 })] }, /width 19.*1 to 18/],
    ["a column too short", { fields: [numberField({ values: [1] })] }, /1 values for 3 records/],
    ["a position that is no number", { x: [1, Number.NaN, 2] }, /record 2 is not finite/],
    ["positions of two lengths", { x: [1] }, /1 x positions but 3 y/],
    ["a path for a name", { name: "../up" }, /"..\/up" is unusable/],
    [
      "a zone off the globe",
      { crs: { kind: "utm", zone: 61, hemisphere: "north" } },
      /61 is none of 1 to 60/,
    ],
    [
      "text too wide in bytes",
      { fields: [{ kind: "text", name: "T", width: 3, values: ["abc", "äö", ""] }] },
      /"äö" of record 2/,
    ],
  ])("refuses %s", (_what, changes, message) => {
    expect(() => writePointShapefile(layer(changes))).toThrow(message);
  });
});

function numberField(changes: Partial<Extract<PointShapefile["fields"][number], { kind: "number" }>>) {
  return { kind: "number" as const, name: "A", width: 3, decimals: 0, values: [1, 2, 3], ...changes };
}
