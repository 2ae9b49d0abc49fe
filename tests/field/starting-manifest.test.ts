import { describe, expect, it } from "vitest";
import { loadField } from "../../src/field/load.ts";
import type { InputFile } from "../../src/ingest/index.ts";
import { parseManifest } from "../../src/manifest/manifest.ts";
import { startingManifest } from "../../src/roles/starting-manifest.ts";

const encode = (value: unknown) =>
  new TextEncoder().encode(typeof value === "string" ? value : JSON.stringify(value));

function collection(properties: readonly object[], geometry: (i: number) => object): unknown {
  const features = properties.map((one, i) => ({ type: "Feature", properties: one, geometry: geometry(i) }));
  return { type: "FeatureCollection", features };
}

const point = (i: number) => ({ type: "Point", coordinates: [-93.6, 42 + i * 2.5e-5] });

function box(west: number, south: number, size: number) {
  const [east, north] = [west + size, south + size];
  const ring = [
    [west, south],
    [east, south],
    [east, north],
    [west, north],
    [west, south],
  ];
  return { type: "Polygon", coordinates: [ring] };
}

const LOG = collection(
  Array.from({ length: 80 }, (_, i) => ({ Depth_mm: 50 + Math.sin(i), Margin_N: 500 + i, Speed_kmh: 8 })),
  point,
);
const COUNTS = collection(
  Array.from({ length: 5 }, () => ({ plants: 30, row_length_m: 5.3, row_spacing_cm: 76.2 })),
  (i) => point(i * 10),
);
const SOIL = collection([{ texture: "loam" }, { texture: "clay" }], (i) =>
  box(-93.605 + i * 0.005, 41.999, 0.005),
);
const OUTLINE = collection([{}], () => box(-93.605, 41.999, 0.01));
const DIGS = "lon,lat,row,seed_depth_mm,smear\n-93.6,42.0001,3,48,none\n-93.6,42.0004,9,35,heavy\n";
const WEATHER = "date,rain_mm,tmin_c\n2026-04-24,0,5\n2026-04-25,12,8\n";

const FILES: InputFile[] = [
  { name: "w.csv", bytes: encode(WEATHER) },
  { name: "e.geojson", bytes: encode(OUTLINE) },
  { name: "c.geojson", bytes: encode(COUNTS) },
  { name: "north forty.geojson", bytes: encode(LOG) },
  { name: "s.geojson", bytes: encode(SOIL) },
  { name: "d.csv", bytes: encode(DIGS) },
  { name: "readme.geojson", bytes: encode("nothing of use") },
];

const provide = (path: string) => Promise.resolve(FILES.filter(({ name }) => name === path));

describe("startingManifest", () => {
  it("tells the files by what is in them, with a reason each", async () => {
    const { layers } = await startingManifest(FILES);
    expect(Object.fromEntries(layers.map(({ file, role }) => [file, role]))).toEqual({
      "w.csv": "weather",
      "e.geojson": "boundary",
      "c.geojson": "standCounts",
      "north forty.geojson": "plantingLog",
      "s.geojson": "soilZones",
      "d.csv": "digs",
      "readme.geojson": null,
    });
    for (const { reason } of layers) expect(reason).not.toBe("");
    const unreadable = layers.at(-1)!;
    expect(unreadable).toMatchObject({ layer: null, recognition: null });
    expect(unreadable.reason).toBe(unreadable.error!.message);
  });

  it.each([false, true])(
    "gives a manifest that loads unchanged (columns spelt out: %s)",
    async (spellColumns) => {
      const { manifest } = await startingManifest(FILES, { spellColumns });
      const field = await loadField(parseManifest(manifest), provide);
      expect(field.name).toBe("north forty");
      expect(field.log.values.seedingDepth![0]).toBeCloseTo(50, 9);
      expect(field.standCounts!.spotCount).toBe(5);
      expect(field.digs!.digCount).toBe(2);
      expect(field.soilZones!.names).toEqual(["clay", "loam"]);
      expect(field.boundary).toHaveLength(1);
      expect(field.weather!.rainMm[1]).toBe(12);
    },
  );

  it("writes every recognised column where asked", async () => {
    const { manifest } = await startingManifest(FILES, { spellColumns: true });
    expect(manifest.plantingLog!.columns).toEqual({
      speed: { column: "Speed_kmh", unit: "km/h" },
      seedingDepth: { column: "Depth_mm", unit: "mm" },
      downForceMargin: { column: "Margin_N", unit: "N" },
    });
  });

  it("gives a role to one file only, and says so of the other", async () => {
    const short = collection(
      Array.from({ length: 60 }, () => ({ Population_ha: 84_000, Speed_kmh: 8 })),
      point,
    );
    const { layers } = await startingManifest([
      { name: "plan.geojson", bytes: encode(short) },
      { name: "log.geojson", bytes: encode(LOG) },
    ]);
    expect(layers.map(({ role }) => role)).toEqual([null, "plantingLog"]);
    expect(layers[0]!.reason).toContain("another file fits that better");
  });

  it("without any log names none", async () => {
    const { manifest } = await startingManifest([{ name: "w.csv", bytes: encode(WEATHER) }]);
    expect(manifest.plantingLog).toBeUndefined();
    expect(manifest.weather).toEqual({ file: "w.csv" });
  });

  it("does not depend on the order of the files", async () => {
    const forward = (await startingManifest(FILES)).manifest;
    const backward = (await startingManifest(FILES.toReversed())).manifest;
    expect(backward).toEqual(forward);
  });
});
