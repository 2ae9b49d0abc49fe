/** The run of a season: the same bytes however it is run, only what changed, and what is wrong with fields and folder. */
import { cpSync, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { hostname } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { run } from "../../src/cli/run.ts";
import type { FieldRun } from "../../src/season/field-result.ts";
import type { SeasonDocument } from "../../src/season/season-document.ts";
import { fakeIo } from "../support/fake-io.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";
import { bytesOf, season } from "./support/command.ts";
import { writeSeason } from "./support/season-on-disk.ts";

const scratch = temporaryFolder();
const fields = join(scratch, "fields");
const whole = join(scratch, "whole");

const FIELDS = ["north/one", "north/two", "south/three", "south/four", "five"].map((folder, k) => ({
  folder,
  seed: k + 1,
  bare: folder === "five",
}));

/** Settings for all fields; the bare one takes its prices and its planter from here. */
const SEASON = {
  name: "Test season",
  planters: { "the old planter": { rowUnits: 8, rowSpacing: "30 in" } },
  defaults: {
    prices: { grain: "4.50 USD/bu", expectedYield: "200 bu/ac" },
    targets: { population: "34000 seeds/ac", seedingDepth: "2.0 in", speed: "5.3 mi/h" },
  },
};

/** The command in this process, for what is refused before a field is opened. */
async function refused(...argv: string[]) {
  const io = fakeIo(scratch);
  const code = await run(["season", ...argv], io);
  return { code, ...io.written };
}

function documentIn(folder: string): SeasonDocument {
  return JSON.parse(readFileSync(join(folder, "season-findings.json"), "utf8"));
}

beforeAll(async () => {
  writeSeason(fields, FIELDS, SEASON);
  const { code, err } = await season("run", fields, "--out", whole, "--workers", "1", "--no-reports");
  expect(err).toContain("[5/5]");
  expect(code).toBe(0);
}, 120_000);

describe("a season", () => {
  it("has every field, with the defaults laid under the manifests", () => {
    const document = documentIn(whole);
    expect(document.fields.map(({ id }) => id)).toEqual([
      "five",
      "north--one",
      "north--two",
      "south--four",
      "south--three",
    ]);
    expect(document.leftOut).toEqual([]);
    expect(new Set(document.fields.map(({ planter }) => planter))).toEqual(new Set(["the old planter"]));
    // The bare field is named by its folder and asks for nothing that the season says.
    expect(document.fields[0]!.label).toBe("five");
    expect(document.wanted.filter(({ key }) => key !== "downForceMargin")).toEqual([]);
  });

  it("has the same bytes by two workers, and by parts that are joined, in whatever order they ran", async () => {
    const two = join(scratch, "two");
    expect((await season("run", fields, "--out", two, "--workers", "2", "--no-reports")).code).toBe(0);
    expect(bytesOf(two)).toEqual(bytesOf(whole));
    const parts = join(scratch, "parts");
    const part = (shard: string) =>
      season("run", fields, "--out", parts, "--shard", shard, "--workers", "1", "--no-reports");
    expect((await part("3/3")).code).toBe(0);
    const ended = await Promise.all([part("1/3"), part("2/3")]);
    expect(ended.map(({ code }) => code)).toEqual([0, 0]);
    const merged = await season("merge", parts);
    expect(merged.code).toBe(0);
    expect(merged.out).toContain("Test season");
    expect(bytesOf(parts)).toEqual(bytesOf(whole));
  }, 120_000);

  it("says which parts are missing where they are joined too early", async () => {
    const early = join(scratch, "early");
    await season("run", fields, "--out", early, "--shard", "1/2", "--workers", "1", "--no-reports");
    const { code, out } = await season("merge", early);
    expect(code).toBe(4);
    expect(out).toContain("Left out: 2 fields");
    expect(out).toContain("not worked on yet");
  }, 120_000);

  it("does again only what changed, by its content", async () => {
    const again = join(scratch, "again");
    cpSync(whole, again, { recursive: true });
    const first = await season("run", fields, "--out", again, "--no-reports");
    expect(first.err.match(/as it was/g)).toHaveLength(5);
    expect(bytesOf(again)).toEqual(bytesOf(whole));

    const changed = join(scratch, "changed");
    cpSync(fields, changed, { recursive: true });
    writeFileSync(
      join(changed, "north/two/field.json"),
      readFileSync(join(fields, "north/two/field.json"), "utf8").replace('"two"', '"too"'),
    );
    // The same content elsewhere, with other times of the files and another layout of the JSON, is the same.
    const manifest = JSON.parse(readFileSync(join(fields, "north/one/field.json"), "utf8"));
    writeFileSync(
      join(changed, "north/one/field.json"),
      JSON.stringify(Object.fromEntries(Object.entries(manifest).reverse())),
    );
    const second = await season("run", changed, "--out", again, "--no-reports");
    expect(second.err.match(/as it was/g)).toHaveLength(4);
    expect(second.err).toMatch(/too: done/);
  }, 120_000);

  it("mends what a killed run has left: half a result, a result without its place, one that was only begun", async () => {
    const torn = join(scratch, "torn");
    cpSync(whole, torn, { recursive: true });
    const field = (id: string) => join(torn, "fields", id);
    rmSync(join(field("five"), "field-run.json"));
    writeFileSync(join(field("north--one"), "extract.json"), '{"schema":');
    rmSync(join(field("north--one"), "field-run.json"));
    cpSync(field("north--two"), join(torn, "fields/.writing~north--two~1~00000000"), { recursive: true });
    rmSync(field("north--two"), { recursive: true });
    mkdirSync(join(torn, "fields/.writing~south--four~1~00000001"));
    cpSync(field("south--four"), join(torn, "fields/.leaving~south--four~1~00000002"), { recursive: true });
    const { code, err } = await season("run", fields, "--out", torn, "--no-reports");
    expect(code).toBe(0);
    expect(err.match(/: done/g)).toHaveLength(2);
    expect(bytesOf(torn)).toEqual(bytesOf(whole));
  }, 60_000);
});

describe("bad fields", () => {
  const bad = join(scratch, "bad");
  const out = join(scratch, "bad-out");
  let ended: Awaited<ReturnType<typeof season>>;

  beforeAll(async () => {
    cpSync(fields, bad, { recursive: true });
    cpSync(join(fields, "north/one"), join(bad, "twin"), { recursive: true });
    writeSeason(bad, [{ folder: "other year", seed: 9 }]);
    const manifest = (folder: string, change: object) => {
      const path = join(bad, folder, "field.json");
      writeFileSync(path, JSON.stringify({ ...JSON.parse(readFileSync(path, "utf8")), ...change }));
    };
    manifest("south/four", { name: "three" });
    manifest("twin", { name: "twin" });
    manifest("other year", { season: 2025 });
    mkdirSync(join(bad, "no log"));
    writeFileSync(join(bad, "no log", "notes.csv"), "what,when\nnothing,never\n");
    mkdirSync(join(bad, "broken"));
    writeFileSync(join(bad, "broken", "field.json"), '{ "plantingLog": { "file": "gone.csv" } }');
    ended = await season("run", bad, "--out", out, "--no-reports");
  }, 120_000);

  it("never stop the rest, and are each named with the reason", () => {
    expect(ended.code).toBe(4);
    const { fields: kept, leftOut } = documentIn(out);
    expect(kept).toHaveLength(5);
    const reasons = Object.fromEntries(leftOut.map(({ path, reason }) => [path, reason]));
    expect(Object.keys(reasons).sort()).toEqual(["broken", "no log", "other year", "twin"]);
    expect(reasons.broken).toContain("gone.csv");
    expect(reasons["no log"]).toContain("none of its files is a planting log");
    expect(reasons["other year"]).toContain("2025");
    expect(reasons.twin).toContain("north/one");
    for (const reason of Object.values(reasons)) expect(ended.out.replace(/\s+/g, " ")).toContain(reason);
  });

  it("of one name are kept apart and said", () => {
    const { fields: kept, notes } = documentIn(out);
    expect(kept.map(({ label }) => label).filter((label) => label.startsWith("three"))).toEqual([
      "three (south/four)",
      "three (south/three)",
    ]);
    expect(notes.some((note) => note.includes('2 fields are called "three"'))).toBe(true);
  });

  it("count once they are mended, and what failed for its content is not tried again", async () => {
    cpSync(join(bad, "south/three/planting.csv"), join(bad, "broken/gone.csv"));
    const again = await season("run", bad, "--out", out, "--no-reports");
    // The five, the twin and the one of another year are done, and stand.
    expect(again.err.match(/as it was/g)).toHaveLength(7);
    const { leftOut } = documentIn(out);
    // Mended it turns out to be a field that is there already.
    expect(leftOut.find(({ path }) => path === "south/three")!.reason).toContain("that of broken");
  }, 60_000);

  it("with a column to choose are asked about once for all, and the line that answers it does so for all", async () => {
    const unsure = join(scratch, "unsure");
    const two = { moreColumns: { SPEED_KPH: 9 } };
    const both = [
      { folder: "a", seed: 1, changes: two },
      { folder: "b", seed: 2, changes: two },
    ];
    writeSeason(unsure, both);
    const results = join(scratch, "unsure-out");
    const { code, err } = await season("run", unsure, "--out", results, "--no-reports");
    expect(code).toBe(4);
    expect(err).toContain("2 fields, first a");
    const answers = err.match(/"defaults": .*/g)!;
    expect(answers).toHaveLength(3);
    writeSeason(unsure, both, JSON.parse(`{ ${answers[0]} }`));
    const answered = await season("run", unsure, "--out", results, "--no-reports");
    expect(answered.err).not.toContain("defaults");
    expect(answered.code).toBe(0);
  }, 60_000);
});

describe("the folder of a season", () => {
  it("takes one run at a time, says so, and goes on where the other one is dead", async () => {
    const locked = join(scratch, "locked");
    cpSync(whole, locked, { recursive: true });
    const lock = join(locked, ".run-1-of-1.lock");
    // A process that lives and is not this one.
    writeFileSync(lock, JSON.stringify({ host: hostname(), process: process.ppid }));
    const second = await refused("run", fields, "--out", locked, "--no-reports");
    expect(second.code).toBe(2);
    expect(second.err).toContain(`process ${process.ppid}`);
    expect(second.err).toContain(lock);
    expect((await refused("merge", locked)).code).toBe(2);
    expect((await refused("run", fields, "--out", locked, "--shard", "1/2")).code).toBe(2);
    // A number no process has.
    writeFileSync(lock, JSON.stringify({ host: hostname(), process: 2 ** 22 + 1 }));
    expect((await season("run", fields, "--out", locked, "--no-reports")).code).toBe(0);
    expect(existsSync(lock)).toBe(false);
    expect(bytesOf(locked)).toEqual(bytesOf(whole));
  }, 60_000);

  it("is refused where it holds other files, and nothing in it is touched", async () => {
    const foreign = join(scratch, "foreign");
    mkdirSync(foreign);
    writeFileSync(join(foreign, "mine.txt"), "mine");
    const { code, err } = await refused("run", fields, "--out", foreign);
    expect(code).toBe(2);
    expect(err).toContain("holds other files");
    expect(Object.keys(bytesOf(foreign))).toEqual(["mine.txt"]);
  });

  it("may lie among the fields: results are not taken for fields", async () => {
    const among = join(scratch, "among");
    cpSync(fields, among, { recursive: true });
    cpSync(whole, join(among, "results"), { recursive: true });
    const { code, err } = await season("run", among, "--out", join(among, "results"), "--no-reports");
    expect(code).toBe(0);
    expect(err.match(/as it was/g)).toHaveLength(5);
  }, 60_000);

  it("says what is wrong with a season's manifest before any field is opened", async () => {
    const wrong = join(scratch, "wrong");
    const tryIt = async (manifest: object) => {
      writeSeason(wrong, [{ folder: "a", seed: 1 }], manifest);
      return refused("run", wrong, "--out", join(scratch, "wrong-out"));
    };
    const unknown = await tryIt({ planter: {} });
    expect(unknown.code).toBe(3);
    expect(unknown.err).toContain('"planters"');
    const unit = await tryIt({ defaults: { prices: { grain: "4.50 USD/lbf" } } });
    expect(unit.code).toBe(3);
    expect(unit.err).toContain("4.50 USD/lbf");
    const twice = await tryIt({ fields: ["a", "a/"] });
    expect(twice.err).toContain("twice");
    const outside = await tryIt({ fields: ["../fields/five"] });
    expect(outside.err).toContain("--allow-outside");
    const planter = await tryIt({ fields: [{ path: "a", planter: "red" }], planters: { blue: {} } });
    expect(planter.err).toContain("blue");
    const shard = await refused("run", wrong, "--out", join(scratch, "wrong-out"), "--shard", "3/2");
    expect(shard.code).toBe(2);
  }, 60_000);
});

it("a field's key speaks of its content: the run file names it", () => {
  const run = JSON.parse(readFileSync(join(whole, "fields/five/field-run.json"), "utf8")) as FieldRun;
  expect(run.key).toMatch(/^[0-9a-f]{64}$/);
  expect(run.status).toBe("done");
  expect(run.logSha256).toMatch(/^[0-9a-f]{64}$/);
});
