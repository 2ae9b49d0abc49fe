/** Intervals of single counts: hand figures, and a small fixed part of the coverage run. */
import { describe, expect, it } from "vitest";
import { hoopCuts } from "../../src/stand/count-intervals.ts";
import { simulateCounts } from "./count-simulation.ts";

describe("the row within a hoop", () => {
  it("is all chance where rows are wider apart than the hoop, and none where they are dense", () => {
    // One row crossed at a uniform place: chord c = d sqrt(1 - u^2) with chance d/w, else 0.
    // E c = pi d^2 / (4 w), E c^2 = 2 d^3 / (3 w): relative variance 32 w / (3 pi^2 d) - 1.
    const [d, w] = [0.5, 0.8];
    expect(hoopCuts(d, w)).toBeCloseTo((32 * w) / (3 * Math.PI ** 2 * d) - 1, 1);
    expect(hoopCuts(1, 0.05)).toBeLessThan(1e-3);
  });
});

describe("the 90 % interval of a count", () => {
  it("holds the truth about as often as it says (2 x 300 counts; all of them in the full tests)", () => {
    for (const method of [{ kind: "row", rows: 4, lengthM: 5.31 }, { kind: "wheel" }] as const) {
      const { counts, stand, emerged } = simulateCounts(method, 300, 4);
      expect(counts).toBeGreaterThan(280);
      for (const held of [stand, emerged]) {
        expect(held / counts).toBeGreaterThanOrEqual(0.86);
        expect(held / counts).toBeLessThanOrEqual(0.96);
      }
    }
  });
});
