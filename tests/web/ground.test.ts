/** Drawn ground lies where the field lies: Mercator there and back, and pieces at their side of the bar. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { nearestPiece } from "../../web/map/nearest.ts";
import {
  groundFromCells,
  latitudeOf,
  longitudeOf,
  mercatorPerMetre,
  mercatorX,
  mercatorY,
  positionOf,
} from "../../web/protocol/ground.ts";

describe("Mercator coordinates", () => {
  it("has the values of the projection's definition", () => {
    // The worked example of EPSG Guidance Note 7-2 (from memory), Popular Visualisation Pseudo Mercator (1024): longitude 100.3333333 W,
    // latitude 24.3817870 N gives easting -11169055.58 m, northing 2800000.00 m; the world is 2 pi 6378137 m wide.
    const world = 2 * Math.PI * 6378137;
    expect((mercatorX(-100.3333333) - 0.5) * world).toBeCloseTo(-11169055.58, 1);
    expect((0.5 - mercatorY(24.381787)) * world).toBeCloseTo(2800000, 0);
  });

  it("comes back to the degrees it left from", () => {
    const degrees = fc.tuple(
      fc.double({ min: -180, max: 180, noNaN: true }),
      fc.double({ min: -80, max: 80, noNaN: true }),
    );
    fc.assert(
      fc.property(degrees, ([longitude, latitude]) => {
        expect(longitudeOf(mercatorX(longitude))).toBeCloseTo(longitude, 9);
        expect(latitudeOf(mercatorY(latitude))).toBeCloseTo(latitude, 9);
      }),
    );
  });
});

describe("ground from cells", () => {
  const cells = {
    pass: [1, 1, 2],
    longitude: [-93.5, -93.5, -93.499],
    latitude: [42, 42.001, 42],
    headingDeg: [0, 0, 90],
    alongM: [6, 117, 6],
    lengthM: [12, 12, 12],
    widthM: [18, 18, 18],
    zone: [0, 1, -1],
    values: { speed: [2.4, null, 2.5] },
  };
  const ground = groundFromCells(cells);

  it("keeps positions to a centimetre and missing values missing", () => {
    for (const i of [0, 1, 2]) {
      const [longitude, latitude] = positionOf(ground, i);
      // 1e-7 degrees are about a centimetre.
      expect(longitude).toBeCloseTo(cells.longitude[i]!, 7);
      expect(latitude).toBeCloseTo(cells.latitude[i]!, 7);
    }
    expect(ground.values.speed![0]).toBeCloseTo(2.4, 6);
    expect(ground.values.speed![1]).toBeNaN();
  });

  it("points along the heading, half a cell long: up for north, right for east", () => {
    const half = 6 * mercatorPerMetre(42);
    expect(ground.along[0]! / half).toBeCloseTo(0, 5);
    expect(ground.along[1]! / half).toBeCloseTo(-1, 4);
    expect(ground.along[4]! / half).toBeCloseTo(1, 4);
    expect(ground.along[5]! / half).toBeCloseTo(0, 5);
  });

  it("finds the nearest piece within reach and none beyond it", () => {
    expect(nearestPiece(ground, -93.5, 42.00002, 8)).toBe(0);
    expect(nearestPiece(ground, -93.499, 42, 8)).toBe(2);
    expect(nearestPiece(ground, -93.5, 42.0005, 8)).toBeNull();
  });

  it("moves a piece of a row unit to its side: right of north is east", () => {
    const withSide = groundFromCells(cells);
    withSide.lateral[0] = 7 * mercatorPerMetre(42);
    const [longitude, latitude] = positionOf(withSide, 0);
    const metresEast = (longitude - cells.longitude[0]!) * 111_319.49 * Math.cos((42 * Math.PI) / 180);
    expect(metresEast).toBeCloseTo(7, 2);
    expect(latitude).toBeCloseTo(42, 7);
  });
});
