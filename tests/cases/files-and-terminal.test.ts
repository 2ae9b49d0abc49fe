/** Cases C14 to C18: quantities that cannot be, files made to harm, texts that steer a terminal, places to write to. */
import { execFileSync } from "node:child_process";
import { mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { run } from "../../src/cli/run.ts";
import { fakeIo } from "../support/fake-io.ts";
import {
  collection,
  degrees,
  plantingLog,
  point,
  SMALL_MANIFEST,
  smallField,
  writeSmallField,
} from "../support/small-field.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

const base = temporaryFolder();
let folders = 0;

async function onField(changes: Record<string, unknown>, ...argv: string[]) {
  const folder = writeSmallField(join(base, String(++folders)), changes);
  const io = fakeIo(folder);
  const code = await run(argv.length > 0 ? argv : ["analyse", ".", "--out", "out"], io);
  return { folder, code, ...io.written };
}

const withManifest = (parts: object) => ({ "field.json": { ...SMALL_MANIFEST, ...parts } });

describe("C14: a quantity no planter has is refused with what would be accepted", () => {
  it.each([
    [{ planter: { rowUnits: 24, rowSpacing: "762 m" } }, 'planter.rowSpacing is "762 m"'],
    [{ planter: { rowUnits: 24, rowSpacing: "30 m" } }, 'planter.rowSpacing is "30 m"'],
    [{ planter: { rowUnits: 24, rowSpacing: "1e300 in" } }, 'planter.rowSpacing is "1e300 in"'],
    [{ planter: { rowUnitWeight: "165000 lbf" } }, "planter.rowUnitWeight"],
    [{ targets: { population: "1e308 seeds/ac" } }, "targets.population"],
    [{ targets: { seedingDepth: "20 in" } }, "targets.seedingDepth"],
    [{ targets: { speed: "55 mi/h" } }, "targets.speed"],
    [{ targets: { downForceMargin: ["60 lbf", "16000 lbf"] } }, "targets.downForceMargin[1]"],
    [{ prices: { expectedYield: "20000 bu/ac" } }, "prices.expectedYield"],
  ])("%j", async (parts, named) => {
    const { code, err, folder } = await onField(withManifest(parts));
    expect(code).toBe(3);
    expect(err).toContain(named);
    expect(err).toMatch(/accepted|write/);
    expect(readdirSync(folder)).not.toContain("out");
  });
});

describe("C15: what cannot be read is said, with 3", () => {
  it("a key that stands twice", async () => {
    const text = JSON.stringify(SMALL_MANIFEST).replace('"rowUnits":24', '"rowUnits":24,"row\\u0055nits":16');
    const { code, err } = await onField({ "field.json": text });
    expect(code).toBe(3);
    expect(err).toContain("planter.rowUnits stands there twice");
  });

  it("a pipe in place of a file, without waiting for it", async () => {
    const folder = writeSmallField(join(base, String(++folders)), { "counts.geojson": null });
    execFileSync("mkfifo", [join(folder, "counts.geojson")]);
    for (const argv of [
      ["analyse", ".", "--out", "out"],
      ["inspect", "counts.geojson"],
      ["analyse", "counts.geojson", "--out", "out"],
      ["inspect", "/dev/zero"],
    ]) {
      const io = fakeIo(folder);
      expect(await run(argv, io)).toBe(3);
      expect(io.written.err).toContain("is a pipe, a socket or a device");
    }
  });

  it("a file that is not there, before the log is read", async () => {
    const { code, err } = await onField({ "counts.geojson": null, "planting.geojson": "no log at all" });
    expect(code).toBe(3);
    expect(err).toContain("counts.geojson: no such file");
  });

  it.each(['PARAMETER["central_meridian",x]', 'PARAMETER["false_easting",]', 'UNIT["m",..]'])(
    "a damaged .prj: %s",
    async (part) => {
      const wkt = `PROJCS["x",GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137,298.257223563]],PRIMEM["Greenwich",0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],${part}]`;
      const { code, err } = await onField(
        withManifest({
          soilZones: { file: "soil.geojson", crs: wkt },
          plantingLog: { ...SMALL_MANIFEST.plantingLog, crs: wkt },
        }),
      );
      expect([0, 3]).toContain(code);
      expect(err).not.toContain("a fault of ours");
    },
  );

  it("a name longer than a file system takes", async () => {
    const long = "n".repeat(300);
    for (const argv of [
      ["inspect", long],
      ["analyse", long, "--out", "out"],
      ["analyse", ".", "--out", long],
    ]) {
      const { code, err } = await onField({}, ...argv);
      expect([2, 3]).toContain(code);
      expect(err).not.toContain("a fault of ours");
    }
    // As long as it may be: the writing needs no longer one.
    expect((await onField({}, "analyse", ".", "--out", "o".repeat(250))).code).toBe(0);
  });
});

/** Escape, string terminators, C1 codes, marks of direction, line and paragraph separators. */
const STEERING = "\u001B[31m\u001B]0;t\u0007\u009B2J\u202E\u2066\u2028\u200B\u0085\u007F\b\r";

describe("C16: no text of a file steers the terminal", () => {
  it("in every command, whatever the name stands in", async () => {
    const names = (value: string) => `${value}${STEERING}`;
    const log = plantingLog();
    for (const feature of log.features as { properties: Record<string, unknown> }[])
      feature.properties[names("NOTE")] = names("note");
    const changes = {
      "field.json": {
        ...SMALL_MANIFEST,
        name: names("Field"),
        plantingLog: { ...SMALL_MANIFEST.plantingLog, file: names("log.geojson") },
      },
      [names("log.geojson")]: log,
      "planting.geojson": null,
      "bad.json": { ...SMALL_MANIFEST, [names("key")]: 1 },
      "bad2.json": { ...SMALL_MANIFEST, plantingLog: { file: names("../outside") } },
      "bad3.json": { ...SMALL_MANIFEST, targets: { population: names("34000 seeds/ac") } },
      [names("x.geojson")]: collection([point(degrees(0, 0), { [names("A")]: names("a") })]),
    };
    for (const argv of [
      ["analyse", ".", "--out", "out"],
      ["analyse", ".", "--out", "out", "--json"],
      ["inspect", names("log.geojson"), names("x.geojson")],
      ["inspect", names("missing.geojson")],
      ["analyse", "bad.json", "--out", "out"],
      ["analyse", "bad2.json", "--out", "out"],
      ["analyse", "bad3.json", "--out", "out"],
      ["replant", "."],
      [names("frobnicate")],
    ]) {
      const { out, err } = await onField(changes, ...argv);
      expect((out + err).replaceAll("\n", ""), argv.join(" ")).not.toMatch(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]/u);
      expect(out + err).not.toBe("");
    }
  });

  it("and --json reads back as the file that was written", async () => {
    const { folder, out } = await onField(
      withManifest({ name: `Field${STEERING}` }),
      "analyse",
      ".",
      "--out",
      "out",
      "--json",
    );
    expect(JSON.parse(out)).toEqual(JSON.parse(readFileSync(join(folder, "out/findings.json"), "utf8")));
  });
});

