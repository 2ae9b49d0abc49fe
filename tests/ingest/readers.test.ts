/** Which reader works on which layer: the libraries on the small ones, our own on the log. */
import { readdirSync, readFileSync } from "node:fs";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { readLayer } from "../../src/ingest/index.ts";
import { jsonFile } from "./support/layers.ts";
import { shapefileSet } from "./support/shapefile-bytes.ts";

const openShp = vi.hoisted(() => vi.fn());
const isFeature = vi.hoisted(() => vi.fn());

vi.mock("shapefile", async (original) => {
  const actual = await original<typeof import("shapefile")>();
  openShp.mockImplementation(actual.openShp);
  return { ...actual, openShp };
});
vi.mock("geojson-validation", async (original) => {
  const actual = await original<typeof import("geojson-validation")>();
  isFeature.mockImplementation(actual.default.isFeature);
  return { default: { isFeature } };
});

const shapes = shapefileSet([{ type: 1, x: -93, y: 42 }], null);
const feature = { type: "Feature", properties: {}, geometry: { type: "Point", coordinates: [-93, 42] } };
const json = [jsonFile({ type: "FeatureCollection", features: [feature] })];

describe("the reader of a layer", () => {
  beforeEach(() => void [openShp, isFeature].map((spy) => spy.mockClear()));

  it("is our own for the planting log", async () => {
    for (const files of [shapes, json]) await readLayer(files, { role: "plantingLog", expect: "any" });
    expect([openShp.mock.calls.length, isFeature.mock.calls.length]).toEqual([0, 0]);
  });

  it("is the library for every other layer", async () => {
    for (const files of [shapes, json]) await readLayer(files, { role: "soilZones", expect: "any" });
    expect([openShp.mock.calls.length, isFeature.mock.calls.length]).toEqual([1, 1]);
  });

  it("can be chosen", async () => {
    for (const files of [shapes, json]) {
      await readLayer(files, { role: "plantingLog", expect: "any", reader: "library" });
      await readLayer(files, { role: "soilZones", expect: "any", reader: "fast" });
    }
    expect([openShp.mock.calls.length, isFeature.mock.calls.length]).toEqual([1, 1]);
  });

  it("loads geojson-validation (LGPL) apart, only when it is needed", () => {
    const folder = new URL("../../src/ingest/", import.meta.url);
    const uses = readdirSync(folder, { recursive: true, encoding: "utf8" })
      .filter((name) => name.endsWith(".ts") && !name.endsWith(".d.ts"))
      .flatMap(
        (name) => readFileSync(new URL(name, folder), "utf8").match(/.*"geojson-validation".*/g) ?? [],
      );
    expect(uses).toHaveLength(1);
    expect(uses[0]).toContain('await import("geojson-validation")');
  });
});
