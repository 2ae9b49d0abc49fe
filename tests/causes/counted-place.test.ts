import fc from "fast-check";
import { expect, test } from "vitest";
import { drawnIn, measuredSpots } from "../../src/causes/counted-place.ts";

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });

test("a loss is drawn towards the usual one, the more the less is known; the interval keeps its width", () => {
  fc.assert(
    fc.property(number(-0.1, 0.4), number(0.002, 0.1), (estimate, standardError) => {
      const loss = {
        estimate,
        standardError,
        low: estimate - 0.05,
        high: estimate + 0.05,
        level: 0.9,
        count: 5,
        healthy: 60,
      };
      const drawn = drawnIn(loss);
      expect(Math.abs(drawn.estimate - 0.06)).toBeLessThanOrEqual(Math.abs(estimate - 0.06));
      expect(drawn.high - drawn.low).toBeCloseTo(0.1, 12);
      expect(drawn.standardError).toBe(standardError);
      const worse = drawnIn({ ...loss, standardError: 1.5 * standardError });
      expect(Math.abs(worse.estimate - 0.06)).toBeLessThanOrEqual(Math.abs(drawn.estimate - 0.06));
    }),
  );
});

test("few spots are measured with the tested shape, many by themselves", () => {
  expect(measuredSpots([1, 2], [2, 3])).toEqual([1, 2, 3]);
  const many = Array.from({ length: 20 }, (_, spot) => spot);
  expect(measuredSpots(many, [40, 41])).toEqual(many);
});
