/** Whether drawn zones keep the limits they were drawn for, or say which cannot be kept. */
import { expect } from "vitest";
import type { DrawnGround, DrawnZone } from "../../../src/rate-zones/ground.ts";
import { checkPartition, inscribedRadius } from "./partition-check.ts";
import type { RandomGround } from "./random-ground.ts";

/** Specks of ground cut off by the outline that may be left out: below this share of the field. */
const LEFT_OUT_SHARE = 5e-5;

/** Expects the zones to divide the outline and to keep their limits. Returns what was measured. */
export function expectGoodZones({ ground, loads, limits }: RandomGround, drawn: DrawnGround, seed: number) {
  const { zones, guards } = drawn;
  const polygons = zones.map((zone) => zone.polygon);
  const guard = (code: string) => guards.find((one) => one.code === code)?.result;
  const found = checkPartition(polygons, ground.outline, 400, seed);
  expect(found.ringFaults).toEqual([]);
  expect(found.doubledEdges).toBe(0);
  const straightened = guard("most-vertices") === "changed";
  const leftOutM2 = drawn.notes.some((note) => note.effect === "left out")
    ? LEFT_OUT_SHARE * found.outlineArea
    : 0;
  expect(found.farthestFromOutline).toBeLessThan(straightened ? 1.1 : 0.0005);
  // Lines of sight end on the outline as given; the lattice of tenths of a
  // millimetre moves a ragged outline of 10 km by up to half a square metre.
  const rounding = straightened ? 5e-5 * found.outlineArea : 0.5;
  expect(found.gapArea).toBeLessThan(rounding + leftOutM2);
  expect(found.overlapArea).toBeLessThan(rounding);

  const rates = new Set(zones.map((zone) => zone.marginN));
  expect(rates.size).toBeLessThanOrEqual(limits.mostRates);
  const known = [...Object.values(loads.soilZones), loads.elsewhere].flatMap((load) => [
    load.marginN,
    load.todayN,
  ]);
  for (const rate of rates) expect(known).toContain(rate);
  const soilOf = ({ soilHa }: DrawnZone) => soilHa.toSorted((a, b) => b.areaHa - a.areaHa)[0]!.soilZone;
  for (const [a, b] of found.neighbours)
    if (zones[a]!.marginN === zones[b]!.marginN) expect(soilOf(zones[a]!)).not.toBe(soilOf(zones[b]!));
  if (guard("most-polygons") === "kept") expect(zones.length).toBeLessThanOrEqual(limits.mostPolygons);
  else expect(zones.length).toBeGreaterThan(limits.mostPolygons);
  const vertices = polygons.flat().reduce((sum, ring) => sum + ring.length, 0);
  if (guard("most-vertices") === "refused") expect(vertices).toBeGreaterThan(limits.mostVertices);
  else expect(vertices).toBeLessThanOrEqual(limits.mostVertices);

  const joined = new Set(
    found.neighbours.flatMap(([a, b]) => (zones[a]!.proofStrip || zones[b]!.proofStrip ? [] : [a, b])),
  );
  const widthM = limits.smallestWidthBars * ground.swathWidthM;
  let narrow = 0;
  for (const [index, zone] of zones.entries()) {
    expect(zone.number).toBe(index + 1);
    if (zone.areaHa < limits.smallestAreaHa) {
      expect(guard("smallest-area")).toBe("refused");
      expect(joined.has(index)).toBe(false);
    }
    // Smoothed corners and squares of a twelfth of the width: a tenth less than the width is drawn as wide.
    if (2 * inscribedRadius(zone.polygon, 0.05 * widthM) < 0.85 * widthM) narrow++;
    if (zone.proofStrip) {
      expect(zone.polygon).toHaveLength(1);
      expect(zone.polygon[0]).toHaveLength(5);
      expect(zone.areaHa).toBeGreaterThanOrEqual(limits.smallestAreaHa);
    }
  }
  if (narrow > 0) expect(guard("smallest-width")).toBe("refused");
  return { ...found, vertices, narrow };
}
