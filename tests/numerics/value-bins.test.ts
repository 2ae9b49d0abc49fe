import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { medianAbsoluteDeviation } from "../../src/numerics/descriptive.ts";
import { quantileSorted } from "../../src/numerics/quantile.ts";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { ValueBins } from "../../src/numerics/value-bins.ts";

/** Figures by sorting the values of the stretches. */
function bySorting(values: Float64Array, stretches: readonly number[]) {
  const own: number[] = [];
  for (let k = 0; k < stretches.length; k += 2) own.push(...values.subarray(stretches[k], stretches[k + 1]));
  const sorted = Float64Array.from(own.filter((value) => !Number.isNaN(value))).sort();
  if (sorted.length === 0) return null;
  const [p10, p50, p90] = [0.1, 0.5, 0.9].map((p) => quantileSorted(sorted, p));
  return { p10, p50, p90, robustSd: medianAbsoluteDeviation(sorted) };
}

function expectSame(values: Float64Array, stretches: readonly number[]): void {
  const bins = new ValueBins(values);
  expect(bins.figures(values, bins.codes, stretches)).toEqual(bySorting(values, stretches));
}

describe("quantiles by bins equal those by sorting", () => {
  const shapes: Record<string, (random: () => number, k: number) => number> = {
    "all different": (random) => 50 + 4 * normal(random),
    "rounded as a log rounds": (random) => Number((50 + 4 * normal(random)).toFixed(1)),
    "one value": () => 3.25,
    "two values": (random) => (random() < 0.3 ? 0 : 1),
    "wild outliers on both sides": (random) =>
      random() < 0.01 ? (random() - 0.5) * 1e300 : 1 + 1e-9 * normal(random),
    "most values alike, a wide rest": (random) => (random() < 0.9995 ? 7 : 1e6 * normal(random)),
    "missing ones between": (random) => (random() < 0.4 ? Number.NaN : normal(random)),
    "neighbouring doubles": (random) => 1 + Number.EPSILON * Math.floor(5 * random()),
    "in order": (_, k) => k,
  };
  for (const [name, makeValue] of Object.entries(shapes)) {
    it(name, () => {
      const random = seededRandom(7);
      const values = Float64Array.from({ length: 20_000 }, (_, k) => makeValue(random, k));
      expectSame(values, [0, values.length]);
      expectSame(values, [5, 400, 700, 703, 4000, 9001]);
      expectSame(values, [100, 1101]);
      expectSame(values, [30, 60]);
    });
  }

  it("on any columns and stretches", () => {
    const value = fc.oneof(
      fc.double({ noDefaultInfinity: true, min: -1e300, max: 1e300 }),
      fc.integer({ min: -20, max: 20 }).map((whole) => whole / 10),
    );
    fc.assert(
      fc.property(
        fc.array(value, { minLength: 1, maxLength: 600 }),
        fc.array(fc.nat(600), { minLength: 2, maxLength: 8 }),
        (list, cuts) => {
          const values = Float64Array.from(list);
          const ends = cuts.map((cut) => Math.min(cut, values.length)).sort((a, b) => a - b);
          expectSame(values, ends.slice(0, ends.length - (ends.length % 2)));
        },
      ),
      { numRuns: 400, seed: 11 },
    );
  });

  it("no value gives null", () => {
    const values = new Float64Array(200).fill(Number.NaN);
    const bins = new ValueBins(values);
    expect(bins.figures(values, bins.codes, [0, 200])).toBeNull();
    expect(bins.figures(values, bins.codes, [])).toBeNull();
  });
});
