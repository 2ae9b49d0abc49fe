import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { joinSoilZones } from "../../src/compare/soil-join.ts";
import { ringContains } from "../../src/numerics/coverage-grid.ts";
import type { LocalPolygon } from "../../src/vocabulary/field.ts";
import { buildField } from "../support/field-builder.ts";

const box = (west: number, south: number, east: number, north: number): [number, number][] => [
  [west, south],
  [east, south],
  [east, north],
  [west, north],
  [west, south],
];

describe("soil zones of records", () => {
  it("inside, outside, in a hole, in the second part of a zone, without a position", () => {
    const field = buildField({
      x: [5, 50, 2, 25, Number.NaN],
      y: [1, 50, 5, 5, 1],
      soilZones: [
        { name: "loam", rings: [box(0, 0, 10, 10), box(1, 4, 3, 6).toReversed()] },
        { name: "clay", rings: [box(12, 0, 18, 10)] },
        { name: "loam", rings: [box(20, 0, 30, 10)] },
      ],
    });
    expect(field.soilZones!.names).toEqual(["clay", "loam"]);
    expect(Array.from(joinSoilZones(field))).toEqual([1, -1, -1, 1, -1]);
  });

  it("a polygon that crosses itself keeps both lobes", () => {
    const bow: [number, number][] = [
      [0, 0],
      [10, 10],
      [10, 0],
      [0, 10],
      [0, 0],
    ];
    const field = buildField({
      x: [1, 9, 5, 5],
      y: [5, 5, 1, 9],
      soilZones: [{ name: "loam", rings: [bow] }],
    });
    expect(Array.from(joinSoilZones(field))).toEqual([0, 0, -1, -1]);
  });

  it("a field without a soil map has no zones", () => {
    expect(Array.from(joinSoilZones(buildField({ x: [1], y: [1] })))).toEqual([-1]);
  });

  it("of overlapping polygons the first one counts; on a shared border exactly one does", () => {
    const overlapping = buildField({
      x: [5],
      y: [5],
      soilZones: [
        { name: "b", rings: [box(0, 0, 10, 10)] },
        { name: "a", rings: [box(4, 4, 6, 6)] },
      ],
    });
    expect(joinSoilZones(overlapping)[0]).toBe(1);
    const border = buildField({
      x: [10, 10],
      y: [5, 0],
      soilZones: [
        { name: "west", rings: [box(0, 0, 10, 10)] },
        { name: "east", rings: [box(10, 0, 20, 10)] },
      ],
    });
    expect(Array.from(joinSoilZones(border))).toEqual([0, 0]);
  });

  it("agrees with a plain test of every edge on ragged polygons", () => {
    const radius = fc.array(fc.double({ min: 1, max: 100, noNaN: true }), { minLength: 3, maxLength: 60 });
    const points = fc.array(fc.tuple(fc.double({ min: -90, max: 90, noNaN: true }), fc.double({ min: -90, max: 90, noNaN: true })), { minLength: 1, maxLength: 40 }); // biome-ignore format: one line
    fc.assert(
      fc.property(radius, points, (radii, places) => {
        const ring = radii.map((r, k): [number, number] => {
          const angle = (2 * Math.PI * k) / radii.length;
          return [r * Math.cos(angle), r * Math.sin(angle)];
        });
        ring.push(ring[0]!);
        const polygon: LocalPolygon = [ring];
        const field = buildField({
          x: places.map(([x]) => x),
          y: places.map(([, y]) => y),
          soilZones: [{ name: "z", rings: polygon }],
        });
        const expected = places.map(([x, y]) => (ringContains(ring, x, y) ? 0 : -1));
        expect(Array.from(joinSoilZones(field))).toEqual(expected);
      }),
    );
  });
});
