import { describe, expect, it } from "vitest";
import { welchDifference } from "../../src/numerics/welch.ts";

describe("the difference of two means with their own spreads", () => {
  it("is the textbook t interval where both are alike", () => {
    // Worked by hand: v = 2 and n = 2 on both sides, V = 2, df = 2; t(0.975, 2) = 4.30265 (printed t tables).
    const { difference, low, high, df } = welchDifference([0, 2], [5, 7], 0.95);
    expect(difference).toBe(5);
    expect(df).toBeCloseTo(2, 12);
    expect(low).toBeCloseTo(5 - 4.30265 * Math.SQRT2, 4);
    expect(high).toBeCloseTo(5 + 4.30265 * Math.SQRT2, 4);
  });
  it("gives fewer degrees of freedom where one side has most of the spread", () => {
    // Worked by hand: v1/n1 = (5/3)/4, v2/n2 = 8/2; df = 4.416667^2 / (0.416667^2/3 + 4^2/1).
    const { difference, df } = welchDifference([1, 2, 3, 4], [2, 6], 0.95);
    expect(difference).toBe(1.5);
    expect(df).toBeCloseTo(19.506944 / 16.05787, 5);
  });
  it("has no width without spread", () => {
    expect(welchDifference([1, 1], [3, 3], 0.95)).toEqual({ difference: 2, low: 2, high: 2, df: 1 });
  });
});
