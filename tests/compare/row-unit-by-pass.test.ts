import { describe, expect, it } from "vitest";
import { rowUnitsByPass } from "../../src/compare/tables/row-unit-by-pass.ts";
import { mean, standardDeviation } from "../../src/numerics/descriptive.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import { drive, upAndDown } from "../support/driven-log.ts";
import { buildField } from "../support/field-builder.ts";
import { expectRelative } from "../support/relative.ts";

const PLANTER = { rowUnits: 4, rowSpacingM: 0.762 };

describe("row unit by pass", () => {
  const log = drive(upAndDown(3, 4 * 0.762, 60), PLANTER);
  // Unit 3 is 8 mm deeper on the second pass only; the ground moves all units alike.
  const depth = log.x.map(
    (_, i) => 50 + (log.moment[i]! % 7) + (log.rowUnit[i] === 3 && log.line[i] === 1 ? 8 : 0),
  );
  depth[0] = Number.NaN;
  const field = buildField({
    ...log,
    layout: "row-unit",
    hasClockTime: true,
    planter: PLANTER,
    values: { time: log.time, rowUnit: log.rowUnit, seedingDepth: depth },
  });
  const rows = rowUnitsByPass(field, findPasses(field));

  it("a row for each unit on each pass with its mean, SD and departure", () => {
    expect(rows).toHaveLength(12);
    const row = rows.find(({ pass, rowUnit }) => pass === 2 && rowUnit === 3)!;
    const own = depth.filter((_, i) => log.line[i] === 1 && log.rowUnit[i] === 3);
    expect(row).toMatchObject({ variable: "seedingDepth", unit: "mm", records: own.length });
    expectRelative(row.mean, mean(own), 1e-12);
    expectRelative(row.sd!, standardDeviation(own), 1e-12);
    expectRelative(row.difference!, 8, 1e-12);
    expect(rows.find(({ pass, rowUnit }) => pass === 1 && rowUnit === 3)!.difference).toBeCloseTo(0, 10);
    // The other three share the departure of unit 3 with its sign turned.
    expectRelative(rows.find(({ pass, rowUnit }) => pass === 2 && rowUnit === 1)!.difference!, -8 / 3, 1e-12);
  });

  it("values that are missing do not count", () => {
    const first = rows.find(({ pass, rowUnit }) => pass === 1 && rowUnit === log.rowUnit[0])!;
    expect(first.records).toBe(log.x.filter((_, i) => log.line[i] === 0).length / 4 - 1);
  });

  it("a log of the whole bar has none", () => {
    const bar = drive(upAndDown(2, 3, 60), { ...PLANTER, bar: true });
    const whole = buildField({ ...bar, hasClockTime: true, values: { time: bar.time, speed: bar.speed } });
    expect(rowUnitsByPass(whole, findPasses(whole))).toEqual([]);
  });
});
