import { expect, it } from "vitest";
import { accelerations } from "../../src/compare/acceleration.ts";
import { findDrivers } from "../../src/compare/drivers.ts";
import { slopesAlong } from "../../src/compare/slope.ts";
import { joinSoilZones } from "../../src/compare/soil-join.ts";
import { compareAll } from "../../src/compare/tables/tables.ts";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import { drive, upAndDown } from "../support/driven-log.ts";
import { buildField } from "../support/field-builder.ts";

const PLANTER = { rowUnits: 4, rowSpacingM: 0.762 };
const WIDTH = PLANTER.rowUnits * PLANTER.rowSpacingM;

it("acceleration is the change of speed over the time between records of a row unit, none after a gap", () => {
  const log = drive(upAndDown(2, WIDTH, 40), PLANTER);
  const speed = log.moment.map((moment) => 2 + 0.1 * moment);
  const field = buildField({
    ...log,
    layout: "row-unit",
    hasClockTime: true,
    planter: PLANTER,
    values: { time: log.time, rowUnit: log.rowUnit, speed },
  });
  const passes = findPasses(field);
  const found = accelerations(field, passes)!;
  const step = log.time[PLANTER.rowUnits]! - log.time[0]!;
  // 0.1 m/s a moment; none for the first moment of either pass.
  const told = found.filter((value) => !Number.isNaN(value));
  expect(told).toHaveLength(log.x.length - 2 * PLANTER.rowUnits);
  for (const value of told) expect(value).toBeCloseTo(0.1 / step, 9);
  const row = compareAll(field, passes, joinSoilZones(field)).find(
    ({ variable, pass }) => variable === "acceleration" && pass === 1,
  )!;
  expect(row.unit).toBe("m/s2");
  expect(row.mean).toBeCloseTo(0.1 / step, 9);
  expect(row.records).toBe(told.length / 2);

  field.log.hasClockTime = false;
  expect(accelerations(field, passes)).toBeNull();
});

it("slope is the rise over twenty metres of way, uphill positive; not told near the ends", () => {
  const along = Float64Array.from({ length: 60 }, (_, k) => 2 * (k % 30));
  const pass = Int32Array.from({ length: 60 }, (_, k) => (k < 30 ? 1 : 2));
  const elevation = along.map((way, k) => (k < 30 ? 300 + 0.04 * way : 310 - 0.02 * way));
  const slopes = slopesAlong(elevation, along, pass);
  for (const [k, slope] of slopes.entries()) {
    const atEnd = along[k]! < 10 || along[k]! > 48;
    if (atEnd) expect(slope).toBeNaN();
    else expect(slope).toBeCloseTo(k < 30 ? 4 : -2, 9);
  }
});

it("slope as a driver of depth comes back, speed and way held", () => {
  const random = seededRandom(5);
  const log = drive(upAndDown(20, WIDTH, 160), { ...PLANTER, turnSeconds: 600 });
  const elevation = log.y.map((y) => 300 + 4 * Math.sin(y / 25));
  const depth = log.y.map((y, i) => {
    const way = log.line[i]! % 2 === 0 ? 1 : -1;
    const slopePercent = way * 100 * (4 / 25) * Math.cos(y / 25);
    return 50 - 0.3 * slopePercent + normal(random);
  });
  const field = buildField({
    ...log,
    layout: "row-unit",
    hasClockTime: true,
    planter: PLANTER,
    values: { time: log.time, rowUnit: log.rowUnit, elevation, seedingDepth: depth },
  });
  const passes = findPasses(field);
  const slope = findDrivers(field, passes, joinSoilZones(field)).find(({ driver }) => driver === "slope")!;
  expect(slope.contrast).toBe("1 point of slope more uphill");
  expect(slope.low).toBeLessThan(-0.28);
  expect(slope.high).toBeLessThan(0);
  // The base of 20 m flattens the crests a little, so the effect on what is left is a little larger.
  expect(slope.effect).toBeGreaterThan(-0.36);
  expect(slope.effect).toBeLessThan(-0.26);

  field.log.values.elevation = elevation && Float64Array.from(elevation, () => 300);
  expect(findDrivers(field, passes, joinSoilZones(field)).map(({ driver }) => driver)).not.toContain("slope");
});