describe("C17: the place to write to", () => {
  it("may be a link to another folder, which keeps its link", async () => {
    const elsewhere = join(base, "elsewhere");
    mkdirSync(elsewhere);
    const folder = writeSmallField(join(base, String(++folders)));
    symlinkSync(elsewhere, join(folder, "out"));
    for (let time = 0; time < 2; time++)
      expect(await run(["analyse", ".", "--out", "out"], fakeIo(folder))).toBe(0);
    expect(readdirSync(elsewhere)).toContain("findings.json");
    expect(readdirSync(folder).sort()).toEqual([...Object.keys(smallField()), "out"].sort());
  });

  it.each(["/proc/no-such/out", "field.json/out"])("%s is refused before a file is read", async (place) => {
    const { code, err } = await onField({ "planting.geojson": "no log" }, "analyse", ".", "--out", place);
    expect(code).toBe(2);
    expect(err).toContain("--out");
  });

  it("may hold what the file system keeps at the top of a disk", async () => {
    const folder = writeSmallField(join(base, String(++folders)));
    mkdirSync(join(folder, "disk/lost+found"), { recursive: true });
    expect(await run(["analyse", ".", "--out", "disk"], fakeIo(folder))).toBe(0);
    writeFileSync(join(folder, "disk/mine.txt"), "mine");
    expect(await run(["analyse", ".", "--out", "disk"], fakeIo(folder))).toBe(0);
    expect(readdirSync(join(folder, "disk"))).toEqual(expect.arrayContaining(["lost+found", "mine.txt"]));
  });
});
