import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type GroundShares,
  groundFinder,
  overAllPoints,
  overGround,
} from "../../src/stand-model/ground-shares.ts";

const CELLS = 30;

/** Points with some cells each, ascending, and shares that sum to 1. */
const shares = fc
  .array(
    fc.uniqueArray(
      fc.tuple(fc.integer({ min: 0, max: CELLS - 1 }), fc.double({ min: 0.01, max: 1, noNaN: true })),
      {
        selector: ([cell]) => cell,
        maxLength: 6,
      },
    ),
    { maxLength: 12 },
  )
  .map((points): GroundShares => {
    const start = [0];
    const cell: number[] = [];
    const share: number[] = [];
    for (const parts of points) {
      const sum = parts.reduce((total, [, part]) => total + part, 0);
      for (const [at, part] of [...parts].sort((a, b) => a[0] - b[0])) {
        cell.push(at);
        share.push(part / sum);
      }
      start.push(cell.length);
    }
    return { start: Int32Array.from(start), cell: Int32Array.from(cell), share: Float64Array.from(share) };
  });

describe("points on some ground", () => {
  it("have the very shares that a look over all points gives", () => {
    const ground = fc.uniqueArray(fc.integer({ min: 0, max: CELLS - 1 }));
    fc.assert(
      fc.property(shares, ground, ground, (all, first, second) => {
        const find = groundFinder(all, CELLS);
        // A second question must not see the first.
        for (const cells of [first, second].map((ids) => [...ids].sort((a, b) => a - b))) {
          const inside = Float64Array.from({ length: CELLS }, (_, cell) => (cells.includes(cell) ? 1 : 0));
          const found = find(cells);
          expect(overAllPoints(found, all.start.length - 1)).toEqual(overGround(all, inside));
          expect([...found.point]).toEqual([...found.point].sort((a, b) => a - b));
          expect(found.share.every((share) => share > 0)).toBe(true);
        }
      }),
    );
  });
});
