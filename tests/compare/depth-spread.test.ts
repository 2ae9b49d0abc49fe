import { describe, expect, it } from "vitest";
import { depthSteps } from "../../src/compare/depth-spread.ts";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { passesOf } from "../causes/support/parts.ts";

/** Records of a bar: moment by moment, row unit by row unit. */
function bar(units: number, moments: number, passes = 1) {
  const records = Array.from({ length: units * moments * passes }, (_, i) => ({
    pass: Math.floor(i / (units * moments)) + 1,
    rowUnit: (i % units) + 1,
  }));
  return { records, passes: passesOf(records, units) };
}

const spread = (steps: ReturnType<typeof depthSteps>, label = 0) =>
  Math.sqrt(steps.halfSquares[label]! / steps.steps[label]!);

describe("spread of depth along the row", () => {
  it("by hand: steps of 2, -4 and 6 mm", () => {
    const { passes } = bar(1, 4);
    const { halfSquares, steps } = depthSteps(Float64Array.of(50, 52, 48, 54), new Int32Array(4), passes, 1);
    expect(steps[0]).toBe(3);
    expect(halfSquares[0]).toBe((4 + 16 + 36) / 2);
  });

  it("is the SD of independent readings (von Neumann et al. 1941)", () => {
    const random = seededRandom(3);
    const { passes, records } = bar(4, 2000);
    const depth = Float64Array.from(records, () => 50 + 6 * normal(random));
    // 8,000 steps: a standard error of about 1 % of the SD.
    expect(Math.abs(spread(depthSteps(depth, new Int32Array(depth.length), passes, 1)) / 6 - 1)).toBeLessThan(
      0.04,
    );
  });

  it("sees neither standing differences between units nor a slow drift", () => {
    const random = seededRandom(4);
    const { passes, records } = bar(4, 500);
    const noise = Float64Array.from(records, () => 3 * normal(random));
    const shifted = noise.map((value, i) => value + 15 * records[i]!.rowUnit + 0.01 * Math.floor(i / 4));
    const labels = new Int32Array(noise.length);
    const plain = spread(depthSteps(noise, labels, passes, 1));
    expect(Math.abs(spread(depthSteps(shifted, labels, passes, 1)) / plain - 1)).toBeLessThan(0.001);
  });

  it("makes no step from one pass to the next, nor from one unit to another", () => {
    const { passes, records } = bar(2, 3, 2);
    const depth = Float64Array.from(records, ({ pass, rowUnit }) => 100 * pass + 10 * rowUnit);
    const { halfSquares, steps } = depthSteps(depth, new Int32Array(records.length), passes, 1);
    expect([halfSquares[0], steps[0]]).toEqual([0, 2 * 2 * 2]);
  });

  it("steps over missing readings, counts under the label of the later record, leaves out the unlabelled", () => {
    const { passes } = bar(1, 6);
    const depth = Float64Array.of(50, Number.NaN, 54, 54, 60, 62);
    const { halfSquares, steps } = depthSteps(depth, Int32Array.of(0, 0, 1, 1, -1, 0), passes, 2);
    expect([...steps]).toEqual([1, 2]);
    expect([...halfSquares]).toEqual([2, 8]);
  });

  it("records on no pass do not count", () => {
    const passes = passesOf([{ pass: 1 }, { pass: 0 }, { pass: 1 }]);
    const { halfSquares, steps } = depthSteps(Float64Array.of(50, 90, 52), new Int32Array(3), passes, 1);
    expect([halfSquares[0], steps[0]]).toEqual([2, 1]);
  });
});
