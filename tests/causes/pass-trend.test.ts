/** Trends from pass to pass: found where they rise steadily, silent on noise and on a step. */
import { expect, it } from "vitest";
import { passTrend } from "../../src/causes/find/pass-trend.ts";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import type { Passes } from "../../src/passes/passes.ts";

const PASSES = 20;
const RECORDS = 50;

/** Only what a trend reads of the passes: which pass each record lies on. */
function passesOf(count: number): Passes {
  return {
    passes: Array.from({ length: count }, (_, pass) => ({ number: pass + 1 })),
    passOf: Int32Array.from({ length: count * RECORDS }, (_, i) => 1 + Math.floor(i / RECORDS)),
  } as unknown as Passes;
}

function trendOf(meanOf: (pass: number) => number, seed = 1) {
  const random = seededRandom(seed);
  const passes = passesOf(PASSES);
  const values = Float64Array.from(passes.passOf, (pass) => meanOf(pass) + 0.02 * normal(random));
  return passTrend("misses", values, passes, () => true, null);
}

it("a steady rise is told with its first and last value", () => {
  const trend = trendOf((pass) => 0.01 + (0.06 * (pass - 1)) / (PASSES - 1));
  expect(trend).toMatchObject({ variable: "misses", passes: PASSES });
  expect(trend!.first).toBeCloseTo(0.01, 2);
  expect(trend!.last).toBeCloseTo(0.07, 2);
});

it("no trend in noise, in 200 fields", () => {
  const said = Array.from({ length: 200 }, (_, seed) => trendOf(() => 0.03, seed)).filter(Boolean);
  expect(said).toEqual([]);
});

it("no trend where it is too small to matter, or on too few passes", () => {
  expect(trendOf((pass) => 0.01 + 0.0005 * pass)).toBeNull();
  const few = passesOf(5);
  const values = Float64Array.from(few.passOf, (pass) => 0.02 * pass);
  expect(passTrend("misses", values, few, () => true, null)).toBeNull();
});

it("a rise of all rows is no trend of one of them", () => {
  const passes = passesOf(PASSES);
  const values = Float64Array.from(passes.passOf, (pass, i) => 0.003 * pass + (i % 2) * 0.001);
  const isEven = (record: number): boolean => record % 2 === 0;
  expect(passTrend("misses", values, passes, isEven, (record) => !isEven(record))).toBeNull();
  expect(passTrend("misses", values, passes, isEven, null)).not.toBeNull();
});
