/** Published worked degree days. Source and tolerance stand beside each figure. */
import { describe, expect, it } from "vitest";
import { DEGREE_DAYS_F_PER_C, degreeDaysC, degreeDaysF } from "../../src/stand/degree-days.ts";

describe("degree days, 86/50 method", () => {
  it.each([
    [80, 55, 17.5, "Purdue Univ., heat unit concepts"],
    [90, 72, 29, "the same page, from memory"],
    [68, 41, 9, "the same page, from memory"],
    [90, 65, 25.5, "Univ. of Wisconsin, 2018"],
    [72, 46, 11, "Univ. of Wisconsin, 2018"],
    [63, 42, 6.5, "Univ. of Wisconsin, 2018"],
  ])("of a day of %f / %f F are %f (%s)", (maximumF, minimumF, expected) => {
    expect(degreeDaysF(minimumF, maximumF)).toBeCloseTo(expected, 10);
    const inC = degreeDaysC((minimumF - 32) / 1.8, (maximumF - 32) / 1.8);
    expect(inC * DEGREE_DAYS_F_PER_C).toBeCloseTo(expected, 10);
  });

  it("sum to the printed 43 over the three Wisconsin days", () => {
    expect(degreeDaysF(65, 90) + degreeDaysF(46, 72) + degreeDaysF(42, 63)).toBeCloseTo(43, 10);
  });
});
