import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { analyseField } from "../../src/jobs/analyse.ts";
import { signedArea } from "../../src/numerics/coverage-grid.ts";
import { coveredAreaM2, fieldOutline } from "../../src/passes/covered-ground.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import { type GroundBalance, groundBalance } from "../../src/passes/ground-balance.ts";
import type { Field, LocalPolygon } from "../../src/vocabulary/field.ts";
import { type DrivenLine, drive } from "../support/driven-log.ts";
import { buildField } from "../support/field-builder.ts";

const PLANTER = { rowUnits: 12, rowSpacingM: 0.762 };
const WIDTH = PLANTER.rowUnits * PLANTER.rowSpacingM;
const LENGTH = 200;

/** Passes up and down whose middles lie at the places given, m. */
function fieldOf(middles: readonly number[], boundary: LocalPolygon[] | null, bar = false): Field {
  const lines = middles.map((x, index): DrivenLine => {
    const up: [number, number][] = [
      [x, 0],
      [x, LENGTH],
    ];
    return { way: index % 2 === 0 ? up : up.toReversed() };
  });
  const log = drive(lines, { ...PLANTER, bar });
  return buildField({
    ...log,
    layout: bar ? "bar" : "row-unit",
    hasClockTime: true,
    planter: PLANTER,
    boundary,
    values: {
      time: log.time,
      seedingDepth: log.x.map(() => 50),
      ...(bar ? {} : { rowUnit: log.rowUnit }),
    },
  });
}

function balanceOf(field: Field): GroundBalance {
  const passes = findPasses(field);
  return groundBalance(field, passes, field.boundary ?? fieldOutline(field, passes));
}

function box(fromX: number, toX: number): LocalPolygon[] {
  return [[[[fromX, 0], [toX, 0], [toX, LENGTH], [fromX, LENGTH], [fromX, 0]]]]; // biome-ignore format: one line
}

const area = (polygons: readonly LocalPolygon[]): number =>
  polygons.flat().reduce((sum, ring) => sum + signedArea(ring), 0);

describe("planted once, twice, not at all", () => {
  it.each([false, true])("passes side by side leave and double next to nothing (whole bar: %s)", (bar) => {
    const field = fieldOf([0, WIDTH, 2 * WIDTH, 3 * WIDTH], box(-WIDTH / 2, 3.5 * WIDTH), bar);
    const balance = balanceOf(field);
    const whole = 4 * WIDTH * LENGTH;
    // A raster of 0.25 m on edges of some 2 km: half a square on either side at most.
    expect(Math.abs(balance.plantedM2 - whole)).toBeLessThan(0.01 * whole);
    expect(balance.overlapM2).toBeLessThan(0.01 * whole);
    expect(balance.skippedM2).toBeLessThan(0.01 * whole);
    expect([balance.overlap, balance.skipped]).toEqual([[], []]);
    expect(Math.abs(balance.plantedM2 - coveredAreaM2(field, findPasses(field)))).toBeLessThan(0.005 * whole);
  });

  it("a pass that runs half on its neighbour is planted twice there", () => {
    const field = fieldOf([0, WIDTH, 1.4 * WIDTH], box(-WIDTH / 2, 1.9 * WIDTH));
    const balance = balanceOf(field);
    const twice = 0.6 * WIDTH * LENGTH;
    expect(Math.abs(balance.overlapM2 - twice) / twice).toBeLessThan(0.05);
    expect(balance.overlap).toHaveLength(1);
    // Outlined on a raster of 1 m.
    expect(Math.abs(area(balance.overlap) - twice) / twice).toBeLessThan(0.2);
    expect(balance.skipped).toEqual([]);
  });

  it("a strip left out is skipped inside the boundary, and only measured without one", () => {
    const middles = [0, WIDTH, 2.8 * WIDTH, 3.8 * WIDTH, 4.8 * WIDTH];
    const strip = 0.8 * WIDTH * LENGTH;
    const inside = balanceOf(fieldOf(middles, box(-WIDTH / 2, 5.3 * WIDTH)));
    expect(inside.insideBoundary).toBe(true);
    expect(Math.abs(inside.skippedM2 - strip) / strip).toBeLessThan(0.05);
    expect(inside.skipped).toHaveLength(1);
    const without = balanceOf(fieldOf(middles, null));
    expect(without.insideBoundary).toBe(false);
    expect(without.skippedM2).toBeGreaterThan(0.8 * strip);
  });

  it("strips narrower than half a bar and small corners are no parts, but counted", () => {
    const balance = balanceOf(fieldOf([0, 0.8 * WIDTH, 1.8 * WIDTH], box(-WIDTH / 2, 2.3 * WIDTH)));
    expect(balance.overlapM2).toBeGreaterThan(0.15 * WIDTH * LENGTH);
    expect(balance.overlap).toEqual([]);
  });

  it("a pass that crosses its own ground in a curve plants it once", () => {
    const steps = Array.from({ length: 73 }, (_, k) => (k * 5 * Math.PI) / 180);
    const way = steps.map((angle): [number, number] => [6 * Math.cos(angle), 6 * Math.sin(angle)]);
    const log = drive([{ way }], { ...PLANTER, stepM: 0.25 });
    const field = buildField({
      ...log,
      layout: "row-unit",
      hasClockTime: true,
      planter: PLANTER,
      values: { time: log.time, rowUnit: log.rowUnit },
    });
    const passes = findPasses(field);
    const own = { ...passes, passOf: passes.passOf.map((pass) => Math.min(pass, 1)) };
    expect(groundBalance(field, own, []).overlapM2).toBe(0);
  });

  it("planted ground and skipped ground fill the boundary, whatever the spacing of the passes", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.6, max: 1.5, noNaN: true }), { minLength: 2, maxLength: 4 }),
        (steps) => {
          const middles = [0];
          for (const step of steps) middles.push(middles.at(-1)! + step * WIDTH);
          const last = middles.at(-1)!;
          const balance = balanceOf(fieldOf(middles, box(-WIDTH / 2, last + WIDTH / 2), true));
          const whole = (last + WIDTH) * LENGTH;
          expect(Math.abs(balance.plantedM2 + balance.skippedM2 - whole)).toBeLessThan(0.015 * whole);
          const swept = middles.length * WIDTH * LENGTH;
          // No step is under 0.5, so no ground is planted three times.
          expect(Math.abs(balance.plantedM2 + balance.overlapM2 - swept)).toBeLessThan(0.015 * swept);
        },
      ),
      { numRuns: 15, seed: 4 },
    );
  });
});

