import { describe, expect, it } from "vitest";
import type { Ground, GroundLimits, GroundLoads } from "../../src/rate-zones/ground.ts";
import { drawRateZones } from "../../src/rate-zones/rate-zones.ts";
import type { LocalPolygon, SoilZones } from "../../src/vocabulary/field.ts";
import { expectGoodZones } from "./support/limits-check.ts";
import { shoelace } from "./support/partition-check.ts";
import { LIMITS, randomGround } from "./support/random-ground.ts";

function box(x: number, y: number, width: number, height: number): [number, number][] {
  return [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
    [x, y],
  ];
}

/** A field of 400 x 600 m with named boxes of soil, planted north and south with a bar of 18 m. */
function ground(soil: [name: string, ring: [number, number][]][], outline?: LocalPolygon[]): Ground {
  const names = [...new Set(soil.map(([name]) => name))].sort();
  const soilZones: SoilZones = {
    names,
    polygons: soil.map(([name, ring]) => ({ zone: names.indexOf(name), rings: [ring] })),
    texture: names.map(() => null),
    drainage: names.map(() => null),
  };
  return { outline: outline ?? [[box(0, 0, 400, 600)]], soilZones, swathWidthM: 18, headingDeg: 0 };
}

function loads(byZone: Record<string, number>, todayN: number | null = null, elsewhere = 400): GroundLoads {
  return {
    soilZones: Object.fromEntries(
      Object.entries(byZone).map(([name, marginN]) => [name, { marginN, todayN }]),
    ),
    elsewhere: { marginN: elsewhere, todayN: null },
  };
}

const limits = (changes: Partial<GroundLimits> = {}): GroundLimits => ({ ...LIMITS, ...changes });

function areasByLoad(of: Ground, with_: GroundLoads, within = limits()): Record<string, number> {
  const { zones } = drawRateZones(of, with_, within);
  return Object.fromEntries(zones.map((zone) => [String(zone.marginN), zone.areaHa]));
}

describe("drawRateZones on invented fields", () => {
  // Every kind of outline and of soil map of the 300 of the longer test.
  const seeds = [
    1, 2, 4, 7, 9, 11, 13, 16, 17, 18, 19, 21, 22, 26, 27, 31, 34, 40, 49, 67, 88, 103, 137, 167, 207,
  ];
  it.each(seeds)("field %i: fills the outline without gap or overlap and keeps the limits", (seed) => {
    const field = randomGround(seed);
    expectGoodZones(field, drawRateZones(field.ground, field.loads, field.limits), seed);
  });

  it.each([1, 9, 22, 40, 103])("field %i: loads move neither borders nor numbers", (seed) => {
    const field = randomGround(seed);
    const ground = (soilZones: GroundLoads["soilZones"]) =>
      drawRateZones(
        field.ground,
        { ...field.loads, soilZones },
        { ...field.limits, proofStrips: false },
      ).zones.map(({ number, soilZones: soils, polygon }) => ({ number, soils, polygon }));
    const drawn = ground(field.loads.soilZones);
    expect(drawn.length).toBeGreaterThan(1);
    const names = Object.keys(field.loads.soilZones);
    const all = (marginN: (k: number) => number) =>
      Object.fromEntries(names.map((name, k) => [name, { marginN: marginN(k), todayN: null }]));
    expect(ground(all(() => 400))).toEqual(drawn);
    expect(ground(all((k) => 300 + 20 * ((k * 7) % 5)))).toEqual(drawn);
  });

  it("draws the same again", () => {
    const field = randomGround(40);
    const drawn = drawRateZones(field.ground, field.loads, field.limits);
    expect(drawRateZones(field.ground, field.loads, field.limits)).toEqual(drawn);
  });
});

