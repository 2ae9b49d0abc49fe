import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findingsGeoJson, geoJsonText } from "../../src/report/geojson.ts";
import { documentFixture, findingFixture } from "../support/findings-fixture.ts";

/** Signed area by the shoelace formula: positive where counter-clockwise. */
function signedArea(ring: readonly (readonly number[])[]): number {
  let sum = 0;
  for (let i = 1; i < ring.length; i++) {
    sum += ring[i - 1]![0]! * ring[i]![1]! - ring[i]![0]! * ring[i - 1]![1]!;
  }
  return sum / 2;
}

describe("findings.geojson", () => {
  it("winds outer rings counter-clockwise and holes clockwise (RFC 7946, 3.1.6), 7 decimals", () => {
    const collection = findingsGeoJson(documentFixture());
    const [outer, hole] = collection.features[0]!.geometry.coordinates[0]!;
    expect(signedArea(outer!)).toBeGreaterThan(0);
    expect(signedArea(hole!)).toBeLessThan(0);
    expect(hole).toContainEqual([-93.606, 42.014]);
  });

  it("winds any triangle, keeps it closed and in place", () => {
    const degrees = fc.integer({ min: -900_000, max: 900_000 }).map((n) => n / 10_000);
    fc.assert(
      fc.property(fc.array(fc.tuple(degrees, degrees), { minLength: 3, maxLength: 3 }), (corners) => {
        const ring = [...corners, corners[0]!];
        fc.pre(Math.abs(signedArea(ring)) > 1e-6);
        const finding = findingFixture();
        finding.where.geometry = { type: "MultiPolygon", coordinates: [[ring]] };
        const [out] = findingsGeoJson(documentFixture([finding])).features[0]!.geometry.coordinates[0]!;
        expect(signedArea(out!)).toBeCloseTo(Math.abs(signedArea(ring)), 9);
        expect(out![0]).toEqual(out!.at(-1));
        expect(new Set(out!.map(String))).toEqual(new Set(ring.map(String)));
      }),
    );
  });

  it("carries the finding's figures, null where unknown", () => {
    const poor = findingFixture({ id: "F2", loss: { yieldShare: null, money: null, seed: null, notes: [] } });
    const [first, second] = findingsGeoJson(documentFixture([findingFixture(), poor])).features;
    expect(first!.properties).toMatchObject({
      id: "F1",
      cause: "lost-ground-contact",
      areaHa: 2.1,
      passes: [4, 5],
      deficitShare: 0.12,
      moneyEstimate: 1312,
      moneyLow: 184,
      moneyHigh: 1440,
      currency: "USD",
      caution: "Follow the operator's manual.",
    });
    expect(second!.properties).toMatchObject({ moneyEstimate: null, currency: null });
  });

  it("is JSON with one feature a line, and with none too", () => {
    for (const document of [documentFixture(), documentFixture([])]) {
      const collection = findingsGeoJson(document);
      const text = geoJsonText(collection);
      expect(JSON.parse(text)).toEqual(collection);
      expect(text.split("\n")).toHaveLength(3 + Math.max(1, collection.features.length));
    }
  });
});