describe("as findings", () => {
  const middles = [0, 1, 2, 3, 4, 5, 6, 7];

  it("planted twice and left out are told with their area, a check and a caution", async () => {
    const doubled = middles
      .map((k) => (k >= 4 ? k - 0.6 : k) * WIDTH)
      .map((x, k) => (k >= 6 ? x + 0.9 * WIDTH : x));
    const field = fieldOf(doubled, box(-WIDTH / 2, doubled.at(-1)! + WIDTH / 2));
    const { document } = await analyseField(field);
    expect(document.findings.map(({ cause, kind, basis }) => [cause, kind, basis]).sort()).toEqual([
      ["not-planted", "area", "predicted"],
      ["planted-twice", "area", "predicted"],
    ]);
    const twice = document.findings.find(({ cause }) => cause === "planted-twice")!;
    expect(twice.where.passes).toEqual([4, 5]);
    expect(twice.words.seen).toHaveLength(1);
    expect(twice.words.seen[0]).toMatch(/lie under two passes or more/);
    expect(twice.remedy.code).toBe("shut-off-rows");
    const left = document.findings.find(({ cause }) => cause === "not-planted")!;
    expect(left.words.check).toMatch(/waterway/);
    expect(left.words.place).toMatch(/side|middle/);
    expect(left.where.areaHa).toBeGreaterThan(0.05);
    const { ground, affectedHa, nothingFoundHa } = document.summary;
    expect(ground).toMatchObject({ within: "boundary" });
    expect(Math.abs(ground!.overlapHa - (0.6 * WIDTH * LENGTH) / 10_000)).toBeLessThan(0.01);
    expect(Math.abs(ground!.skippedHa - (0.9 * WIDTH * LENGTH) / 10_000)).toBeLessThan(0.01);
    expect(affectedHa).toBeGreaterThan(0);
    // A tenth of the field was left out: it was not judged, and is not among the ground without a finding.
    expect(document.summary.sentence).toMatch(/^Not judged: 0\.\d ac \(1\d %\)/);
    expect(ground!.judgedHa).toBeCloseTo(document.field.areaHa - ground!.skippedHa, 1);
    expect(affectedHa + nothingFoundHa).toBeCloseTo(document.field.areaHa, 1);
  });

  it("a bar too narrow for its passes puts the balance in doubt: said first, no finding made of it", async () => {
    const field = fieldOf(
      middles.map((k) => 2.5 * k * WIDTH),
      box(-WIDTH / 2, 18 * WIDTH),
    );
    const { document } = await analyseField(field);
    expect(document.summary.ground).toMatchObject({
      inDoubt: true,
      spacingM: expect.closeTo(2.5 * WIDTH, 1),
    });
    expect(document.summary.sentence).toMatch(
      /^Not judged: .* inside the boundary; the log has no record on the rest\. The bar is taken as .* wide, but the passes lie .* apart/,
    );
    expect(document.findings).toEqual([]);
  });
});
