/** Logs as they come, the ground and the passes: cases C1 to C7, through the command. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { FindingsDocument } from "../../src/findings/findings-document.ts";
import { utmFrame } from "../../src/ingest/crs/crs.ts";
import { runCase, writeCase } from "./field-builder.ts";
import { type DrivenField, driveField, type Plan } from "./support/driven-field.ts";
import { type Style, writeLog } from "./support/written-log.ts";

const PLAN: Plan = {
  seed: 3,
  layout: "bar",
  machines: [{ rows: 16, passes: 10, speedMetresPerSecond: 2.4 }],
  rowSpacingM: 0.762,
  lengthM: 168,
  periodS: 1,
  sections: 1,
  turnedDeg: 0,
  waterwayM: 0,
  headlands: 0,
  noiseM: 0.02,
  pointAt: 0,
};
const STYLE: Style = {
  clock: "iso",
  order: "as driven",
  names: "plain",
  lengthUnit: "ft",
  unitInName: true,
  width: "record",
  distance: true,
  heading: true,
  passNumber: "none",
  machineName: false,
  seed: 5,
};
const BAR_M = 16 * 0.762;
const SHEET = { planter: { rowUnits: 16, rowSpacing: "30 in" } };

interface Changes {
  plan?: Partial<Plan>;
  style?: Partial<Style>;
  manifest?: object;
  log?: object;
  /** West, south, east and north edge, m. */
  boundary?: [number, number, number, number];
  /** The same of the one soil zone. */
  soil?: [number, number, number, number];
}

/** Writes a log, analyses it, gives what was said and found. */
async function analysed({ plan, style, manifest, log: logEntry, boundary, soil }: Changes) {
  const driven = driveField({ ...PLAN, ...plan });
  const log = writeLog(driven, { ...STYLE, ...style });
  const frame = utmFrame(-93.6, 42);
  const polygonFile = (edges: [number, number, number, number], properties: object): string => {
    const ring = ring4(edges).map(([x, y]) => frame.toLonLat(x, y));
    const geometry = { type: "Polygon", coordinates: [ring] };
    return JSON.stringify({
      type: "FeatureCollection",
      features: [{ type: "Feature", properties, geometry }],
    });
  };
  const folder = writeCase({
    "log.geojson": log.text,
    ...(boundary ? { "boundary.geojson": polygonFile(boundary, {}) } : {}),
    ...(soil ? { "soil.geojson": polygonFile(soil, { texture: "clay" }) } : {}),
    "field.json": JSON.stringify({
      schema: "evenstand/field/1",
      name: "Case",
      plantingLog: { file: "log.geojson", ...logEntry },
      ...(boundary ? { boundary: { file: "boundary.geojson" } } : {}),
      ...(soil ? { soilZones: { file: "soil.geojson", zone: "texture" } } : {}),
      targets: { seedingDepth: "2 in", population: "34000 seeds/ac" },
      ...manifest,
    }),
  });
  const { code, out, err } = await runCase(folder, "analyse", "field", "--out", "out");
  const document =
    code === 0
      ? (JSON.parse(readFileSync(join(folder, "out", "findings.json"), "utf8")) as FindingsDocument)
      : null;
  const report = code === 0 ? readFileSync(join(folder, "out", "report.html"), "utf8") : "";
  return { driven, code, out: out.replaceAll(/\s+/g, " "), err, document: document!, report };
}

function ring4([west, south, east, north]: [number, number, number, number]): [number, number][] {
  return [[west, south], [east, south], [east, north], [west, north], [west, south]]; // biome-ignore format: one line
}

function plantedShare(driven: DrivenField, document: FindingsDocument): number {
  return (document.summary.ground!.plantedHa * 10_000) / driven.areaM2;
}

function passesOf(document: FindingsDocument): number {
  return new Set(document.comparison.map(({ pass }) => pass).filter((pass) => pass !== null)).size;
}

