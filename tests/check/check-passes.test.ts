import { describe, expect, it } from "vitest";
import { checkPasses } from "../../src/check/check-passes.ts";
import type { LastYear } from "../../src/check/check-result.ts";
import { checkText } from "../../src/check/check-text.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "../../src/quantities/units.ts";
import type { Field } from "../../src/vocabulary/field.ts";
import type { LogVariable } from "../../src/vocabulary/variables.ts";
import { type PutFault, simulateLog } from "../truth/simulator.ts";

const SHAPE = { rowUnits: 16, lengthM: 400, bendM: 0 };

function logOf(passes: number, faults: readonly PutFault[] = []): Field {
  return simulateLog({ ...SHAPE, passes }, 1234, faults).field;
}

/** The log with a column changed, or taken out where `change` is null. */
function changed(
  field: Field,
  variable: LogVariable,
  change: ((value: number, record: number) => number) | null,
): Field {
  const { [variable]: column, ...values } = field.log.values;
  const own = change && column ? { [variable]: column.map(change) } : {};
  return { ...field, log: { ...field.log, values: { ...values, ...own } } };
}

function matters(field: Field): string[] {
  return checkPasses(field).changes.map(
    ({ matter, cause, rowUnits }) => `${matter}: ${cause}${rowUnits.length > 0 ? ` ${rowUnits}` : ""}`,
  );
}

describe("a sound planter", () => {
  const result = checkPasses(logOf(3));

  it("has nothing to change, and is said to be judged on what was seen only", () => {
    expect(result.changes).toEqual([]);
    expect(result.rows).toEqual([]);
    expect(result.seen).toMatchObject({
      passes: 3,
      bothWays: true,
      rowUnits: 16,
      recordsOnPasses: 3 * 200 * 16,
    });
    // 3 passes of 400 m and 16 rows of 0.762 m.
    expect(result.seen.areaHa).toBeCloseTo((3 * 400 * 16 * 0.762) / 10_000, 1);
    // 200 s a pass and 45 s a turn.
    expect(result.seen.minutes).toBeCloseTo((3 * 200 + 2 * 45) / 60, 0);
    const text = checkText(result, 80).replaceAll(/\s+/g, " ");
    expect(text).toContain("Nothing, of what was judged on 3 passes: depth, gauge-wheel load,");
    expect(text).toContain("That says nothing of the rest of the field.");
    expect(result.notJudged.map(({ what }) => what)).toEqual(
      expect.arrayContaining(["the stand", "wear, clogging and tanks running low", "population", "speed"]),
    );
  });

  it("is checked alike each time", () => {
    expect(JSON.stringify(checkPasses(logOf(3)))).toBe(JSON.stringify(result));
  });

  it("fits one screen", () => {
    const lines = checkText(result, 80).split("\n");
    expect(lines.length).toBeLessThan(42);
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(80);
  });
});

describe("what to change", () => {
  const sound = logOf(3);

  it.each<[string, Field, string[]]>([
    ["0.4 in shallow", changed(sound, "seedingDepth", (mm) => mm - 10), ["depth: too-shallow"]],
    ["0.5 in deep", changed(sound, "seedingDepth", (mm) => mm + 13), ["depth: too-deep"]],
    [
      "depth jumping by 0.8 in from record to record",
      changed(sound, "seedingDepth", (mm, record) => mm + (Math.floor(record / 16) % 2 === 0 ? 10 : -10)),
      ["uniform depth: uneven-depth"],
    ],
    ["load of 30 lb", changed(sound, "downForceMargin", () => 30 * LBF), ["contact: lost-ground-contact"]],
    [
      "a fifth of the readings without load, the mean in the band",
      changed(sound, "downForceMargin", (n, record) => (Math.floor(record / 16) % 5 === 0 ? 0 : n)),
      ["contact: lost-ground-contact"],
    ],
    [
      "load of 230 lb",
      changed(sound, "downForceMargin", (n) => n + 120 * LBF),
      ["pressure: excess-down-force"],
    ],
    ["skips of 8 %", changed(sound, "misses", (share) => share + 0.06), ["spacing: misses"]],
    ["doubles of 7 %", changed(sound, "multiples", (share) => share + 0.06), ["spacing: multiples"]],
  ])("names %s", (_, field, expected) => {
    expect(matters(field)).toEqual(expected);
  });

  it("goes by depth, contact, spacing, and puts the bar before a row", () => {
    const worn: PutFault = { rowUnit: 5, variable: "seedingDepth", from: 1, to: 3, shift: -9 };
    const clogging: PutFault = { rowUnit: 9, variable: "singulation", from: 1, to: 3, shift: -0.04 };
    const field = changed(logOf(3, [clogging, worn]), "downForceMargin", () => 30 * LBF);
    expect(matters(field)).toEqual([
      "depth: too-shallow 5",
      "contact: lost-ground-contact",
      "spacing: misses 9",
    ]);
    const { dig } = checkPasses(field);
    expect(dig).toMatchObject({ pass: 3, middle: [8, 9], wings: [2, 15], departing: [5, 9] });
    expect(checkText(checkPasses(field), 80)).toContain("behind rows 5, 9 (off the");
  });

  it("holds rate and speed against the target, and calls neither without one", () => {
    const rate = changed(sound, "population", (perHa) => perHa * 0.9);
    expect(matters(rate)).toEqual([]);
    const aimed = { ...rate, targets: { ...rate.targets, populationPerHa: 84_000 } };
    expect(matters(aimed)).toEqual(["population: rate-off-target"]);
    const values = { ...sound.log.values, speed: new Float64Array(sound.log.recordCount).fill(3.2) };
    expect(matters({ ...sound, log: { ...sound.log, values } })).toEqual(["speed: excess-speed"]);
  });

  it("names a row that clogs on the one pass seen, and says that one pass is little", () => {
    const field = logOf(1, [{ rowUnit: 3, variable: "singulation", from: 1, to: 1, shift: -0.05 }]);
    const result = checkPasses(field);
    expect(result.changes.map(({ rowUnits }) => rowUnits)).toEqual([[3]]);
    expect(result.seen.bothWays).toBe(false);
    expect(result.notJudged.map(({ what }) => what)).toContain("rows for sure");
    expect(checkText(result, 80).replaceAll(/\s+/g, " ")).toContain("on 1 of 1 pass: look at its meter");
  });
});

