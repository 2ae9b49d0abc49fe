import { describe, expect, it } from "vitest";
import { CoverageGrid, ringContains, signedArea } from "../../src/numerics/coverage-grid.ts";
import { coveredAreaM2, fieldOutline } from "../../src/passes/covered-ground.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import { drive, upAndDown } from "../support/driven-log.ts";
import { buildField } from "../support/field-builder.ts";
import { expectRelative } from "../support/relative.ts";

const PLANTER = { rowUnits: 8, rowSpacingM: 0.762 };
const WIDTH = 8 * 0.762;

describe("covered ground", () => {
  it.each([true, false])(
    "a block planted without gaps is as large as its sides say (bar records: %s)",
    (bar) => {
      const log = drive(upAndDown(10, WIDTH, 200), { ...PLANTER, bar });
      const field = buildField({
        ...log,
        values: { rowUnit: log.rowUnit },
        layout: bar ? "bar" : "row-unit",
        planter: PLANTER,
      });
      expectRelative(coveredAreaM2(field, findPasses(field)), 10 * WIDTH * 200, 0.003);
    },
  );

  it("ground planted twice counts once", () => {
    const log = drive([...upAndDown(4, WIDTH, 200), ...upAndDown(1, WIDTH, 200)], { ...PLANTER, bar: true });
    const field = buildField({ ...log, planter: PLANTER });
    expectRelative(coveredAreaM2(field, findPasses(field)), 4 * WIDTH * 200, 0.006);
  });

  it("a curve is swept without wedges: a ring sector of 90 degrees", () => {
    const radius = 40;
    const angles = Array.from({ length: 32 }, (_, k) => ((k + 0.5) / 32) * (Math.PI / 2));
    const field = buildField({
      x: angles.map((angle) => radius * Math.cos(angle)),
      y: angles.map((angle) => radius * Math.sin(angle)),
      planter: PLANTER,
    });
    const passes = findPasses(field);
    passes.passOf.fill(1);
    const sector = (Math.PI / 4) * ((radius + WIDTH / 2) ** 2 - (radius - WIDTH / 2) ** 2);
    expectRelative(coveredAreaM2(field, passes), sector, 0.01);
  });

  it("half the bar switched off covers the half it is offset to", () => {
    // Heading north at x = 0 with the left half off: ground from 0 to half the width east of the line.
    const log = drive(upAndDown(1, WIDTH, 100), { ...PLANTER, bar: true });
    const field = buildField({
      ...log,
      values: { swathWidth: log.x.map(() => WIDTH / 2), lateralOffset: log.x.map(() => WIDTH / 4) },
      planter: PLANTER,
    });
    const [outline] = fieldOutline(field, findPasses(field));
    const xs = outline![0]!.map(([x]) => x);
    // Outline raster 1 m: the edges stand within one square.
    expect(Math.abs(Math.min(...xs))).toBeLessThanOrEqual(1);
    expect(Math.abs(Math.max(...xs) - WIDTH / 2)).toBeLessThanOrEqual(1);
  });
});

describe("outline", () => {
  it("of a block with a pond: one outer ring, one hole, areas within 2 %", () => {
    const lines = upAndDown(30, WIDTH, 300).map((line, index) =>
      index >= 10 && index < 20 ? { ...line, lifted: [[100, 200]] as [number, number][] } : line,
    );
    const log = drive(lines, { ...PLANTER, bar: true });
    const field = buildField({ ...log, planter: PLANTER });
    const outline = fieldOutline(field, findPasses(field));
    expect(outline).toHaveLength(1);
    const [outer, hole] = outline[0]!;
    expectRelative(signedArea(outer!), 30 * WIDTH * 300, 0.02);
    expectRelative(signedArea(hole!), -10 * WIDTH * 100, 0.05);
    expect(ringContains(hole!, 15 * WIDTH, 150)).toBe(true);
    expect(outer!.length).toBeLessThan(30);
  });
});

it("a painted polygon covers the squares whose centres lie inside", () => {
  const grid = new CoverageGrid(0, 0, 10, 10, 0.1);
  grid.paintPolygon([
    [1, 1],
    [9, 1],
    [9, 5],
  ]);
  expect(grid.area()).toBeCloseTo(16, 0);
  grid.paintPolygon([
    [-50, -50],
    [-40, -50],
    [-40, -40],
  ]);
  expect(grid.area()).toBeCloseTo(16, 0);
});
