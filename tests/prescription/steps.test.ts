/** Whole steps, limits and forces of the prescription. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ratesFor, wouldLift } from "../../src/prescription/channel.ts";
import { forceFor, largestForce, liftCap, limitedLoad, loadLimits } from "../../src/prescription/steps.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "../../src/units.ts";

const LIMITS_LBF = (low: number, high: number, step: number, whole: number) => ({
  minimumMarginN: low * LBF,
  maximumMarginN: high * LBF,
  largestStepN: step * LBF,
  rateStepN: whole * LBF,
});

describe("the limits of a load", () => {
  it("keep the user's own smallest and largest before all, then the step", () => {
    const limits = LIMITS_LBF(60, 160, 40, 5);
    expect(limitedLoad(70 * LBF, 260 * LBF, limits) / LBF).toBeCloseTo(160, 9);
    expect(limitedLoad(300 * LBF, 117 * LBF, limits) / LBF).toBeCloseTo(155, 9);
    expect(limitedLoad(300 * LBF, 140 * LBF, limits) / LBF).toBeCloseTo(160, 9);
    expect(limitedLoad(20 * LBF, 80 * LBF, limits) / LBF).toBeCloseTo(60, 9);
    expect(limitedLoad(20 * LBF, 12 * LBF, limits) / LBF).toBeCloseTo(60, 9);
  });

  it("keep every load a whole step within smallest and largest, and within a step of today's where that can be", () => {
    const load = fc.double({ min: 0, max: 400, noNaN: true });
    fc.assert(
      fc.property(
        load,
        load,
        fc.integer({ min: 10, max: 60 }),
        fc.constantFrom(1, 2, 5, 10),
        (want, today, step, whole) => {
          const limits = LIMITS_LBF(50, 180, step, whole);
          const got = limitedLoad(want * LBF, today * LBF, limits);
          expect(got / (whole * LBF)).toBeCloseTo(Math.round(got / (whole * LBF)), 9);
          expect(got).toBeGreaterThanOrEqual(50 * LBF - 1e-6);
          expect(got).toBeLessThanOrEqual(180 * LBF + 1e-6);
          const { lowN, highN } = loadLimits(today * LBF, limits);
          expect(lowN).toBeLessThanOrEqual(highN);
          if (today > 50 && today < 180) {
            expect(Math.abs(got - today * LBF)).toBeLessThanOrEqual(step * LBF + 1e-6);
          }
        },
      ),
    );
  });
});

describe("the added force", () => {
  it("is today's force + target - today's load (150 + 95 - 78 = 167 lb)", () => {
    expect(forceFor(95 * LBF, 78 * LBF, 150 * LBF) / LBF).toBeCloseTo(167, 9);
  });

  it("is never none and never lifts", () => {
    const today = { meanN: 200 * LBF, forceN: 60 * LBF };
    const settings = { rateStepN: 5 * LBF, cylinder: null };
    expect(wouldLift(120 * LBF, today)).toBe(true);
    expect(ratesFor(120 * LBF, today, settings).forceN! / LBF).toBeCloseTo(5, 9);
    expect(ratesFor(120 * LBF, { ...today, forceN: null }, settings).forceN).toBeNull();
  });

  it("takes the user's own cylinder for a pressure: 1000 Pa + 2 Pa for each newton", () => {
    const rates = ratesFor(
      500,
      { meanN: 400, forceN: 700 },
      { rateStepN: 10, cylinder: { pascalPerNewton: 2, pascalAtNoForce: 1000 } },
    );
    expect(rates).toEqual({ marginN: 500, forceN: 800, pressurePa: 2600 });
  });

  it("stays below what the lightest part of the bar holds down", () => {
    const usableWeight = { centreN: 8000, wingN: 4000, centreRowUnits: 8, wingRowUnits: 8 };
    expect(largestForce({ usableWeight })).toBe(500);
    expect(liftCap(300, 450, { usableWeight })).toBe(350);
    expect(liftCap(300, null, { usableWeight })).toBe(Number.POSITIVE_INFINITY);
    expect(largestForce({ usableWeight: null })).toBeNull();
    const limits = { minimumMarginN: 100, maximumMarginN: 1000, largestStepN: 200, rateStepN: 10 };
    expect(limitedLoad(480, 300, limits, liftCap(300, 450, { usableWeight }))).toBe(350);
    expect(limitedLoad(480, 300, limits, 250)).toBe(250);
    // The smallest load goes before the weight of the bar, which then is said not to hold.
    expect(limitedLoad(480, 300, limits, 50)).toBe(100);
  });
});
