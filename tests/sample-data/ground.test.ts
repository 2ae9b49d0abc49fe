import { booleanPointInPolygon } from "@turf/turf";
import fc from "fast-check";
import { strToU8 } from "fflate";
import type { Position } from "geojson";
import proj4 from "proj4";
import { describe, expect, it } from "vitest";
import { makeBoundary, makeSoilMap } from "../../sample-data/field-files.ts";
import { makeLarkspurDrawTruth } from "../../sample-data/larkspur-draw.ts";
import { readBoundary, readSoil } from "./read-sample.ts";

const files = {
  "boundary.geojson": strToU8(makeBoundary()),
  "soil.geojson": strToU8(makeSoilMap()),
};
const truth = makeLarkspurDrawTruth(1);
const boundary = readBoundary(files).features[0]!.geometry.coordinates;
const zones = readSoil(files).features.map(({ properties, geometry }) => ({
  texture: properties.texture,
  polygons: geometry.type === "Polygon" ? [geometry.coordinates] : geometry.coordinates,
}));

/** Signed planar area in UTM zone 15 north, hectares: positive counter-clockwise. */
function ringHa(ring: Position[]): number {
  const points = ring.map((corner) => proj4("EPSG:4326", "+proj=utm +zone=15 +datum=WGS84", corner));
  let twice = 0;
  for (let index = 1; index < points.length; index++) {
    twice += points[index - 1]![0]! * points[index]![1]! - points[index]![0]! * points[index - 1]![1]!;
  }
  return twice / 2e4;
}

const polygonsHa = (polygons: Position[][][]) => polygons.flat().reduce((sum, ring) => sum + ringHa(ring), 0);

/** A spot anywhere in the box round the field. */
const [west, east] = [Math.min, Math.max].map((pick) => pick(...boundary[0]!.map((corner) => corner[0]!)));
const [south, north] = [Math.min, Math.max].map((pick) => pick(...boundary[0]!.map((corner) => corner[1]!)));
const spot = fc.tuple(
  fc.double({ min: west!, max: east!, noNaN: true }),
  fc.double({ min: south!, max: north!, noNaN: true }),
);

describe("the ground of the invented field", () => {
  it.each([
    ["silt loam", 19],
    ["clay loam", 9],
    ["silty clay", 7],
    ["sandy loam", 6],
  ])("has %s on %d ha within 3 %%", (texture, hectares) => {
    const found = zones.filter((zone) => zone.texture === texture);
    expect(found.length).toBe(1);
    expect(Math.abs(polygonsHa(found[0]!.polygons) / hectares - 1)).toBeLessThan(0.03);
  });

  it.each([
    ["knoll", 3.4],
    ["swaleDayTwo", 3.0],
    ["fastPasses", 2.6],
    ["pocket", 1.1],
  ] as const)("has the %s on %d ha within 3 %%", (place, hectares) => {
    expect(Math.abs(polygonsHa(truth.places[place].lonLat) / hectares - 1)).toBeLessThan(0.03);
    expect(truth.places[place].areaHa).toBeCloseTo(polygonsHa(truth.places[place].lonLat), 2);
  });

  it("is 41 ha, and its soil zones leave no gap and no overlap", () => {
    expect(Math.abs(polygonsHa([boundary]) / 41 - 1)).toBeLessThan(0.03);
    const total = zones.reduce((sum, zone) => sum + polygonsHa(zone.polygons), 0);
    // Corners are shared: what is left is the rounding of the sum.
    expect(total).toBeCloseTo(polygonsHa([boundary]), 6);
    fc.assert(
      fc.property(spot, (position) => {
        const inField = booleanPointInPolygon(position, { type: "Polygon", coordinates: boundary });
        const holding = zones.filter((zone) =>
          booleanPointInPolygon(position, { type: "MultiPolygon", coordinates: zone.polygons }),
        );
        expect(holding.length).toBe(inField ? 1 : 0);
      }),
      { numRuns: 2000, seed: 11 },
    );
  });

  it("has every corner of a zone in another zone or on the boundary, the same to the last digit", () => {
    const counted = new Map<string, number>();
    const rings = [...zones.flatMap((zone) => zone.polygons.flat()), ...[boundary[0]!]];
    for (const ring of rings) {
      for (const corner of ring.slice(1)) counted.set(corner.join(), (counted.get(corner.join()) ?? 0) + 1);
    }
    expect([...counted].filter(([, times]) => times < 2)).toEqual([]);
  });

  it("winds outer rings counter-clockwise and holes clockwise, as RFC 7946 wants", () => {
    for (const rings of [boundary, ...zones.flatMap((zone) => zone.polygons)]) {
      rings.forEach((ring, index) => {
        expect(Math.sign(ringHa(ring))).toBe(index === 0 ? 1 : -1);
        expect(ring.at(-1)).toEqual(ring[0]);
      });
    }
  });

  it("keeps the places apart and each on its own soil and day", () => {
    fc.assert(
      fc.property(spot, ([longitude, latitude]) => {
        const inside = Object.entries(truth.places).filter(([, place]) =>
          place.contains(longitude, latitude),
        );
        expect(inside.length).toBeLessThanOrEqual(1);
        const name = inside[0]?.[0] ?? null;
        expect(truth.placeOf(longitude, latitude)).toBe(name);
        if (name === "knoll") expect(truth.zones["clay loam"].contains(longitude, latitude)).toBe(true);
        if (name === "pocket") expect(truth.zones["silt loam"].contains(longitude, latitude)).toBe(true);
        if (name === "swaleDayTwo")
          expect(truth.zones["silty clay"].contains(longitude, latitude)).toBe(true);
        const planted = truth.plantedBy(longitude, latitude);
        if (name) expect(truth.places[name as keyof typeof truth.places].passes).toContain(planted?.pass);
      }),
      { numRuns: 3000, seed: 12 },
    );
  });
});

