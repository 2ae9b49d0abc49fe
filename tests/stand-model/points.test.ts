import { describe, expect, it } from "vitest";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import type { Spots } from "../../src/stand/spots.ts";
import { overPoints, pointsOf } from "../../src/stand-model/points.ts";

const FIELD_M = 600;

/** Spots spread evenly at random over 36 ha of two soils. */
function spotsOf(count: number): Spots {
  const random = seededRandom(3);
  const x = Float64Array.from({ length: count }, () => FIELD_M * random());
  const y = Float64Array.from({ length: count }, () => FIELD_M * random());
  return {
    count,
    x,
    y,
    response: Float64Array.from({ length: count }, () => 0.93 + 0.05 * normal(random)),
    countingVariance: Float64Array.from({ length: count }, () => 0.001 + 0.001 * random()),
    zone: Int32Array.from(x, (value) => (value < 250 ? 0 : 1)),
    pass: Int32Array.from(x, (value) => 1 + Math.floor(value / 12)),
    alongM: y,
  } as Partial<Spots> as Spots;
}

const sum = (values: ArrayLike<number>): number =>
  Array.from(values).reduce((total, value) => total + value, 0);

describe("counts as points of the model", () => {
  it("are points of their own up to 600 of them", () => {
    const spots = spotsOf(600);
    const points = pointsOf(spots);
    expect(points.count).toBe(600);
    expect(points.response).toEqual(spots.response);
    expect(points.countingVariance).toEqual(spots.countingVariance);
    expect([...points.spot]).toEqual([...Array(600).keys()]);
  });

  it.each([601, 10_000])("are pooled where there are %i", (count) => {
    const spots = spotsOf(count);
    const points = pointsOf(spots);
    expect(points.count).toBeLessThanOrEqual(600);
    expect(points.count).toBeGreaterThan(200);
    // Every count stands in one point, with those of its own soil only.
    expect([...points.spot].sort((a, b) => a - b)).toEqual([...Array(count).keys()]);
    expect([points.start[0], points.start[points.count]]).toEqual([0, count]);
    for (let p = 0; p < points.count; p++) {
      const own = points.spot.subarray(points.start[p]!, points.start[p + 1]!);
      expect(own.length).toBeGreaterThan(0);
      expect(new Set(Array.from(own, (s) => spots.zone[s]))).toEqual(new Set([points.zone[p]]));
      expect(points.response[p]).toBeCloseTo(
        sum(Array.from(own, (s) => spots.response[s]!)) / own.length,
        12,
      );
      // Mean of as many counts, and a point of stand that no number of them takes off.
      expect(points.countingVariance[p]).toBeCloseTo(
        sum(Array.from(own, (s) => spots.countingVariance[s]!)) / own.length ** 2 +
          (own.length > 1 ? 0.01 ** 2 : 0),
        12,
      );
      for (const s of own) {
        expect(Math.abs(spots.x[s]! - points.x[p]!)).toBeLessThan(60);
        expect(Math.abs(spots.y[s]! - points.y[p]!)).toBeLessThan(60);
      }
    }
    const weighted = sum(
      points.response.map((value, p) => value * (points.start[p + 1]! - points.start[p]!)),
    );
    expect(weighted / count).toBeCloseTo(sum(spots.response) / count, 12);
  });

  it("take the mean of what belongs to their spots", () => {
    const points = pointsOf(spotsOf(2000));
    const even = overPoints(points, () => 0.25);
    expect(Math.max(...even.map((value) => Math.abs(value - 0.25)))).toBeLessThan(1e-12);
    const numbered = overPoints(points, (spot) => spot);
    const own = points.spot.subarray(points.start[7]!, points.start[8]!);
    expect(numbered[7]).toBeCloseTo(sum(own) / own.length, 9);
  });
});
