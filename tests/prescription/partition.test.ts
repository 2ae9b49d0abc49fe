import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Faces, facesBetween } from "../../src/rate-zones/partition-faces.ts";
import { noded, type Segment } from "../../src/rate-zones/partition-noding.ts";
import { regionsOf, ringsOf } from "../../src/rate-zones/partition-regions.ts";
import { checkPartition, shoelace } from "./support/partition-check.ts";

type Point = [number, number];

/** The sides of a ring with a group to its left. */
function sides(ring: readonly Point[], left: number): Segment[] {
  return ring.map(([ax, ay], k) => {
    const [bx, by] = ring[(k + 1) % ring.length]!;
    return { ax, ay, bx, by, left, right: -1 };
  });
}

/** Rings on so coarse a lattice that corners lie on sides, sides on sides, and rounding moves a lot. */
const rings = fc.array(
  fc.array(fc.tuple(fc.integer({ min: 0, max: 24 }), fc.integer({ min: 0, max: 24 })), {
    minLength: 3,
    maxLength: 9,
  }),
  { minLength: 1, maxLength: 6 },
);

function meet(first: Segment, second: Segment): boolean {
  const side = (s: Segment, x: number, y: number): number =>
    Math.sign((s.bx - s.ax) * (y - s.ay) - (s.by - s.ay) * (x - s.ax));
  const onto = (s: Segment, x: number, y: number): boolean =>
    side(s, x, y) === 0 && (x - s.ax) * (x - s.bx) + (y - s.ay) * (y - s.by) < 0;
  const cross =
    side(first, second.ax, second.ay) * side(first, second.bx, second.by) < 0 &&
    side(second, first.ax, first.ay) * side(second, first.bx, first.by) < 0;
  return cross || onto(first, second.ax, second.ay) || onto(first, second.bx, second.by);
}

describe("noded", () => {
  it("leaves lines that meet at ends only", () => {
    fc.assert(
      fc.property(rings, (all) => {
        const pieces = noded(all.flatMap(sides))!;
        expect(pieces).not.toBeNull();
        expect(pieces.filter((first) => pieces.some((second) => meet(first, second)))).toEqual([]);
      }),
      { numRuns: 200, seed: 1 },
    );
  });

  it("cuts two lines where they cross", () => {
    const cross = noded([
      { ax: 0, ay: 0, bx: 10, by: 10, left: 0, right: -1 },
      { ax: 0, ay: 10, bx: 10, by: 0, left: 1, right: -1 },
    ])!;
    expect(cross.map(({ ax, ay, bx, by }) => [ax, ay, bx, by])).toEqual([
      [0, 0, 5, 5],
      [5, 5, 10, 10],
      [0, 10, 5, 5],
      [5, 5, 10, 0],
    ]);
  });
});

describe("facesBetween", () => {
  const area = (faces: Faces, weight: (face: number) => number): number => {
    let sum = 0;
    for (let face = 1; face < faces.faceCount; face++) sum += weight(face) * faces.doubledArea[face]!;
    return sum;
  };

  it("winds round each face as often as the lines say: areas by winding add up to the shoelace of the lines", () => {
    fc.assert(
      fc.property(rings, (all) => {
        const segments = all.flatMap(sides);
        const faces = facesBetween(segments, all.length)!;
        const pieces = noded(segments)!;
        for (const group of all.keys()) {
          // Green's theorem, in whole numbers.
          const shoelaceSum = pieces
            .filter((piece) => piece.left === group)
            .reduce((sum, { ax, ay, bx, by }) => sum + ax * by - bx * ay, 0);
          expect(area(faces, (face) => faces.winding[face * all.length + group]!)).toBe(shoelaceSum);
        }
      }),
      { numRuns: 500, seed: 2 },
    );
  });

  it("gives regions with simple rings that share every edge, whatever the lines", () => {
    fc.assert(
      fc.property(rings, (all) => {
        const faces = facesBetween(all.flatMap(sides), all.length)!;
        const labels = Int32Array.from({ length: faces.faceCount }, (_, face) =>
          faces.winding
            .subarray(face * all.length, (face + 1) * all.length)
            .findIndex((times) => times !== 0),
        );
        const regions = regionsOf(faces, labels);
        const polygons = ringsOf(faces, regions);
        if (polygons.length === 0) return;
        const found = checkPartition(polygons, polygons, 40, 3);
        expect(found.ringFaults).toEqual([]);
        expect(found.doubledEdges).toBe(0);
        expect(found.overlapArea).toBeLessThan(1e-9);
        polygons.forEach((polygon, region) => {
          const enclosed = polygon.reduce((sum, ring) => sum + 2 * shoelace(ring), 0);
          expect(enclosed).toBe(regions.doubledArea[region]);
          expect(polygon.filter((ring) => shoelace(ring) > 0)).toHaveLength(1);
        });
      }),
      { numRuns: 500, seed: 4 },
    );
  });
});
