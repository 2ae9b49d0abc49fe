import fc from "fast-check";
import { expect, it } from "vitest";
import { signedArea } from "../../src/numerics/coverage-grid.ts";
import { zonesOutline } from "../../src/write/zones-outline.ts";

const square = (x: number, y: number): [number, number][] => [
  [x, y],
  [x + 1, y],
  [x + 1, y + 1],
  [x, y + 1],
  [x, y],
];

it("goes once around squares of any pattern: same area, no border between neighbours", () => {
  fc.assert(
    fc.property(fc.uniqueArray(fc.nat(35), { minLength: 1, maxLength: 36 }), (cells) => {
      const has = new Set(cells);
      const at = (x: number, y: number) => x >= 0 && x < 6 && y >= 0 && y < 6 && has.has(y * 6 + x);
      const polygons = zonesOutline(cells.map((cell) => [square(cell % 6, Math.floor(cell / 6))]));
      const rings = polygons.flat() as [number, number][][];
      expect(rings.reduce((sum, ring) => sum + signedArea(ring), 0)).toBeCloseTo(cells.length, 9);
      const open = cells.reduce((sum, cell) => {
        const [x, y] = [cell % 6, Math.floor(cell / 6)];
        return (
          sum + [at(x - 1, y), at(x + 1, y), at(x, y - 1), at(x, y + 1)].filter((there) => !there).length
        );
      }, 0);
      expect(rings.reduce((sum, ring) => sum + ring.length - 1, 0)).toBe(open);
      for (const [outer, ...holes] of polygons as [number, number][][][]) {
        expect(signedArea(outer!)).toBeGreaterThan(0);
        for (const hole of holes) expect(signedArea(hole)).toBeLessThan(0);
      }
    }),
    { numRuns: 200 },
  );
});

it("refuses zones that do not meet at the same vertices", () => {
  const open: [number, number][] = [
    [0, 0],
    [1, 0],
    [1, 1],
  ];
  expect(() => zonesOutline([[open]])).toThrow(/does not close/);
});
