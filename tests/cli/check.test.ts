import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { run } from "../../src/cli/run.ts";
import { fakeIo } from "../support/fake-io.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";
import { type PutFault, simulateLog } from "../truth/simulator.ts";

const base = temporaryFolder();

interface LogRow {
  longitude: string;
  latitude: string;
  cells: Record<string, string | number>;
}

/** Records as a logger writes them, in farm units, at a made-up place. */
function rowsOf(passes: number, faults: readonly PutFault[] = []): LogRow[] {
  const { field } = simulateLog({ rowUnits: 12, passes, lengthM: 200, bendM: 0 }, 42, faults);
  const { values, x, y } = field.log;
  return Array.from(x, (east, i) => ({
    longitude: (-93 + east / 82_000).toFixed(7),
    latitude: (42 + y[i]! / 111_100).toFixed(7),
    cells: {
      time: new Date(values.time![i]! * 1000).toISOString(),
      row_unit: values.rowUnit![i]!,
      depth_in: (values.seedingDepth![i]! / 25.4).toFixed(2),
      margin_lbf: (values.downForceMargin![i]! / 4.448).toFixed(0),
      miss_pct: (values.misses![i]! * 100).toFixed(1),
      mult_pct: (values.multiples![i]! * 100).toFixed(1),
      population_ac: (values.population![i]! * 0.4047).toFixed(0),
    },
  }));
}

function csvOf(rows: readonly LogRow[], left: readonly string[] = []): string {
  const names = Object.keys(rows[0]!.cells).filter((name) => !left.includes(name));
  const lines = rows.map(({ longitude, latitude, cells }) =>
    [longitude, latitude, ...names.map((name) => cells[name])].join(","),
  );
  return `${["lon", "lat", ...names].join(",")}\n${lines.join("\n")}\n`;
}

function geoJsonOf(rows: readonly LogRow[]): string {
  const features = rows.map(({ longitude, latitude, cells }) =>
    JSON.stringify({
      type: "Feature",
      geometry: { type: "Point", coordinates: [Number(longitude), Number(latitude)] },
      properties: Object.fromEntries(
        Object.entries(cells).map(([name, value]) => [name, name === "time" ? value : Number(value)]),
      ),
    }),
  );
  return `{"type":"FeatureCollection","features":[\n${features.join(",\n")}\n]}\n`;
}

function put(name: string, text: string): string {
  writeFileSync(join(base, name), text);
  return name;
}

async function check(...argv: string[]) {
  const io = fakeIo(base);
  const code = await run(["check", ...argv], io);
  return { code, ...io.written, words: io.written.out.replaceAll(/\s+/g, " ") };
}

const worn: PutFault = { rowUnit: 4, variable: "seedingDepth", from: 1, to: 3, shift: -9 };
const rows = rowsOf(3, [worn]);
const log = put("planting.csv", csvOf(rows));
const manifest = put(
  "field.json",
  JSON.stringify({
    schema: "evenstand/field/1",
    name: "Invented Forty",
    plantingLog: { file: "not-written-yet.csv" },
    soilZones: { file: "not-there.geojson", zone: "texture" },
    planter: { rowUnits: 12, rowSpacing: "30 in", wheelTrackRows: [5, 8] },
    targets: { seedingDepth: "2.0 in", population: "34000 seeds/ac", downForceMargin: ["60 lbf", "160 lbf"] },
  }),
);

describe("evenstand check", () => {
  it("needs no manifest: names the row, and where to dig", async () => {
    const { code, words, err } = await check(log);
    expect(err).toBe("");
    expect(code).toBe(0);
    expect(words).toContain("planting, the log so far. Seen: 3 passes (both ways), 1.4 ac");
    expect(words).toMatch(/1 Row 4 reads 0\.\d\d in shallower than the bar on 3 of 3 passes: dig behind it/);
    expect(words).toContain("dig three seeds behind row 4 (off the bar)");
    expect(words).toContain("Before reaching under a planter");
    expect(words).toContain("1.50 to 2.55 *");
  });

  it("takes targets and planter from a manifest that was written before the log, and no other file of it", async () => {
    const { code, words } = await check(log, "--manifest", manifest);
    expect(code).toBe(0);
    expect(words).toContain("Invented Forty, the log so far.");
    expect(words).toContain("1.76 to 2.24");
    expect(words).toContain("the rows in wheel tracks (5, 8; packed ground)");
  });

  it("takes the folder of a field too", async () => {
    mkdirSync(join(base, "field"), { recursive: true });
    put("field/planting.csv", csvOf(rows));
    put(
      "field/field.json",
      JSON.stringify({ schema: "evenstand/field/1", plantingLog: { file: "planting.csv" } }),
    );
    expect((await check("field")).words).toContain("1 Row 4 reads");
    const { code, err } = await check("field", "--manifest", manifest);
    expect(code).toBe(2);
    expect(err).toContain("is a field manifest itself");
  });

  it("prints the same figures as JSON each time", async () => {
    const { code, out } = await check(log, "--json");
    expect(code).toBe(0);
    const result = JSON.parse(out);
    expect(result.schema).toBe("evenstand/check/1");
    expect(result.changes[0]).toMatchObject({ matter: "depth", cause: "too-shallow", rowUnits: [4] });
    expect((await check(log, "--json")).out).toBe(out);
  });

  it("looks again as the log grows", async () => {
    const growing = rowsOf(3, [worn]);
    const seen: number[] = [];
    for (const share of [0.1, 0.4, 0.8, 1]) {
      const part = growing.slice(0, Math.floor(growing.length * share));
      const { code, out } = await check(put("growing.csv", csvOf(part)), "--json");
      expect(code).toBe(0);
      seen.push(JSON.parse(out).seen.recordsOnPasses);
    }
    expect(seen).toEqual([...seen].sort((a, b) => a - b));
    expect(new Set(seen).size).toBe(4);
  });
});

