import { describe, expect, it } from "vitest";
import { checkField } from "../../src/causes/field-checks.ts";
import { recordDoses } from "../../src/cells/predicted-loss.ts";
import { loggingIntervalM, noLoadShareLimit, spreadScale } from "../../src/compare/logging-interval.ts";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "../../src/quantities/units.ts";
import type { Targets } from "../../src/vocabulary/field.ts";
import type { LogVariable } from "../../src/vocabulary/variables.ts";
import { buildField } from "../support/field-builder.ts";
import { passesOf } from "./support/parts.ts";

const ROWS = 8;
const MOMENTS = 200;
const PASSES = 4;

/** A bar of eight row units on four passes; a value by row unit, moment and a standard normal draw. */
function causesOf(
  variable: LogVariable,
  value: (row: number, moment: number, z: number) => number,
  targets: Partial<Targets> = {},
  distanceM = 6,
): string[] {
  const random = seededRandom(7);
  const records = Array.from({ length: PASSES * MOMENTS * ROWS }, (_, i) => ({
    pass: 1 + Math.floor(i / (MOMENTS * ROWS)),
    moment: Math.floor(i / ROWS),
    row: 1 + (i % ROWS),
  }));
  const x = records.map(() => 0);
  const values = records.map(({ row, moment }) => value(row, moment % MOMENTS, normal(random)));
  const field = buildField({ x, y: x, values: { [variable]: values }, layout: "row-unit", targets });
  const passes = passesOf(records.map(({ pass }) => ({ pass })));
  records.forEach(({ moment, row }, i) => {
    passes.momentOf[i] = moment;
    passes.rowUnitOf[i] = row;
    passes.distanceM[i] = distanceM;
  });
  passes.momentCount = PASSES * MOMENTS;
  passes.rowUnitCount = ROWS;
  const doses = recordDoses(field, passes, new Int32Array(x.length).fill(-1));
  return checkField(field, passes, doses, [], 1).map(({ cause }) => cause);
}

const BAND: Partial<Targets> = { downForceMarginN: [60 * LBF, 160 * LBF] };
const load = (meanLb: number, spreadLb: number) => (_: number, __: number, z: number) =>
  Math.max(0, meanLb + spreadLb * z) * LBF;

describe("the whole field against its targets", () => {
  it("a mean a little over the band is nothing, a load well over it is", () => {
    expect(causesOf("downForceMargin", load(164, 15), BAND)).toEqual([]);
    expect(causesOf("downForceMargin", load(164, 35), BAND)).toEqual([]);
    expect(causesOf("downForceMargin", load(200, 20), BAND)).toEqual(["excess-down-force"]);
    expect(causesOf("downForceMargin", load(40, 10), BAND)).toEqual(["lost-ground-contact"]);
  });

  it("a good mean that bounces has wheels in the air, with or without a band", () => {
    expect(causesOf("downForceMargin", load(110, 80), BAND)).toEqual(["lost-ground-contact"]);
    expect(causesOf("downForceMargin", load(110, 80))).toEqual(["lost-ground-contact"]);
    expect(causesOf("downForceMargin", load(110, 40), BAND)).toEqual([]);
  });

  it("one row unit, or one place, without load is not the whole field", () => {
    const oneRow = (row: number, moment: number, z: number) =>
      row === 3 ? 0 : load(110, 30)(row, moment, z);
    expect(causesOf("downForceMargin", oneRow, BAND)).toEqual([]);
    const onePlace = (row: number, moment: number, z: number) =>
      moment < 60 ? 0 : load(110, 30)(row, moment, z);
    expect(causesOf("downForceMargin", onePlace, BAND)).toEqual([]);
  });

  it("skips, doubles and lost contact everywhere are found, the usual ones are not", () => {
    for (const [variable, cause] of [
      ["misses", "misses"],
      ["multiples", "multiples"],
    ] as const) {
      expect(causesOf(variable, (_, __, z) => Math.max(0, 0.066 + 0.01 * z))).toEqual([cause]);
      expect(causesOf(variable, (_, __, z) => Math.max(0, 0.02 + 0.01 * z))).toEqual([]);
      expect(causesOf(variable, (row) => (row === 2 ? 0.3 : 0.01))).toEqual([]);
    }
    expect(causesOf("groundContact", () => 0.9)).toEqual(["lost-ground-contact"]);
    expect(causesOf("groundContact", () => 0.99)).toEqual([]);
  });

  it("speed, rate and depth go by the share of the ground that is off", () => {
    const speed: Partial<Targets> = { speedMetresPerSecond: 2.2 };
    expect(causesOf("speed", (_, __, z) => 2.6 + 0.1 * z, speed)).toEqual(["excess-speed"]);
    expect(causesOf("speed", (_, __, z) => 2.3 + 0.1 * z, speed)).toEqual([]);
    const rate: Partial<Targets> = { populationPerHa: 80_000 };
    expect(causesOf("population", (_, __, z) => 73_000 + 2000 * z, rate)).toEqual(["rate-off-target"]);
    expect(causesOf("population", (_, __, z) => 78_000 + 2000 * z, rate)).toEqual([]);
    const depth: Partial<Targets> = { seedingDepthMm: 50 };
    expect(causesOf("seedingDepth", (_, __, z) => 40 + 3 * z, depth)).toEqual(["too-shallow"]);
    expect(causesOf("seedingDepth", (_, __, z) => 47 + 3 * z, depth)).toEqual([]);
  });
});

describe("the logging interval", () => {
  it("short records show more spread, so more time without load is ordinary", () => {
    expect(spreadScale(6)).toBe(1);
    expect(spreadScale(1)).toBeGreaterThan(spreadScale(2));
    expect(spreadScale(12)).toBeLessThan(1);
    expect(noLoadShareLimit(6)).toBeCloseTo(0.05, 12);
    expect(noLoadShareLimit(2)).toBeGreaterThan(0.1);
    expect(noLoadShareLimit(12)).toBeLessThan(0.02);
    const bouncing = (_: number, moment: number) => (moment % 12 === 0 ? 0 : 500);
    expect(causesOf("downForceMargin", bouncing, {}, 6)).toEqual(["lost-ground-contact"]);
    expect(causesOf("downForceMargin", bouncing, {}, 2)).toEqual([]);
    expect(loggingIntervalM(passesOf([{ pass: 0 }]))).toBe(6);
  });
});
