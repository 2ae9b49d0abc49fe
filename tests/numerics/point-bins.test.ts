import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { PointBins } from "../../src/numerics/point-bins.ts";

const place = fc.record({
  x: fc.double({ min: -60, max: 60, noNaN: true }),
  y: fc.double({ min: -60, max: 60, noNaN: true }),
});
const field = fc.array(place, { maxLength: 40 });
const columns = (places: { x: number; y: number }[]) => ({
  x: places.map(({ x }) => x),
  y: places.map(({ y }) => y),
});

describe("points in bins", () => {
  it("the nearest is the nearest of all, the first of those as near", () => {
    fc.assert(
      fc.property(
        field,
        place,
        fc.constantFrom(3, 10, 25),
        fc.integer({ min: -1, max: 5 }),
        (places, at, side, leftOut) => {
          const { x, y } = columns(places);
          const within = 30;
          let expected = -1;
          let least = within;
          places.forEach((one, k) => {
            const away = Math.hypot(one.x - at.x, one.y - at.y);
            if (k === leftOut || away > least || (away === least && expected >= 0)) return;
            [expected, least] = [k, away];
          });
          expect(new PointBins(x, y, side).nearest(at.x, at.y, within, leftOut)).toBe(expected);
        },
      ),
    );
  });

  it("a box is given every point in it, each once", () => {
    fc.assert(
      fc.property(field, place, fc.double({ min: 0, max: 40, noNaN: true }), (places, at, half) => {
        const { x, y } = columns(places);
        const given: number[] = [];
        new PointBins(x, y, 10).forEachAbout(at.x - half, at.y - half, at.x + half, at.y + half, (k) =>
          given.push(k),
        );
        expect(new Set(given).size).toBe(given.length);
        const inside = places.flatMap((one, k) =>
          Math.abs(one.x - at.x) <= half && Math.abs(one.y - at.y) <= half ? [k] : [],
        );
        expect(inside.filter((k) => !given.includes(k))).toEqual([]);
      }),
    );
  });

  it("points without a place or left out are never found; none at all is no error", () => {
    const bins = new PointBins([Number.NaN, 1, 2], [0, 0, 0], 10, (k) => k !== 1);
    expect(bins.nearest(0, 0, 5)).toBe(2);
    expect(new PointBins([], [], 10).nearest(0, 0, 5)).toBe(-1);
  });

  it("points at the ends of the earth cost no memory", () => {
    const bins = new PointBins([0, 4e7, 1], [0, 4e7, 1], 1);
    expect(bins.nearest(1.2, 1.2, 5)).toBe(2);
    expect(bins.nearest(4e7, 4e7, 5)).toBe(1);
  });
});
