import { describe, expect, it } from "vitest";
import { CELL_LENGTH_M, makeCells } from "../../src/cells/make-cells.ts";
import { THRESHOLDS } from "../../src/compare/thresholds.ts";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import type { Field } from "../../src/vocabulary/field.ts";
import { drive, upAndDown } from "../support/driven-log.ts";
import { buildField } from "../support/field-builder.ts";

const UNITS = 6;
const SPACING_M = 0.762;
const log = drive(
  upAndDown(4, UNITS * SPACING_M, 130).map((line, k) => (k === 1 ? { ...line, lifted: [[50, 80]] } : line)),
  { rowUnits: UNITS, rowSpacingM: SPACING_M },
);
const random = seededRandom(5);
const depth = log.x.map((_, i) => (i % 13 === 0 ? Number.NaN : 50 + 5 * normal(random)));
const margin = log.x.map((_, i) => (i % 17 === 0 ? Number.NaN : Math.max(0, 80 + 90 * normal(random))));

function fieldOf(working?: number[]): Field {
  return buildField({
    x: log.x,
    y: log.y,
    values: {
      time: log.time,
      rowUnit: log.rowUnit,
      heading: log.headingDeg,
      seedingDepth: depth,
      downForceMargin: margin,
      ...(working ? { working } : {}),
    },
    layout: "row-unit",
    hasClockTime: true,
    planter: { rowUnits: UNITS, rowSpacingM: SPACING_M },
  });
}

const field = fieldOf();
const passes = findPasses(field);
const zones = Int32Array.from(log.y, (y) => (y < 40 ? 0 : y < 90 ? 1 : -1));
field.soilZones = { names: ["a", "b"], polygons: [], texture: [null, null], drainage: [null, null] };
const { cells, cellOf } = makeCells(field, passes, zones);

const membersOf = (cell: number) => [...cellOf.keys()].filter((i) => cellOf[i] === cell);
const total = (values: ArrayLike<number>) => Array.from(values).reduce((a, b) => a + b, 0);

describe("cells", () => {
  it("hold every record on a pass once, and their ground", () => {
    const onPass = [...passes.passOf.keys()].filter((i) => passes.passOf[i]! > 0);
    expect(onPass.every((i) => cellOf[i]! >= 0)).toBe(true);
    expect(total(cells.records)).toBe(onPass.length);
    const ground = onPass.reduce((sum, i) => sum + passes.distanceM[i]! * passes.widthM[i]!, 0);
    expect(total(cells.areaM2)).toBeCloseTo(ground, 6);
    expect([...cells.records].every((count) => count > 0)).toBe(true);
  });

  it("are pieces of one pass, in order, no longer than a cell", () => {
    for (let cell = 0; cell < cells.count; cell++) {
      const members = membersOf(cell);
      for (const i of members) {
        expect(passes.passOf[i]).toBe(cells.pass[cell]);
        expect(Math.floor(passes.alongM[i]! / CELL_LENGTH_M)).toBe(cells.piece[cell]);
      }
      if (cell === 0) continue;
      const [before, here] = [cell - 1, cell].map((k) => cells.pass[k]! * 1000 + cells.piece[k]!);
      expect(here).toBeGreaterThan(before!);
    }
  });

  it("a lifted stretch leaves pieces out, it does not make empty cells", () => {
    const pieces = (pass: number) => [...cells.pass].filter((other) => other === pass).length;
    expect(pieces(1)).toBe(Math.ceil(130 / CELL_LENGTH_M));
    expect(pieces(2)).toBeLessThan(pieces(1));
  });

  it("lie in the middle of their records and face the way of travel", () => {
    for (let cell = 0; cell < cells.count; cell++) {
      const ys = membersOf(cell).map((i) => log.y[i]!);
      expect(cells.y[cell]).toBeGreaterThanOrEqual(Math.min(...ys) - 1.01);
      expect(cells.y[cell]).toBeLessThanOrEqual(Math.max(...ys) + 1.01);
      expect(cells.x[cell]).toBeCloseTo((cells.pass[cell]! - 1) * UNITS * SPACING_M, 6);
      // Half the passes run north, half south.
      expect(Math.cos((cells.headingDeg[cell]! * Math.PI) / 180)).toBeCloseTo(
        cells.pass[cell]! % 2 ? 1 : -1,
        6,
      );
    }
  });

  it("carry the plain mean of the present values", () => {
    expect(Object.keys(cells.mean).sort()).toEqual(["downForceMargin", "seedingDepth"]);
    for (let cell = 0; cell < cells.count; cell++) {
      const values = membersOf(cell).map((i) => depth[i]!).filter((value) => !Number.isNaN(value)); // biome-ignore format: one line
      expect(cells.mean.seedingDepth![cell]).toBeCloseTo(total(values) / values.length, 9);
    }
  });

  it("carry the low tenth of the load (type 7) and the share without", () => {
    for (let cell = 0; cell < cells.count; cell++) {
      const values = membersOf(cell)
        .map((i) => margin[i]!)
        .filter((value) => !Number.isNaN(value))
        .sort((a, b) => a - b);
      const place = 0.1 * (values.length - 1);
      const [low, high] = [values[Math.floor(place)]!, values[Math.ceil(place)]!];
      expect(cells.marginP10N![cell]).toBeCloseTo(low + (place % 1) * (high - low), 9);
      const without = values.filter((value) => value <= THRESHOLDS.noLoad.value).length;
      expect(cells.noLoadShare![cell]).toBeCloseTo(without / values.length, 12);
    }
  });

  it("carry about the spread of depth along the row that was put in", () => {
    const spreads = [...cells.depthSdMm!];
    expect(spreads.every((sd) => sd > 0)).toBe(true);
    // 36 records a cell, three cells pooled, SD 5: the mean of all cells within 5 %.
    expect(Math.abs(total(spreads) / spreads.length / 5 - 1)).toBeLessThan(0.05);
  });

  it("lie in the zone of most of their records, none where most lie in none", () => {
    for (let cell = 0; cell < cells.count; cell++) {
      const votes = [0, 1].map((zone) => membersOf(cell).filter((i) => zones[i] === zone).length);
      const wanted = votes[0] === 0 && votes[1] === 0 ? -1 : votes[1]! > votes[0]! ? 1 : 0;
      expect(cells.zone[cell]).toBe(wanted);
    }
  });
});

it("records lifted are in no cell", () => {
  const working = log.moment.map((moment) => (moment % 5 === 0 ? 0 : 1));
  const lifted = fieldOf(working);
  const lying = findPasses(lifted);
  const made = makeCells(lifted, lying, zones);
  const kept = working.filter((value, i) => value === 1 && lying.passOf[i]! > 0).length;
  expect(total(made.cells.records)).toBe(kept);
  expect(working.every((value, i) => value === 1 || made.cellOf[i] === -1)).toBe(true);
});

it("a depth that is only set has no spread of the seed", () => {
  for (const source of ["set", "unknown"] as const) {
    const set = fieldOf();
    set.log.depthSource = source;
    expect(makeCells(set, passes, zones).cells.depthSdMm).toBeNull();
  }
});