describe("drawRateZones", () => {
  it("keeps the outline corner by corner and puts borders where the soil map has them", () => {
    const halves = ground([
      ["clay", box(-50, -50, 250, 700)],
      ["sand", box(200, -50, 250, 700)],
    ]);
    const { zones, guards } = drawRateZones(halves, loads({ clay: 500, sand: 300 }), limits());
    expect(zones.map(({ number, marginN, soilZones }) => ({ number, marginN, soilZones }))).toEqual([
      { number: 1, marginN: 500, soilZones: ["clay"] },
      { number: 2, marginN: 300, soilZones: ["sand"] },
    ]);
    // Squares of 18 * 2 / 12 = 3 m: the border lies within one of them.
    for (const zone of zones) expect(Math.abs(zone.areaHa - 12)).toBeLessThan((3 * 600) / 1e4);
    const corners = zones.flatMap((zone) => zone.polygon[0]!.map(String));
    for (const corner of box(0, 0, 400, 600)) expect(corners).toContain(String(corner));
    expect(guards.map((guard) => guard.result)).toEqual(guards.map(() => "kept"));
  });

  it("gives narrow and small pieces to the ground around them", () => {
    const field = ground([
      ["clay", box(-10, -10, 420, 620)],
      ["a lane", box(100, -10, 20, 620)],
      ["a spot", box(250, 250, 60, 80)],
      ["a bowl", box(220, 400, 120, 120)],
    ]);
    const drawn = drawRateZones(
      field,
      loads({ clay: 500, "a lane": 300, "a spot": 350, "a bowl": 400 }),
      limits(),
    );
    // The bowl of 1.44 ha stays; the lane of 20 m and the spot of 0.48 ha do not.
    expect(drawn.zones.map((zone) => zone.marginN)).toEqual([400, 500]);
    expect(drawn.zones[1]!.polygon).toHaveLength(2);
    expect(drawn.guards.find((guard) => guard.code === "smallest-width")).toMatchObject({
      result: "changed",
    });
  });

  it("gives ground without a soil zone its own load where it is large, its neighbour's where it is not", () => {
    const field = ground([
      ["clay", box(0, 0, 195, 350)],
      ["sand", box(205, 0, 195, 350)],
    ]);
    const areas = areasByLoad(field, loads({ clay: 500, sand: 300 }, null, 420));
    expect(Object.keys(areas)).toEqual(["300", "420", "500"]);
    expect(Math.abs(areas[420]! - 10)).toBeLessThan(0.2);
    expect(Math.abs(areas[300]! - 7)).toBeLessThan(0.15);
    const { notes } = drawRateZones(field, loads({ clay: 500, sand: 300 }), limits());
    expect(notes.map((note) => note.effect)).toEqual(["assumed"]);
  });

  it("puts the nearest loads together and keeps the one that changes less", () => {
    const strips = ground(
      [0, 1, 2, 3].map((k) => [`soil ${k}`, box(100 * k, 0, 100, 600)] as [string, [number, number][]]),
    );
    const byZone = loads({ "soil 0": 300, "soil 1": 400, "soil 2": 420, "soil 3": 600 }, 440);
    const drawn = drawRateZones(strips, byZone, limits({ mostRates: 3, proofStrips: false }));
    // 400 and 420 are nearest; from today's 440 the step to 420 is the smaller.
    expect(drawn.zones.map((zone) => zone.marginN)).toEqual([300, 420, 420, 600]);
    expect(drawn.guards.find((guard) => guard.code === "most-rates")).toMatchObject({ result: "changed" });
    expect(drawn.zones.map((zone) => zone.soilZones)).toEqual([
      ["soil 0"],
      ["soil 1"],
      ["soil 2"],
      ["soil 3"],
    ]);
  });

  it("leaves a strip at today's setting away from every edge, along the heading", () => {
    const turned = { ...ground([["clay", box(-10, -10, 420, 620)]]), headingDeg: 30 };
    const drawn = drawRateZones(turned, loads({ clay: 500 }, 440), limits());
    const strip = drawn.zones.find((zone) => zone.proofStrip)!;
    expect(strip).toMatchObject({ marginN: 440, soilZones: ["clay"] });
    const [a, b, c] = strip.polygon[0]! as [[number, number], [number, number], [number, number]];
    const sides = [
      [b[0] - a[0], b[1] - a[1]],
      [c[0] - b[0], c[1] - b[1]],
    ] as [[number, number], [number, number]];
    const [short, long] = sides.sort((p, q) => Math.hypot(...p) - Math.hypot(...q)) as [
      [number, number],
      [number, number],
    ];
    expect(Math.hypot(...short)).toBeCloseTo(36, 2);
    const direction = (Math.atan2(long[0], long[1]) * 180) / Math.PI;
    expect(((direction % 180) + 180) % 180).toBeCloseTo(30, 2);
    for (const [x, y] of strip.polygon[0]!) {
      expect(Math.min(x, 400 - x, y, 600 - y)).toBeGreaterThan(36);
    }
    expect(drawn.zones.find((zone) => !zone.proofStrip)!.polygon).toHaveLength(2);
  });

  it("says why a strip is not drawn: no room, or too many loads", () => {
    const halves = ground([
      ["clay", box(0, 0, 100, 600)],
      ["sand", box(100, 0, 300, 600)],
    ]);
    const words = (mostRates: number): string =>
      drawRateZones(halves, loads({ clay: 500, sand: 300 }, 440), limits({ mostRates })).guards.find(
        (guard) => guard.code === "proof-strips",
      )!.words;
    expect(words(8)).toContain("No strip fits in clay");
    expect(words(2)).toContain("more different loads than allowed");
  });

  it("draws a field smaller than the smallest zone as one zone and says so", () => {
    const small = ground([["clay", box(0, 0, 30, 50)]], [[box(0, 0, 60, 50)]]);
    const { zones, guards } = drawRateZones(small, loads({ clay: 500 }), limits());
    expect(zones).toHaveLength(1);
    expect(zones[0]!.areaHa).toBeCloseTo(0.3, 6);
    const refused = guards.filter((guard) => guard.result === "refused").map((guard) => guard.code);
    expect(refused).toEqual(["smallest-area", "smallest-width"]);
  });

  it("takes a boundary that crosses itself as all ground it goes round", () => {
    const bowTie: [number, number][] = [
      [0, 0],
      [400, 400],
      [400, 0],
      [0, 400],
      [0, 0],
    ];
    const drawn = drawRateZones(
      ground([["clay", box(0, 0, 400, 400)]], [[bowTie]]),
      loads({ clay: 500 }),
      limits(),
    );
    // Two triangles of 400 x 200 / 2.
    expect(drawn.zones.map((zone) => zone.areaHa)).toEqual([expect.closeTo(4, 6), expect.closeTo(4, 6)]);
    expect(drawn.notes[0]!.reason).toContain("crosses itself");
  });

  it("takes a boundary that was walked round twice once", () => {
    const once = box(0, 0, 400, 400);
    const twice = [...once, ...once.slice(1)];
    const { zones } = drawRateZones(ground([], [[twice]]), loads({}), limits());
    expect(zones.map((zone) => zone.areaHa)).toEqual([expect.closeTo(16, 6)]);
    expect(zones[0]!.polygon[0]).toHaveLength(5);
  });

  it("does not call a large field too narrow for a narrow bar", () => {
    const large = {
      ...ground(
        [
          ["clay", box(0, 0, 1500, 3000)],
          ["sand", box(1500, 0, 1500, 3000)],
        ],
        [[box(0, 0, 3000, 3000)]],
      ),
      swathWidthM: 1.5,
    };
    const { zones, guards } = drawRateZones(large, loads({ clay: 500, sand: 300 }), limits());
    expect(zones).toHaveLength(2);
    expect(guards.filter((guard) => guard.result === "refused")).toEqual([]);
  });

  it("counts ground in two polygons of the boundary once", () => {
    const overlapping = ground([], [[box(0, 0, 300, 300)], [box(200, 0, 300, 300)]]);
    const drawn = drawRateZones(overlapping, loads({}), limits());
    expect(drawn.zones.map((zone) => zone.areaHa)).toEqual([expect.closeTo(15, 6)]);
    expect(drawn.notes[0]!.reason).toContain("more than one polygon");
  });

  it("draws one zone without a soil map, holes and all", () => {
    const holed = {
      ...ground([], [[box(0, 0, 300, 300), box(100, 100, 50, 50).reverse()]]),
      soilZones: null,
    };
    const { zones } = drawRateZones(holed, loads({}), limits());
    expect(zones).toHaveLength(1);
    expect(zones[0]!.polygon.map(shoelace)).toEqual([expect.closeTo(90_000, 3), expect.closeTo(-2500, 3)]);
    expect(zones[0]!.soilZones).toEqual([null]);
  });

  it("straightens shared borders, then the boundary, to keep the number of corners", () => {
    const ring = Array.from({ length: 2001 }, (_, k): [number, number] => {
      const angle = (2 * Math.PI * (k % 2000)) / 2000;
      return [300 + 300 * Math.cos(angle), 300 + 300 * Math.sin(angle)];
    });
    const round = ground([["clay", box(-10, -10, 310, 620)]], [[ring]]);
    const drawn = drawRateZones(round, loads({ clay: 500 }), limits({ mostVertices: 600 }));
    expect(drawn.guards.find((guard) => guard.code === "most-vertices")).toMatchObject({ result: "changed" });
    const area = drawn.zones.reduce((sum, zone) => sum + zone.areaHa, 0);
    expect(Math.abs(area / (shoelace(ring) / 1e4) - 1)).toBeLessThan(1e-4);
  });

  it("refuses an outline that goes round nothing", () => {
    const nothing = drawRateZones(ground([], []), loads({}), limits());
    expect(nothing.zones).toEqual([]);
    expect(nothing.guards).toMatchObject([{ code: "whole-field", result: "refused" }]);
  });
});
