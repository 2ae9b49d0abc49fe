/** Whole steps, limits and forces of the prescription. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ratesFor } from "../../src/prescription/channel.ts";
import { forceFor, largestForce, liftCap, limitedLoad, loadLimits } from "../../src/prescription/steps.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "../../src/quantities/units.ts";

const LIMITS_LBF = (low: number, high: number, step: number, whole: number) => ({
  minimumMarginN: low * LBF,
  maximumMarginN: high * LBF,
  largestStepN: step * LBF,
  rateStepN: whole * LBF,
});

const IN_FORCE = {
  channel: "added-force",
  rateStepN: 5 * LBF,
  largestStepN: 40 * LBF,
  moisture: "fit",
  cylinder: null,
} as const;

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

  it("moves no farther from today's than the largest step, and the load shown is the one it leaves", () => {
    // Damp ground pressed at 260 lb with 150 lb added: 80 lb would ask for a lift of 30 lb.
    const today = { meanN: 260 * LBF, forceN: 150 * LBF };
    const held = ratesFor(80 * LBF, today, IN_FORCE);
    expect(held.forceN! / LBF).toBeCloseTo(110, 9);
    expect(held.marginN / LBF).toBeCloseTo(220, 9);
    expect(ratesFor(80 * LBF, today, { ...IN_FORCE, channel: "margin" }).marginN / LBF).toBeCloseTo(80, 9);
    expect(ratesFor(80 * LBF, { ...today, forceN: null }, IN_FORCE).forceN).toBeNull();
  });

  it("is never none, never lifts and never jumps", () => {
    const pounds = fc.double({ min: 1, max: 400, noNaN: true });
    fc.assert(
      fc.property(pounds, pounds, pounds, (want, load, added) => {
        const today = { meanN: load * LBF, forceN: added * LBF };
        const force = ratesFor(want * LBF, today, IN_FORCE).forceN! / LBF;
        expect(force).toBeGreaterThanOrEqual(5 - 1e-9);
        // Half a whole step of rounding, and the smallest force there is.
        expect(Math.abs(force - added)).toBeLessThanOrEqual(42.5 + 1e-9);
      }),
    );
  });

  it("takes the user's own cylinder for a pressure: 1000 Pa + 2 Pa for each newton", () => {
    const rates = ratesFor(
      500,
      { meanN: 400, forceN: 700 },
      {
        ...IN_FORCE,
        channel: "pressure",
        rateStepN: 10,
        cylinder: { pascalPerNewton: 2, pascalAtNoForce: 1000, forceN: [500, 900] },
      },
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
