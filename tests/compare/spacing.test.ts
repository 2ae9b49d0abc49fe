import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { seedCountIndices, summariseSpacings, theoreticalSpacingMm } from "../../src/compare/spacing.ts";
import { ACRES_PER_HECTARE } from "../../src/quantities/units.ts";
import { expectRelative } from "../support/relative.ts";

const INCH = 25.4;
// Twenty spacings in inches, theoretical 7 in; figures worked by hand from the definitions.
const SPACINGS = [
  7.2, 6.6, 7, 14.1, 6.4, 1.2, 7.9, 5.8, 8.3, 7.1, 6.9, 20.5, 7.4, 2.8, 6, 7.6, 8.8, 7.3, 25.2, 6.7,
];

describe("spacing indices", () => {
  it("by counting spacings: 2, 15 and 3 of 20; precision over the theoretical spacing", () => {
    const found = summariseSpacings(
      SPACINGS.map((spacing) => spacing * INCH),
      7 * INCH,
    );
    expect([found.multiples, found.singles, found.misses]).toEqual([0.1, 0.75, 0.15]);
    // SD of the 15 singles 0.810350 in over 7 in (six digits given).
    expectRelative(found.precision!, 0.115764, 5e-6);
    expectRelative(found.meanMm, 8.54 * INCH, 1e-12);
    expectRelative(found.sdMm!, 5.51175 * INCH, 1e-6);
  });

  it("by counting seeds: 2, 16 and 6 of 24", () => {
    const found = seedCountIndices(SPACINGS, 7);
    expect(found.multiples).toBeCloseTo(2 / 24, 14);
    expect(found.singles).toBeCloseTo(16 / 24, 14);
    expect(found.misses).toBeCloseTo(6 / 24, 14);
  });

  it("half the theoretical spacing is a multiple, one and a half of it a single", () => {
    expect(summariseSpacings([3.5], 7).multiples).toBe(1);
    expect(summariseSpacings([10.5], 7).singles).toBe(1);
    expect(summariseSpacings([10.500001], 7).misses).toBe(1);
    expect(summariseSpacings([7], 7).precision).toBeNull();
  });

  it("shares sum to one, whatever the spacings", () => {
    const spacings = fc.array(fc.double({ min: 0.1, max: 80, noNaN: true }), { minLength: 1, maxLength: 60 });
    fc.assert(
      fc.property(spacings, (values) => {
        const { multiples, singles, misses } = summariseSpacings(values, 15);
        expect(multiples + singles + misses).toBeCloseTo(1, 12);
      }),
    );
  });

  // Inches for seeds an acre and row spacing: 6,272,640 in2 an acre / (population x row), four decimals.
  it.each([
    [30_000, 30, 6.9696],
    [32_000, 30, 6.534],
    [34_000, 30, 6.1496],
    [30_000, 20, 10.4544],
    [140_000, 15, 2.987],
  ])("theoretical spacing at %i seeds/ac in %i in rows", (population, row, inches) => {
    const found = theoreticalSpacingMm(population * ACRES_PER_HECTARE, row * 0.0254) / INCH;
    expect(Math.abs(found - inches)).toBeLessThanOrEqual(0.00005);
  });
});