describe("the passes of the invented field", () => {
  it("plant all of the field once", () => {
    const planted = truth.passes.reduce((sum, pass) => sum + pass.lengthM * 18.288, 0) / 10_000;
    expect(planted).toBeCloseTo(truth.field.areaHa, 6);
    fc.assert(
      fc.property(spot, ([longitude, latitude]) => {
        // A spot within a centimetre of the edge may fall on either side of it: the corners are rounded.
        const outlines = truth.passes.filter((pass) => {
          const [x, y] = proj4("EPSG:4326", "+proj=utm +zone=15 +datum=WGS84", [longitude, latitude]) as [
            number,
            number,
          ];
          return booleanPointInPolygon(
            [x, y],
            { type: "Polygon", coordinates: [pass.utm] },
            { ignoreBoundary: true },
          );
        });
        expect(outlines.length).toBe(truth.field.contains(longitude, latitude) ? 1 : 0);
        expect(truth.plantedBy(longitude, latitude)?.pass).toBe(outlines[0]?.number);
      }),
      { numRuns: 1000, seed: 13 },
    );
  });

  it("plant about 60 % of it on the first day, two laps of end rows first", () => {
    const dayOne = truth.passes.filter((pass) => pass.date === "2026-04-24");
    const share = dayOne.reduce((sum, pass) => sum + pass.lengthM * 18.288, 0) / 10_000 / truth.field.areaHa;
    expect(Math.abs(share - 0.6)).toBeLessThan(0.02);
    expect(truth.passes.map((pass) => pass.headland)).toEqual(truth.passes.map((_, index) => index < 12));
  });

  it("run back and forth, four short ones near the end of the second day fast", () => {
    const interior = truth.passes.filter((pass) => !pass.headland);
    interior.slice(1).forEach((pass, index) => {
      expect(Math.abs(pass.headingDeg - interior[index]!.headingDeg)).toBeCloseTo(180, 6);
    });
    const fast = truth.passes.filter((pass) => pass.fast);
    expect(fast.map((pass) => pass.number)).toEqual(truth.places.fastPasses.passes);
    expect(fast.length).toBe(4);
    for (const pass of fast) {
      expect(Math.abs(pass.lengthM - 355)).toBeLessThan(2);
      expect(pass.date).toBe("2026-04-27");
      expect(pass.number).toBeGreaterThan(truth.passes.length - 6);
    }
  });
});
