import { describe, expect, it } from "vitest";
import { readLayers } from "../../src/field/read-layers.ts";
import type { InputFile } from "../../src/ingest/index.ts";
import { parseManifest } from "../../src/manifest/manifest.ts";
import { startingManifest } from "../../src/roles/starting-manifest.ts";
import { type Shape, shapefileSet } from "../ingest/support/shapefile-bytes.ts";

const metres = Array.from(
  { length: 3 },
  (_, index): Shape => ({ type: 1, x: 450_000 + index, y: 4_650_000 }),
);
const zones: InputFile = {
  name: "soil.geojson",
  bytes: new TextEncoder().encode(
    '{"type":"Feature","properties":{"texture":"loam"},"geometry":{"type":"Polygon","coordinates":[[[-93.7,41.9],[-93.5,41.9],[-93.5,42.1],[-93.7,42.1],[-93.7,41.9]]]}}',
  ),
};

describe("a log that does not name its coordinate system", () => {
  const read = (soilZones: boolean) => {
    const manifest = parseManifest({
      plantingLog: { file: "layer.shp" },
      ...(soilZones ? { soilZones: { file: "soil.geojson" } } : {}),
    });
    const set = shapefileSet(metres, null, null);
    return readLayers(manifest, async (path) => (path === "layer.shp" ? set : [zones]));
  };

  it("is refused with the one zone that puts it on the soil map, whatever is read first", async () => {
    await expect(read(true)).rejects.toThrow(
      /near the other layers they would lie in "EPSG:32615"[^,]*, latitude 42\.00\);/,
    );
    await expect(read(false)).rejects.toThrow(/"EPSG:32610".*"EPSG:32615"/);
  });
});

describe("a file of lines", () => {
  it("is shown as lines and taken for nothing", async () => {
    const line: Shape = {
      type: 3,
      parts: [
        [
          [-93, 42],
          [-93, 43],
        ],
      ],
    };
    const { layers, manifest } = await startingManifest(shapefileSet([line], null));
    expect(layers.map(({ role, layer, error }) => [role, layer?.geometry, error])).toEqual([
      [null, "line", null],
    ]);
    expect(manifest.plantingLog).toBeUndefined();
  });
});
