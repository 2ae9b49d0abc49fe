import { describe, expect, it } from "vitest";
import { mean, standardDeviation } from "../../src/numerics/descriptive.ts";
import { meanOfLikeNeighbours, varianceInflation } from "../../src/numerics/effective-size.ts";
import { seededRandom } from "../../src/numerics/random.ts";
import { alikeNeighbours } from "../support/alike-neighbours.ts";

describe("worth of a series of like neighbours", () => {
  it.each([0, 0.3, 0.6, 0.8])(
    "lag-1 correlation %f: the inflation is about (1 + r) / (1 - r)",
    (correlation) => {
      const random = seededRandom(11);
      const found = Array.from({ length: 200 }, () =>
        varianceInflation(alikeNeighbours(400, correlation, random)),
      );
      const expected = (1 + correlation) / (1 - correlation);
      // The larger of two estimates counts: up to a third too large is wanted, too small is not.
      expect(mean(found)).toBeGreaterThan(0.95 * expected);
      expect(mean(found)).toBeLessThan(1.35 * expected);
    },
  );

  it("the standard error is that of the mean over many series", () => {
    const random = seededRandom(12);
    const series = Array.from({ length: 1500 }, () => alikeNeighbours(150, 0.7, random));
    const seen = standardDeviation(series.map((values) => mean(values)));
    const claimed = Math.sqrt(mean(series.map((values) => meanOfLikeNeighbours(values).variance)));
    expect(claimed / seen).toBeGreaterThan(0.9);
    expect(claimed / seen).toBeLessThan(1.35);
  });

  it("a series too short or without spread claims nothing more than its values", () => {
    expect(varianceInflation([1, 2, 3])).toBe(1);
    expect(varianceInflation([4, 4, 4, 4, 4, 4])).toBe(1);
    expect(meanOfLikeNeighbours([5]).variance).toBe(Number.POSITIVE_INFINITY);
    expect(meanOfLikeNeighbours([4, 4, 4, 4]).variance).toBe(0);
  });
});
