import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { repeatCounts } from "../../src/stand/repeat-counts.ts";
import type { StandCounts } from "../../src/vocabulary/field.ts";

function countsAt(places: readonly (readonly [x: number, y: number, rowUnit: number])[]): StandCounts {
  return {
    spotCount: places.length,
    x: Float64Array.from(places, ([x]) => x),
    y: Float64Array.from(places, ([, y]) => y),
    rowUnit: Int16Array.from(places, ([, , row]) => row),
    standPerHa: new Float64Array(places.length).fill(80_000),
    plants: new Float64Array(places.length).fill(100),
  } as Partial<StandCounts> as StandCounts;
}

describe("counts of one spot", () => {
  it("are the pairs within a metre in the same row unit", () => {
    const metre = fc.double({ min: -3, max: 3, noNaN: true });
    fc.assert(
      fc.property(fc.array(fc.tuple(metre, metre, fc.constantFrom(0, 4)), { maxLength: 15 }), (places) => {
        const found = repeatCounts(countsAt(places), 84_000).map(({ first, second }) => `${first} ${second}`);
        const expected = places.flatMap(([x, y, row], a) =>
          places.flatMap(([otherX, otherY, otherRow], b) =>
            a < b && row === otherRow && Math.hypot(x - otherX, y - otherY) <= 1 ? [`${a} ${b}`] : [],
          ),
        );
        expect(found.sort()).toEqual(expected.sort());
      }),
    );
  });

  it("ten thousand at one spot, or on a line, are not held each against each", () => {
    const many = 10_000;
    const spot = repeatCounts(countsAt(Array.from({ length: many }, () => [5, 5, 0] as const)), 84_000);
    expect(spot.length).toBeGreaterThan(many);
    expect(spot.length).toBeLessThanOrEqual(20 * many);
    const line = repeatCounts(
      countsAt(Array.from({ length: many }, (_, k) => [5, 1.5 * k, 0] as const)),
      84_000,
    );
    expect(line).toEqual([]);
  });
});
