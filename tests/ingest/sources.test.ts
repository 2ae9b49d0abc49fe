import { gzipSync, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { readLayer } from "../../src/ingest/index.ts";
import { refusalOf, textFile } from "./support/layers.ts";
import { shapefileSet, tableBytes } from "./support/shapefile-bytes.ts";

const options = { role: "plantingLog", expect: "any" } as const;
const text = JSON.stringify({
  type: "FeatureCollection",
  features: [{ type: "Feature", properties: { a: 1 }, geometry: { type: "Point", coordinates: [-93, 42] } }],
});
const bytes = new TextEncoder().encode(text);
const message = async (files: Parameters<typeof refusalOf>[0]) => (await refusalOf(files)).message;

describe("the files of a layer", () => {
  it("may be packed: gzip in one or many members, zip", async () => {
    const half = bytes.length >> 1;
    const twoMembers = new Uint8Array([
      ...gzipSync(bytes.subarray(0, half)),
      ...gzipSync(bytes.subarray(half)),
    ]);
    for (const [name, packed] of [
      ["log.geojson.gz", gzipSync(bytes)],
      ["log.geojson.gz", twoMembers],
      ["log.JSON", bytes],
      ["log.zip", zipSync({ "a/log.geojson": bytes, "readme.txt": bytes })],
      ["log.zip", zipSync({ "log.csv": new TextEncoder().encode("lon,lat\n-93,42\n") })],
      ["log.geojson", zipSync({ "inner.geojson": bytes })],
    ] as const) {
      const layer = await readLayer([{ name, bytes: packed }], options);
      expect([layer.file, layer.x[0]]).toEqual([name, -93]);
    }
  });

  it("may be the loose parts of one shapefile, under the name of its .shp", async () => {
    const set = shapefileSet(
      [{ type: 1, x: -93, y: 42 }],
      tableBytes([{ name: "A", type: "N", length: 4 }], [["7"]]),
    );
    const layer = await readLayer(set.toReversed(), options);
    expect([layer.file, layer.columns.length, layer.notes.length]).toEqual(["layer.shp", 1, 0]);
    const without = await readLayer(
      set.filter(({ name }) => !name.endsWith(".dbf")),
      options,
    );
    expect(without.notes).toEqual([
      expect.objectContaining({ effect: "kept", reason: expect.stringContaining(".dbf") }),
    ]);
  });

  it("are refused when there is nothing, too much, or no whole thing among them", async () => {
    expect(await message([])).toMatch(/no file was given for plantingLog; accepted are .*\.zip/);
    expect(await message([textFile("log.dbf", "x")])).toMatch(
      /\.shp file that belongs to log\.dbf is missing/,
    );
    expect(await message([textFile("log.xls", "x")])).toMatch(/log\.xls.*accepted/);
    expect(await message([{ name: "a.zip", bytes: new Uint8Array(50) }])).toMatch(
      /a\.zip: cannot be unpacked as zip/,
    );
    const gz = gzipSync(bytes);
    expect(await message([{ name: "a.geojson.gz", bytes: gz.subarray(0, gz.length - 20) }])).toMatch(
      /cannot be unpacked as gzip/,
    );
    const locked = zipSync({ "a.geojson": bytes });
    locked[6]! |= 1;
    expect(await message([{ name: "a.zip", bytes: locked }])).toContain("password");
  });
});