describe("a log that lacks something", () => {
  it("of no load says so and judges the rest", () => {
    const result = checkPasses(changed(logOf(3), "downForceMargin", null));
    expect(result.judged).not.toContain("gauge-wheel load");
    expect(result.notJudged).toContainEqual({
      what: "load on the gauge wheels",
      why: "the log has no column for it",
    });
  });

  it("of no row units names no rows", () => {
    const field = logOf(3);
    const first = Array.from({ length: field.log.recordCount }, (_, i) => i).filter((i) => i % 16 === 7);
    const pick = (column: Float64Array): Float64Array => Float64Array.from(first, (i) => column[i]!);
    const { rowUnit: _, ...values } = field.log.values;
    const log: Field["log"] = {
      ...field.log,
      recordCount: first.length,
      x: pick(field.log.x),
      y: pick(field.log.y),
      fileRecord: Int32Array.from(first, (i) => i + 1),
      layout: "bar",
      values: Object.fromEntries(Object.entries(values).map(([name, column]) => [name, pick(column)])),
    };
    const result = checkPasses({ ...field, log });
    expect(result.rows).toEqual([]);
    expect(result.seen.rowUnits).toBe(0);
    expect(result.notJudged).toContainEqual({
      what: "single rows",
      why: "the log has no readings of single row units",
    });
    // The planter sheet tells how many rows there are to dig behind.
    expect(result.dig.middle).toEqual([8, 9]);
  });

  it("of a depth that is only set draws nothing from it", () => {
    const field = changed(logOf(3), "seedingDepth", () => 20);
    const result = checkPasses({ ...field, log: { ...field.log, depthSource: "set" } });
    expect(result.changes).toEqual([]);
    expect(result.notJudged.map(({ what }) => what)).toContain("depth");
  });

  it("of a few hundred records holds nothing against the target yet", () => {
    const field = changed(logOf(1), "seedingDepth", (mm) => mm - 20);
    const short = changed(field, "working", null);
    const working = Float64Array.from(short.log.x, (_, record) => (record < 16 * 20 ? 1 : 0));
    const result = checkPasses({ ...short, log: { ...short.log, values: { ...short.log.values, working } } });
    expect(result.seen.recordsOnPasses).toBe(320);
    expect(result.changes).toEqual([]);
    expect(result.notJudged.map(({ what }) => what)).toContain("the bar against its target");
  });

  it("of lifted records only is refused", () => {
    const field = logOf(1);
    const working = new Float64Array(field.log.recordCount);
    const lifted = { ...field, log: { ...field.log, values: { ...field.log.values, working } } };
    expect(() => checkPasses(lifted)).toThrow(/no record .* planted/);
  });
});

describe("beside last year", () => {
  it("shows its means and that a row departed then as well", () => {
    const lastYear: LastYear = {
      field: "Test field",
      season: 2025,
      crop: "corn",
      means: { seedingDepth: 49 },
      rows: [{ rowUnits: [5], variable: "seedingDepth" }],
    };
    const field = logOf(3, [{ rowUnit: 5, variable: "seedingDepth", from: 1, to: 3, shift: -9 }]);
    const result = checkPasses(field, lastYear);
    expect(result.figures.find(({ variable }) => variable === "seedingDepth")?.lastYear).toBe(49);
    expect(result.rows[0]?.lastYear).toBe(true);
    const text = checkText(result, 80);
    expect(text).toContain("last year");
    expect(text).toMatch(/1\.76 to 2\.24 +1\.93\n/);
    expect(Math.max(...text.split("\n").map((line) => line.length))).toBeLessThanOrEqual(80);
    expect(text.replaceAll(/\s+/g, " ")).toContain("last year too");
  });
});

describe("tanks running low", () => {
  it("is said from eight passes on", () => {
    const passes = 10;
    const { field, drivenPass } = simulateLog({ ...SHAPE, passes }, 77);
    const falling = changed(field, "downForceMargin", (n, record) => n - 25 * drivenPass[record]!);
    const { trends } = checkPasses(falling);
    expect(trends.map(({ variable }) => variable)).toEqual(["downForceMargin"]);
    expect(trends[0]!.first - trends[0]!.last).toBeGreaterThan(150);
    expect(checkPasses(field).trends).toEqual([]);
  });
});