describe("last year's findings", () => {
  const lastYear = {
    schema: "evenstand/findings/1",
    field: { name: "Invented Forty", season: 2025, crop: "corn" },
    summary: { departingRows: [{ rowUnits: [4], variable: "seedingDepth" }] },
    findings: [],
    comparison: [
      { variable: "seedingDepth", pass: 1, soilZone: null, rowUnit: null, records: 100, mean: 45 },
      { variable: "seedingDepth", pass: 2, soilZone: null, rowUnit: null, records: 300, mean: 49 },
      { variable: "seedingDepth", pass: 2, soilZone: "loam", rowUnit: null, records: 300, mean: 10 },
    ],
  };

  it("stand beside the figures, weighed by their records, from the file or its folder", async () => {
    mkdirSync(join(base, "results"), { recursive: true });
    put("results/findings.json", JSON.stringify(lastYear));
    for (const path of ["results", "results/findings.json"]) {
      const { code, words } = await check(log, "--last", path);
      expect(code).toBe(0);
      expect(words).toContain("Last year: Invented Forty, 2025.");
      expect(words).toContain("1.50 to 2.55 * 1.89 ");
      expect(words).toContain("on 3 of 3 passes; last year too");
    }
  });

  it.each([
    ["not JSON", "{ half"],
    ["another document", JSON.stringify({ schema: "evenstand/prescription/1" })],
    ["parts missing", JSON.stringify({ ...lastYear, comparison: null })],
    ["nothing", "null"],
  ])("of %s are refused with exit code 3", async (_, text) => {
    const { code, err } = await check(log, "--last", put("broken.json", text));
    expect(code).toBe(3);
    expect(err).toContain("broken.json");
    expect(err).toContain("findings.json");
  });

  it("that are not there are refused", async () => {
    expect((await check(log, "--last", "nowhere")).code).toBe(3);
  });
});

describe("what a log may be like while it grows", () => {
  const short = rowsOf(1);

  it.each([
    ["csv", csvOf(short)],
    ["geojson", geoJsonOf(short)],
  ])("a .%s cut anywhere gives an answer or a plain refusal", async (ending, text) => {
    const last = text.slice(0, -3).lastIndexOf("\n");
    const cuts = [1, 20, 60, 300, 900, 2500, ...[1, 3, 9, 20, 33, 47, 60].map((back) => last + back)];
    for (const at of cuts) {
      const { code, out, err } = await check(put(`cut.${ending}`, text.slice(0, at)));
      expect([0, 3], `cut at ${at}: ${err}`).toContain(code);
      if (code === 0) expect(out).toContain("WHERE TO DIG");
      else expect(err).toContain("cut.");
    }
  });

  it("a last record that is cut short is counted as left out, the others are used", async () => {
    const text = geoJsonOf(short);
    const { code, words } = await check(put("cut.geojson", text.slice(0, text.lastIndexOf("depth_in"))));
    expect(code).toBe(0);
    expect(words).toContain("Left out, 1 of the file: the file ends too early");
  });

  it("without a load column, without row units, it judges the rest", async () => {
    const { code, words } = await check(put("bare.csv", csvOf(rows, ["margin_lbf"])));
    expect(code).toBe(0);
    expect(words).toContain("load on the gauge wheels (the log has no column for it)");
    const bar = rows.filter((_, i) => i % 12 === 5);
    const whole = await check(put("bar.csv", csvOf(bar, ["row_unit"])), "--manifest", manifest);
    expect(whole.code).toBe(0);
    expect(whole.words).toContain("single rows (the log has no readings of single row units)");
  });

  it("of nothing but lifted records it is refused", async () => {
    const lifted = rows.map((row) => ({ ...row, cells: { ...row.cells, working: 0 } }));
    const { code, err } = await check(put("lifted.csv", csvOf(lifted)));
    expect(code).toBe(3);
    expect(err).toContain("planted");
  });

  it("that is empty, missing or no planting log is refused", async () => {
    expect((await check(put("empty.csv", ""))).code).toBe(3);
    expect((await check("nowhere.csv")).code).toBe(3);
    const { code, err } = await check(put("rain.csv", "date,rain_mm\n2026-04-01,3\n2026-04-02,0\n"));
    expect(code).toBe(3);
    expect(err).toContain("rain.csv: is not taken for a planting log");
  });

  it("with a manifest that is none is refused", async () => {
    for (const text of ["{", "[]", '{"schema":"evenstand/field/1","tragets":{}}']) {
      const { code, err } = await check(log, "--manifest", put("wrong.json", text));
      expect(code).toBe(3);
      expect(err).toContain("wrong.json");
    }
  });
});
