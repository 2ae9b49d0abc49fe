import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  mean,
  median,
  medianAbsoluteDeviation,
  standardDeviation,
  variance,
  weightedMean,
} from "../../src/numerics/descriptive.ts";
import { quantileInPlace, quantileSorted, quantilesInPlace } from "../../src/numerics/quantile.ts";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { expectRelative } from "../support/relative.ts";

// R 4.2.2, data set `precip` (70 yearly rainfalls, inches), quantile(type = 7) and mad().
const PRECIP = [
  67, 54.7, 7, 48.5, 14, 17.2, 20.7, 13, 43.4, 40.2, 38.9, 54.5, 59.8, 48.3, 22.9, 11.5, 34.4, 35.1, 38.7,
  30.8, 30.6, 43.1, 56.8, 40.8, 41.8, 42.5, 31, 31.7, 30.2, 25.9, 49.2, 37, 35.9, 15, 30.2, 7.2, 36.2, 45.5,
  7.8, 33.4, 36.1, 40.2, 42.7, 42.5, 16.2, 39, 35, 37, 31.4, 37.6, 39.9, 36.2, 42.8, 46.4, 24.7, 49.1, 46,
  35.9, 7.8, 48.2, 15.2, 32.5, 44.7, 42.6, 38.8, 17.4, 40.8, 29.1, 14.6, 59.2,
];
const PROBABILITIES = [0.01, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 0.99];
const TYPE_7 = [7.138, 9.465, 14.54, 29.375, 36.6, 42.775, 49.11, 55.855, 62.032];

describe("quantiles", () => {
  it("type 7 of precip as R gives it, sorted and in place", () => {
    const sorted = Float64Array.from(PRECIP).sort();
    const inPlace = quantilesInPlace(Float64Array.from(PRECIP), PROBABILITIES);
    for (const [index, probability] of PROBABILITIES.entries()) {
      expectRelative(quantileSorted(sorted, probability), TYPE_7[index]!, 1e-12);
      expectRelative(inPlace[index]!, TYPE_7[index]!, 1e-12);
    }
  });

  it("in place agrees with sorting, on any stretch, with ties", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -20, max: 20 }), { minLength: 1, maxLength: 80 }),
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 4 }),
        (numbers, probabilities) => {
          const ascending = probabilities.sort((a, b) => a - b);
          const padded = Float64Array.from([99, ...numbers, -99]);
          const found = quantilesInPlace(padded, ascending, 1, padded.length - 1);
          const sorted = Float64Array.from(numbers).sort();
          expect(found).toEqual(ascending.map((probability) => quantileSorted(sorted, probability)));
          expect([padded[0], padded.at(-1)]).toEqual([99, -99]);
        },
      ),
    );
  });

  it("an empty column has no quantile", () => {
    expect(quantileInPlace(new Float64Array(0), 0.5)).toBeNaN();
    expect(quantileSorted([], 0.5)).toBeNaN();
  });
});

describe("spread", () => {
  it("median and mad of precip as R gives them", () => {
    expect(median(PRECIP)).toBe(36.6);
    expectRelative(medianAbsoluteDeviation(PRECIP), 9.56277, 1e-12);
  });

  it("shifting leaves the SD, scaling scales it", () => {
    const numbers = fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), {
      minLength: 2,
      maxLength: 40,
    });
    fc.assert(
      fc.property(numbers, fc.double({ min: -1e6, max: 1e6, noNaN: true }), (values, shift) => {
        const spread = standardDeviation(values);
        expect(standardDeviation(values.map((value) => value + shift))).toBeCloseTo(spread, 6);
        expect(standardDeviation(values.map((value) => value * -3))).toBeCloseTo(3 * spread, 6);
        expect(mean(values.map((value) => value + shift))).toBeCloseTo(mean(values) + shift, 6);
      }),
    );
  });

  it("weights count as repeats", () => {
    expect(weightedMean([1, 5], [3, 1])).toBe(2);
    expect(weightedMean([1, 5], [0, 0])).toBeNaN();
  });

  it("too few values give no figure", () => {
    expect(mean([])).toBeNaN();
    expect(variance([4])).toBeNaN();
  });
});

describe("random numbers", () => {
  it("one seed gives one sequence, another seed another one", () => {
    const take = (seed: number) => Array.from({ length: 5 }, seededRandom(seed));
    expect(take(42)).toEqual(take(42));
    expect(take(42)).not.toEqual(take(43));
    expect(take(42)).not.toEqual(take(42 + 2 ** 32));
  });

  it("uniform within [0, 1): mean 1/2, variance 1/12, neighbours unrelated", () => {
    const random = seededRandom(2026);
    const draws = Float64Array.from({ length: 100_000 }, random);
    expect(Math.min(...draws.subarray(0, 1000))).toBeGreaterThanOrEqual(0);
    expect(draws.every((draw) => draw < 1)).toBe(true);
    // Five standard errors: sqrt(1/12 / n) of the mean, sqrt(1/180 / n) of the variance.
    expect(Math.abs(mean(draws) - 0.5)).toBeLessThan(5 * Math.sqrt(1 / 12 / 100_000));
    expect(Math.abs(variance(draws) - 1 / 12)).toBeLessThan(5 * Math.sqrt(1 / 180 / 100_000));
  });

  it("normal numbers have mean 0, SD 1 and the tails of the normal law", () => {
    const random = seededRandom(7);
    const draws = Float64Array.from({ length: 100_000 }, () => normal(random));
    expect(Math.abs(mean(draws))).toBeLessThan(5 / Math.sqrt(100_000));
    expect(Math.abs(standardDeviation(draws) - 1)).toBeLessThan(5 / Math.sqrt(200_000));
    const outside = draws.filter((z) => Math.abs(z) > 1.959964).length / draws.length;
    expect(Math.abs(outside - 0.05)).toBeLessThan(5 * Math.sqrt((0.05 * 0.95) / 100_000));
  });
});
