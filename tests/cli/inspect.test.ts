import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { run } from "../../src/cli/run.ts";
import { parseManifestText } from "../../src/manifest/manifest.ts";
import { fakeIo } from "../support/fake-io.ts";
import { collection, degrees, point, writeSmallField } from "../support/small-field.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

const base = temporaryFolder();
let folders = 0;

function fieldFolder(changes: Record<string, unknown> = {}): string {
  return writeSmallField(join(base, String(++folders)), { "field.json": null, ...changes });
}

async function runIn(folder: string, ...argv: string[]) {
  const io = fakeIo(folder);
  const code = await run(argv, io);
  return { code, ...io.written };
}

const FILES = ["planting.geojson", "soil.geojson", "counts.geojson"];

describe("inspect", () => {
  it("shows geometry, coordinates, extent, columns with variable, unit and reason", async () => {
    const folder = fieldFolder();
    const { code, out, err } = await runIn(folder, "inspect", ...FILES);
    expect(err).toBe("");
    expect(code).toBe(0);
    expect(out).toContain("planting.geojson\n  points, 1010 records; WGS 84, degrees\n");
    expect(out).toMatch(/extent longitude -93\.59989 to -93\.59\d+, latitude 42\.00000 to 42\.00270/);
    expect(out).toContain("taken for: planting log");
    expect(out).toMatch(/DEPTH_IN +number 1\.9\d* to 2\.0\d*\n +-> seedingDepth \[in\], 90 % sure: .+/);
    expect(out).toMatch(/MARGIN_LBF .+\n +-> downForceMargin \[lbf\], \d\d % sure: .+/);
    expect(out).toContain("columns: 5 of 5 used, nothing left to choose");
    expect(out).toContain("taken for: soil zones");
    expect(out).toContain("text, 2 different: silt loam, clay loam");
    expect(out).toContain("taken for: stand counts");
    expect(readdirSync(folder).sort()).toEqual([...FILES].sort());
  });

  it("writes a starting manifest that is valid and names the files from where it stands", async () => {
    const folder = fieldFolder();
    mkdirSync(join(folder, "elsewhere"));
    const paths = FILES.map((file) => `../${file}`);
    const { code, err } = await runIn(
      join(folder, "elsewhere"),
      "inspect",
      ...paths,
      "--manifest",
      "../field.json",
    );
    expect(code).toBe(0);
    expect(err).toContain("Wrote ../field.json");
    const manifest = parseManifestText(readFileSync(join(folder, "field.json"), "utf8"));
    expect(manifest.plantingLog.file).toBe("planting.geojson");
    expect(manifest.soilZones).toMatchObject({ file: "soil.geojson", zone: "texture" });
    expect(manifest.standCounts?.file).toBe("counts.geojson");
    expect(manifest.plantingLog.columns).toMatchObject({ seedingDepth: { column: "DEPTH_IN", unit: "in" } });
  });

  it("does not overwrite a manifest, nor write one that would have to reach outside its folder", async () => {
    const folder = fieldFolder({ "field.json": "mine" });
    const existing = await runIn(folder, "inspect", ...FILES, "--manifest", "field.json");
    expect(existing.code).toBe(2);
    expect(existing.err).toContain("field.json");
    expect(readFileSync(join(folder, "field.json"), "utf8")).toBe("mine");
    mkdirSync(join(folder, "below"));
    const outside = await runIn(folder, "inspect", ...FILES, "--manifest", "below/field.json");
    expect(outside.code).toBe(2);
    expect(outside.err).toContain("planting.geojson lies outside");
    expect(existsSync(join(folder, "below/field.json"))).toBe(false);
  });

  it("shows what it can and ends with 3 where a file cannot be used", async () => {
    const folder = fieldFolder({ "soil.geojson": "damaged" });
    const { code, out, err } = await runIn(folder, "inspect", ...FILES, "--manifest", "field.json");
    expect(code).toBe(3);
    expect(out).toContain("taken for: planting log");
    expect(out).toContain("soil.geojson\n  cannot be used: ");
    expect(err.match(/^evenstand: /gm)).toHaveLength(1);
    expect(err).toContain("soil.geojson");
    expect(existsSync(join(folder, "field.json"))).toBe(false);
    const missing = await runIn(folder, "inspect", "planting.geojson", "nowhere.csv");
    expect(missing).toEqual({ code: 3, out: "", err: "evenstand: nowhere.csv: no such file\n" });
  });

  it("says what is the user's to choose, with the manifest lines that settle it", async () => {
    const records = Array.from({ length: 50 }, (_, i) =>
      point(degrees(0, i * 3), { DEPTH_IN: 2 + 0.01 * (i % 7), DEPTH_MM: 45 + (i % 5), SPEED_MPH: 5 }),
    );
    const folder = fieldFolder({ "planting.geojson": collection(records) });
    const { code, out } = await runIn(folder, "inspect", "planting.geojson");
    expect(code).toBe(0);
    expect(out).toContain("yours to choose: ");
    expect(out).toContain('"seedingDepth": "DEPTH_IN"');
    expect(out).toContain('"seedingDepth": "DEPTH_MM"');
  });

  it("lets no control character of a file through", async () => {
    const hostile = collection([
      point(degrees(0, 0), { "DEPTH_IN\u001B[2J": 2, name: "\u001B]0;x\u0007\u202Eabc" }),
    ]);
    const folder = fieldFolder({ "planting.geojson": hostile });
    writeFileSync(join(folder, "a.csv"), "lon,lat,n\n1,2,\u001B[31mred\n");
    const { out } = await runIn(folder, "inspect", "planting.geojson", "a.csv");
    expect(out).toContain("DEPTH_IN");
    expect(out.replaceAll("\n", "")).not.toMatch(/[\p{Cc}\p{Cf}]/u);
  });
});
