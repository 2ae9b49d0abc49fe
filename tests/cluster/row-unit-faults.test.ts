import { describe, expect, it } from "vitest";
import { findRowUnitFaults } from "../../src/rows/row-unit-faults.ts";
import { simulateBar } from "./support/bar-simulator.ts";

const BAR = { units: 24, passes: 80, moments: 10 };

describe("row units that depart from the bar", () => {
  it("calls no more than 5 of 100 healthy bars of 24 units, 80 passes and 4 variables", () => {
    let alarms = 0;
    for (let seed = 0; seed < 100; seed++) {
      const { field, passes } = simulateBar(BAR, seed);
      if (findRowUnitFaults(field, passes).length > 0) alarms++;
    }
    expect(alarms).toBeLessThanOrEqual(5);
  });

  it("finds at least 95 % of faults of 0.2 in, 35 lb and 1.5 points over four or more passes", () => {
    const faults = [
      ["seedingDepth", 5.08],
      ["seedingDepth", -5.08],
      ["downForceMargin", -155.7],
      ["misses", 0.015],
    ] as const;
    const shape = { ...BAR, moments: 40, passes: 30 };
    let found = 0;
    const tries = 48;
    for (let seed = 0; seed < tries; seed++) {
      const [variable, shift] = faults[seed % faults.length]!;
      const length = [4, 6, 12, 30][Math.floor(seed / faults.length) % 4]!;
      const from = 1 + ((seed * 7) % (shape.passes - length + 1));
      const rowUnit = 1 + (seed % shape.units);
      const fault = { rowUnit, variable, from, to: from + length - 1, shift };
      const { field, passes } = simulateBar(shape, 500 + seed, [fault]);
      const hit = findRowUnitFaults(field, passes).find(
        (call) => call.rowUnit === rowUnit && call.variable === variable,
      );
      if (hit?.passes.some((pass) => pass >= from && pass <= fault.to)) found++;
    }
    expect(found / tries).toBeGreaterThanOrEqual(0.95);
  });

  it("gives the run of passes, the size and the side, and keeps the unit whichever way the bar is turned", () => {
    const fault = { rowUnit: 3, variable: "seedingDepth", from: 10, to: 21, shift: -8 } as const;
    const { field, passes } = simulateBar({ ...BAR, passes: 30, moments: 40 }, 13, [fault]);
    const [call, ...others] = findRowUnitFaults(field, passes);
    expect(others).toEqual([]);
    expect(call).toMatchObject({ rowUnit: 3, variable: "seedingDepth" });
    expect(call!.passes).toEqual(Array.from({ length: 12 }, (_, k) => 10 + k));
    // Natural spread of the unit (SD 1 mm) and noise of the mean: within 3 mm of what was put in.
    expect(Math.abs(call!.shift + 8)).toBeLessThan(3);
    expect(call!.z).toBeLessThan(0);
    expect(call!.shareOfPasses).toBeCloseTo(12 / 30, 10);
    expect(call!.pValue).toBeLessThanOrEqual(0.05);
  });

  it("finds two faulty units side by side, which would hide each other from a comparison with neighbours", () => {
    const shape = { ...BAR, passes: 20, moments: 40 };
    const { field, passes } = simulateBar(shape, 4, [
      { rowUnit: 7, variable: "downForceMargin", from: 1, to: 20, shift: -300 },
      { rowUnit: 8, variable: "downForceMargin", from: 1, to: 20, shift: -300 },
    ]);
    expect(findRowUnitFaults(field, passes).map((call) => call.rowUnit)).toEqual([7, 8]);
  });

  it("does not judge a depth that is only a setting, nor fewer than four units", () => {
    const fault = { rowUnit: 2, variable: "seedingDepth", from: 1, to: 20, shift: -12 } as const;
    const set = simulateBar({ ...BAR, passes: 20 }, 5, [fault]);
    set.field.log.depthSource = "set";
    expect(findRowUnitFaults(set.field, set.passes)).toEqual([]);
    const few = simulateBar({ units: 3, passes: 20, moments: 20 }, 6, [fault]);
    expect(findRowUnitFaults(few.field, few.passes)).toEqual([]);
  });

  it("returns nothing for a bar logged as a whole", () => {
    const { field, passes } = simulateBar({ ...BAR, passes: 6 }, 7);
    expect(findRowUnitFaults(field, { ...passes, rowUnitCount: 0 })).toEqual([]);
  });

  it("passes over missing readings and records not at work", () => {
    const fault = { rowUnit: 5, variable: "seedingDepth", from: 4, to: 12, shift: -9 } as const;
    const { field, passes } = simulateBar({ ...BAR, passes: 20, moments: 40 }, 8, [fault]);
    const depth = field.log.values.seedingDepth!;
    for (let i = 0; i < depth.length; i += 7) depth[i] = Number.NaN;
    field.log.values.working = Float64Array.from(depth, (_, i) => (i % 11 === 0 ? 0 : 1));
    for (let i = 0; i < depth.length; i += 11) depth[i] = 5000;
    const calls = findRowUnitFaults(field, passes);
    expect(calls.map((call) => [call.rowUnit, call.passes[0], call.passes.at(-1)])).toEqual([[5, 4, 12]]);
  });
});
