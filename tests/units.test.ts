import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ManifestError } from "../src/errors.ts";
import {
  ACRES_PER_HECTARE,
  convert,
  KG_PER_BUSHEL,
  parseQuantity,
  UNITS,
  unitsOf,
} from "../src/quantities/units.ts";

/** Relative difference that rounding of a few double operations may leave. */
const ROUNDING = 1e-12;

function expectNear(actual: number, expected: number): void {
  expect(Math.abs(actual - expected)).toBeLessThanOrEqual(ROUNDING * Math.max(1, Math.abs(expected)));
}

describe("exact definitions", () => {
  // International yard and pound agreement of 1959; NIST SP 811 (2008), appendix B.8: inch, foot, mile, acre
  // (international foot), pound-force, kilogram-force.
  it.each([
    ["in", "mm", 25.4],
    ["ft", "m", 0.3048],
    ["lbf", "N", 4.4482216152605],
    ["kgf", "N", 9.80665],
    ["daN", "N", 10],
    ["mi/h", "m/s", 0.44704],
    ["mph", "km/h", 1.609344],
    ["ac", "m2", 4046.8564224],
    ["ha", "m2", 10_000],
    ["%", "share", 0.01],
  ])("1 %s is %s %d", (from, into, factor) => {
    expectNear(convert(1, from, into), factor);
  });

  it("keeps the acre the international one, not the US survey acre (4046.8726 m2)", () => {
    expect(convert(1, "ac", "m2")).toBe(4046.8564224);
  });

  it("counts seeds by the acre and the hectare", () => {
    // 34,000 seeds/ac = 8.4016 seeds/m2 (34,000 / 4046.8564224).
    expectNear(convert(34_000, "seeds/ac", "seeds/ha"), (34_000 / 4046.8564224) * 10_000);
    expectNear(convert(34, "1000 seeds/ac", "seeds/ac"), 34_000);
    expectNear(convert(84, "1000 seeds/ha", "seeds/ha"), 84_000);
    expectNear(ACRES_PER_HECTARE, 2.4710538146716536);
  });

  it("weighs a bushel of corn 56 lb and of soybeans 60 lb", () => {
    expectNear(KG_PER_BUSHEL.corn, 25.40117272);
    expectNear(KG_PER_BUSHEL.soybean, 27.2155422);
  });

  it.each([
    [32, 0],
    [50, 10],
    [212, 100],
  ])("%d F is %d C", (fahrenheit, celsius) => {
    expectNear(convert(fahrenheit, "F", "C"), celsius);
    expectNear(convert(celsius, "C", "F"), fahrenheit);
  });
});

describe("convert", () => {
  const names = Object.keys(UNITS);
  const pair = fc
    .constantFrom(...names)
    .chain((from) => fc.tuple(fc.constant(from), fc.constantFrom(...unitsOf(UNITS[from]!.dimension))));

  it("comes back to the value it began with", () => {
    fc.assert(
      fc.property(pair, fc.double({ min: -1e6, max: 1e6, noNaN: true }), ([from, into], value) => {
        const back = convert(convert(value, from, into), into, from);
        expect(Math.abs(back - value)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(value)));
      }),
    );
  });

  it("leaves the value untouched between names of one unit", () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true }), (value) => {
        expect(convert(value, "lb", "lbf")).toBe(value);
        expect(convert(value, "mph", "mi/h")).toBe(value);
      }),
    );
  });

  it("keeps the order of two values", () => {
    fc.assert(
      fc.property(pair, fc.integer({ min: -1000, max: 1000 }), ([from, into], value) => {
        expect(convert(value, from, into)).toBeLessThan(convert(value + 1, from, into));
      }),
    );
  });

  it("refuses another dimension and names both", () => {
    expect(() => convert(1, "lbf", "mm")).toThrow("cannot convert lbf (force) to mm (length)");
  });

  it.each(["furlong", "", "toString", "__proto__"])("lists the known units for %j", (unit) => {
    expect(() => convert(1, unit, "mm")).toThrow(ManifestError);
    expect(() => convert(1, unit, "mm")).toThrow(/known units: .*mm, cm, m, in, ft, N, daN, kgf, lbf/);
  });
});

describe("parseQuantity", () => {
  it.each([
    ["2.0 in", "mm", 50.8],
    ["2in", "mm", 50.8],
    [" 120 lbf ", "N", 120 * 4.4482216152605],
    ["34,000 seeds/ac", "seeds/ha", 34_000 * 2.4710538146716536],
    ["34 1000 seeds/ac", "seeds/ha", 34_000 * 2.4710538146716536],
    ["5.5 mi/h", "m/s", 2.45872],
    [".5 ft", "m", 0.1524],
    ["1e2 mm", "m", 0.1],
  ])("reads %j", (text, into, expected) => {
    expectNear(parseQuantity(text, into), expected);
  });

  it.each(["", "in", "2.0", "two in", "1,00 in", "2.0.0 in", "NaN in", "Infinity in", "2 in deep"])(
    "refuses %j and says what to write",
    (text) => {
      expect(() => parseQuantity(text, "mm", "targets.seedingDepth")).toThrow(ManifestError);
      expect(() => parseQuantity(text, "mm", "targets.seedingDepth")).toThrow(
        /targets\.seedingDepth.*a number and one of: mm, cm, m, in, ft/,
      );
    },
  );

  it("refuses a unit of another dimension", () => {
    expect(() => parseQuantity("2 lbf", "mm", "planter.rowSpacing")).toThrow(
      'unit "lbf" of planter.rowSpacing does not fit',
    );
  });
});
