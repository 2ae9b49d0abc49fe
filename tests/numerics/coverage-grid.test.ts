import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { CoverageGrid, ringContains, signedArea } from "../../src/numerics/coverage-grid.ts";

describe("raster of covered ground", () => {
  it("measures a turned rectangle to the square root of its squares", () => {
    const grid = new CoverageGrid(-60, -60, 60, 60, 0.25);
    grid.paintRectangle(3, -2, 33, 80, 18);
    expect(Math.abs(grid.area() - 80 * 18)).toBeLessThan(0.01 * 80 * 18);
    const [polygon] = grid.trace(0.5, 1);
    expect(Math.abs(signedArea(polygon![0]!) - 80 * 18)).toBeLessThan(0.02 * 80 * 18);
    expect(polygon![0]!.length).toBeLessThan(12);
  });

  it("keeps a hole and turns rings the right way", () => {
    const grid = new CoverageGrid(0, 0, 40, 40, 1);
    grid.paintRectangle(20, 20, 0, 40, 40);
    for (let row = 15; row < 25; row++)
      for (let column = 15; column < 25; column++) grid.mask[row * grid.columns + column] = 0;
    const polygons = grid.trace(0.1, 1);
    expect(polygons).toHaveLength(1);
    expect(polygons[0]).toHaveLength(2);
    expect(signedArea(polygons[0]![0]!)).toBe(1600);
    expect(signedArea(polygons[0]![1]!)).toBe(-100);
  });

  it("keeps squares that touch at a corner apart", () => {
    const grid = new CoverageGrid(0, 0, 10, 10, 1);
    grid.mask[3 * grid.columns + 3] = 1;
    grid.mask[4 * grid.columns + 4] = 1;
    grid.mask[4 * grid.columns + 2] = 1;
    expect(grid.trace(0, 0.5)).toHaveLength(3);
  });

  it("traces outlines whose areas sum to the covered area, whatever the mask", () => {
    fc.assert(
      fc.property(fc.array(fc.boolean(), { minLength: 64, maxLength: 64 }), (bits) => {
        const grid = new CoverageGrid(0, 0, 8, 8, 1);
        bits.forEach((bit, k) => {
          grid.mask[(1 + Math.floor(k / 8)) * grid.columns + 1 + (k % 8)] = bit ? 1 : 0;
        });
        const sum = grid
          .trace(0, 0)
          .flat()
          .reduce((total, ring) => total + signedArea(ring), 0);
        expect(sum).toBeCloseTo(grid.area(), 9);
      }),
      { seed: 7 },
    );
  });

  it("tells inside from outside", () => {
    const ring: [number, number][] = [
      [0, 0],
      [10, 0],
      [10, 10],
      [0, 10],
      [0, 0],
    ];
    expect(ringContains(ring, 5, 5)).toBe(true);
    expect(ringContains(ring, 15, 5)).toBe(false);
  });
});
