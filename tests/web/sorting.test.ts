/** What files without a manifest are taken for, what is said about them, and the manifest by what the user chose. */
import { describe, expect, it } from "vitest";
import { startingManifest } from "../../src/roles/starting-manifest.ts";
import { manifestBy, rolesTwice } from "../../web/protocol/file-choices.ts";
import { sortedFiles } from "../../web/worker/sorted-files.ts";
import { smallField } from "../browser/support/small-field.ts";

const encoder = new TextEncoder();

function square(west: number, south: number, size: number): number[][][] {
  return [
    [
      [west, south],
      [west + size, south],
      [west + size, south + size],
      [west, south + size],
      [west, south],
    ],
  ];
}

function polygons(name: string, squares: number[][][][], names: string[]) {
  const features = squares.map((coordinates, i) => ({
    type: "Feature",
    properties: { texture: names[i] },
    geometry: { type: "Polygon", coordinates },
  }));
  return { name, text: JSON.stringify({ type: "FeatureCollection", features }) };
}

async function sorted(files: readonly { name: string; text: string }[]) {
  const inputs = files.map(({ name, text }) => ({ name, bytes: encoder.encode(text) }));
  const { manifest, layers } = await startingManifest(inputs);
  return { manifest: manifest as Record<string, unknown>, files: sortedFiles(layers) };
}

describe("what files are taken for", () => {
  it("says records, how much lies on the field, and nothing to worry about for a log and its soils", async () => {
    const { files } = await sorted(smallField());
    expect(files.map(({ file, role, onField, warnings }) => [file, role, onField, warnings])).toEqual([
      ["planting.geojson", "plantingLog", 1, []],
      ["soil.geojson", "soilZones", 1, []],
    ]);
    expect(files[0]!.readAs).toMatchObject({ DEPTH_IN: "seedingDepth", SPEED_MPH: "speed" });
  });

  it("says why a column is not used, as the command does, and what the log has", async () => {
    const [log] = smallField();
    const parsed = JSON.parse(log!.text) as { features: { properties: Record<string, unknown> }[] };
    for (const { properties } of parsed.features) Object.assign(properties, { Seed_Rate_lb_ac: 24, QX7: 3 });
    const { files } = await sorted([{ ...log!, text: JSON.stringify(parsed) }]);
    const why = Object.fromEntries(files[0]!.unused.map(({ column, reason }) => [column, reason]));
    expect(why.Seed_Rate_lb_ac).toContain("a rate by weight; where it is one of seed");
    expect(why.QX7).toContain("its name fits nothing the job needs");
    expect(why).not.toHaveProperty("DEPTH_IN");
    expect(files[0]!.variables).toEqual(expect.arrayContaining(["seedingDepth", "speed"]));
  });

  it("warns of a soil map of one class, of plots that miss a third of the log, and of another field", async () => {
    const [log] = smallField();
    const oneClass = polygons("soil.geojson", [square(-93.401, 42.199, 0.006)], ["loam"]);
    expect((await sorted([log!, oneClass])).files[1]!.warnings).toEqual([
      "It names one soil only, so that soils cannot be compared.",
    ]);
    const plots = polygons(
      "soil.geojson",
      [square(-93.4, 42.2, 0.0002), square(-93.3999, 42.201, 0.0002)],
      ["plot a", "plot b"],
    );
    expect((await sorted([log!, plots])).files[1]!.warnings.join()).toMatch(
      /^\d+ % of the log lies off this map: trial plots or another field, not a soil map\?$/,
    );
    const away = polygons("soil.geojson", [square(-90, 40, 0.01), square(-90, 41, 0.01)], ["clay", "sand"]);
    expect((await sorted([log!, away])).files[1]!.warnings[0]).toBe(
      "None of it lies on the planted ground: is it of this field?",
    );
  });

  it("uses one of two logs and says so of the other", async () => {
    const [log] = smallField();
    const { files } = await sorted([log!, { ...log!, name: "second.geojson" }]);
    expect(files.map(({ role }) => role)).toEqual(["plantingLog", null]);
    expect(files[1]!.warnings.join()).toMatch(/second planter's log/);
  });

  it("lists a table whose names say nothing with its columns, to be chosen from", async () => {
    const { files } = await sorted([
      { name: "export.csv", text: "a,b,c\n-93.4,42.2,2.01\n-93.4,42.21,1.97\n" },
    ]);
    expect(files[0]).toMatchObject({ role: null, placed: false, records: 2 });
    expect(files[0]!.columns.map(({ name, samples }) => [name, samples[0]])).toEqual([
      ["a", "-93.4"],
      ["b", "42.2"],
      ["c", "2.01"],
    ]);
  });
});

describe("the manifest by what the user chose", () => {
  const files = [
    { file: "planting.geojson", role: "plantingLog" as const },
    { file: "plots.geojson", role: "soilZones" as const },
    { file: "export.csv", role: null },
  ];
  const taken = {
    schema: "evenstand/field/1",
    name: "planting",
    plantingLog: { file: "planting.geojson" },
    soilZones: { file: "plots.geojson", zone: "plot" },
  };

  it("is the one taken where nothing was chosen", () => {
    expect(manifestBy(taken, files, {})).toEqual(taken);
  });

  it("leaves a file out, gives it another part, and carries columns, zone and position", () => {
    const chosen = manifestBy(taken, files, {
      "plots.geojson": { role: null },
      "export.csv": {
        role: "standCounts",
        position: ["a", "b"],
        columns: { stand: { column: "c", unit: "plants/ac" } },
      },
    });
    expect(chosen.soilZones).toBeUndefined();
    expect(chosen.standCounts).toEqual({
      file: "export.csv",
      position: ["a", "b"],
      columns: { stand: { column: "c", unit: "plants/ac" } },
    });
    expect(chosen.plantingLog).toEqual(taken.plantingLog);
    expect(rolesTwice(files, { "export.csv": { role: "plantingLog" } })).toEqual(["plantingLog"]);
    expect(rolesTwice(files, {})).toEqual([]);
  });
});