describe("the ground", () => {
  it("C1: no width in the log: by the distance between passes, and said", async () => {
    const { driven, document, out } = await analysed({ style: { width: "none" } });
    expect(Math.abs(plantedShare(driven, document) - 1)).toBeLessThan(0.01);
    expect(out).toContain("no width of the planter in log or planter sheet: 12.19 m (40.0 ft) taken from");
  });

  it("C1: no width in the log and one pass alone: asked for", async () => {
    const alone = await analysed({
      plan: { machines: [{ rows: 16, passes: 1, speedMetresPerSecond: 2.4 }] },
      style: { width: "none" },
    });
    expect(alone.code).toBe(3);
    expect(alone.err).toMatch(/width of the bar.*"rowUnits": 16, "rowSpacing": "30 in"/s);
  });

  it("C2: a log over a third of the boundary: said first, and only that third is called sound", async () => {
    const width = 10 * BAR_M;
    const { document, out, report } = await analysed({ boundary: [0, 0, 3 * width, 168], manifest: SHEET });
    const first =
      /^Not judged: \d+\.\d ac \(6\d %\) of the 15\.\d ac inside the boundary; the log has no record/;
    expect(document.summary.sentence).toMatch(first);
    expect(out).toContain("Not judged: 10");
    expect(report).toContain("of the 15.2 ac inside the boundary");
    const { ground, nothingFoundHa } = document.summary;
    expect(ground!.judgedHa).toBeCloseTo((width * 168) / 10_000, 1);
    expect(nothingFoundHa).toBeLessThanOrEqual(ground!.judgedHa);
  });

  it("C2: a soil map over a third of the log: said in the terminal and in the report", async () => {
    const { out, report, document } = await analysed({
      soil: [0, 0, (10 * BAR_M) / 3, 168],
      manifest: SHEET,
    });
    const said = /the soil on [67]\d % of the planted ground: the soil map does not reach it/;
    expect(out).toMatch(said);
    expect(document.summary.notJudged[0]!.what).toMatch(/^the soil on [67]\d/);
    expect(report).toMatch(/the soil on [67]\d % of the planted ground/);
    const whole = await analysed({ soil: [0, 0, 10 * BAR_M, 168], manifest: SHEET });
    expect(whole.out).not.toContain("the soil map does not reach it");
  });

  it("C3: double ground of more than a quarter is said first, with what to check", async () => {
    // The sheet says 24 rows where 16 were driven.
    const { document } = await analysed({
      style: { width: "none" },
      manifest: { planter: { rowUnits: 24, rowSpacing: "30 in" } },
    });
    expect(document.summary.sentence).toMatch(
      /^\d+ % of the ground comes out as planted twice\. The bar is taken/,
    );
    expect(document.summary.ground).toMatchObject({ inDoubt: true, spacingM: 12.19 });
  });

  it("C3: a width in a wrong unit is not believed: asked for", async () => {
    const { code, err } = await analysed({
      style: { lengthUnit: "m", distance: false },
      log: { columns: { swathWidth: { column: "Swath Width_m", unit: "ft" } } },
    });
    expect(code).toBe(3);
    expect(err).toMatch(/12\.19 m|12\.2/);
  });

  it.each([
    ["degrees under a metre system", { crs: "EPSG:32615" }],
    [
      "a system that puts it beyond the fields",
      { crs: "+proj=merc +lat_ts=0 +a=6378137 +units=m +to_meter=0.001" },
    ],
  ])("C4: %s is refused: numbers and system do not go together", async (_title, log) => {
    const { code, err } = await analysed({ log });
    expect(code).toBe(3);
    expect(err).toMatch(/do not go together|not understood/);
  });
});

describe("the passes", () => {
  it("C5: a clock set back by an hour: one jump, the passes stay, said in the terminal", async () => {
    const { document, out } = await analysed({ style: { clock: "set back" } });
    expect(passesOf(document)).toBe(10);
    expect(out).toMatch(
      /log.geojson, column Time: assumed: falls back while the planter goes on, first by 3\d\d\d s/,
    );
  });

  it.each([
    ["all times equal", { style: { clock: "one time" as const } }],
    ["all times equal, shuffled", { style: { clock: "one time" as const, order: "shuffled" as const } }],
    ["restarted numbers", { style: { passNumber: "restarting" as const } }],
    ["shuffled with times", { style: { order: "shuffled" as const } }],
  ])("C6: %s", async (_title, changes) => {
    const { driven, document } = await analysed(changes);
    expect(passesOf(document)).toBe(10);
    expect(Math.abs(plantedShare(driven, document) - 1)).toBeLessThan(0.01);
  });

  it.each([true, false])(
    "A24, C6: two planters logged between each other (named: %s)",
    async (machineName) => {
      const { driven, document, out } = await analysed({
        plan: {
          machines: [
            { rows: 16, passes: 6, speedMetresPerSecond: 2.4 },
            { rows: 8, passes: 6, speedMetresPerSecond: 2.2 },
          ],
        },
        style: { machineName, order: "interleaved" },
      });
      expect(passesOf(document)).toBe(12);
      expect(Math.abs(plantedShare(driven, document) - 1)).toBeLessThan(0.01);
      if (!machineName) expect(out).toContain("two or more machines");
    },
  );
});

describe("polygons", () => {
  const polygon = { layout: "polygon" as const, noiseM: 0 };

  it("C7: overlaps and crossing rings: planted ground within 2 % of the union", async () => {
    // Every polygon reaches a fifth back over the one before; one in fifty crosses itself.
    const { driven, document } = await analysed({
      plan: polygon,
      style: {
        ring: (ring, _record, index) => {
          const [backLeft, frontLeft, frontRight, backRight] = ring as [
            [number, number],
            [number, number],
            [number, number],
            [number, number],
          ];
          const back = (rear: [number, number], front: [number, number]): [number, number] => [
            rear[0] - 0.2 * (front[0] - rear[0]),
            rear[1] - 0.2 * (front[1] - rear[1]),
          ];
          if (index % 50 === 7) return [backLeft, frontRight, frontLeft, back(backRight, frontRight)];
          return [back(backLeft, frontLeft), frontLeft, frontRight, back(backRight, frontRight)];
        },
      },
    });
    // Truth: the rectangle, with a fifth of a step before each pass, less what crossing rings leave open.
    expect(plantedShare(driven, document)).toBeGreaterThan(0.98);
    expect(plantedShare(driven, document)).toBeLessThan(1.02);
    expect(passesOf(document)).toBe(10);
  });
});
