import { describe, expect, it } from "vitest";
import { type Driver, findDrivers } from "../../src/compare/drivers.ts";
import { joinSoilZones } from "../../src/compare/soil-join.ts";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import type { Field } from "../../src/vocabulary/field.ts";
import { driverWords } from "../../src/words/driver-words.ts";
import { drive, upAndDown } from "../support/driven-log.ts";
import { buildField } from "../support/field-builder.ts";

const UNITS = 4;
const PLANTER = { rowUnits: UNITS, rowSpacingM: 0.762 };
const PASSES = 24;
const DAY = 86_400;

/** Effects put in: mm by m/s, by way, by hour, on the second day. */
interface Effects {
  speed?: number;
  north?: number;
  hour?: number;
  secondDay?: number;
}

/** Two zones 12 mm apart, passes alike within themselves (SD 1.5 mm), speed drawn by pass and moment. */
function fieldOf(seed: number, effects: Effects, layout: "row-unit" | "bar" = "row-unit"): Field {
  const random = seededRandom(seed);
  const width = UNITS * PLANTER.rowSpacingM;
  const log = drive(upAndDown(PASSES, width, 160), { ...PLANTER, turnSeconds: 600, bar: layout === "bar" });
  const ofPass = Array.from({ length: PASSES }, () => ({
    depth: 1.5 * normal(random),
    speed: 0.25 * normal(random),
  }));
  const time = log.time.map((value, i) => value + (log.line[i]! >= PASSES / 2 ? DAY : 0));
  const ofMoment = new Map<number, number>();
  const speed = log.moment.map((moment, i) => {
    if (!ofMoment.has(moment))
      ofMoment.set(moment, 2.4 + ofPass[log.line[i]!]!.speed + 0.15 * normal(random));
    return ofMoment.get(moment)!;
  });
  const { speed: bySpeed = 0, north = 0, hour = 0, secondDay = 0 } = effects;
  const depth = log.x.map(
    (_, i) =>
      50 +
      (log.y[i]! > 80 ? 12 : 0) +
      ofPass[log.line[i]!]!.depth +
      bySpeed * (speed[i]! - 2.4) +
      (log.line[i]! % 2 === 0 ? north / 2 : -north / 2) +
      (hour * ((time[i]! - time[0]!) % DAY)) / 3600 +
      (log.line[i]! >= PASSES / 2 ? secondDay : 0) +
      2 * normal(random),
  );
  const strip = (from: number, to: number): [number, number][][] => [
    [[-50, from], [200, from], [200, to], [-50, to], [-50, from]], // biome-ignore format: one line
  ];
  return buildField({
    ...log,
    layout,
    hasClockTime: true,
    planter: PLANTER,
    values: { time, speed, seedingDepth: depth, ...(layout === "bar" ? {} : { rowUnit: log.rowUnit }) },
    soilZones: [
      { name: "clay", rings: strip(-1, 80) },
      { name: "loam", rings: strip(80, 161) },
    ],
  });
}

function driversOf(field: Field): Map<Driver["driver"], Driver> {
  const passes = findPasses(field);
  return new Map(findDrivers(field, passes, joinSoilZones(field)).map((driver) => [driver.driver, driver]));
}

describe("drivers of depth", () => {
  it("what was put in comes back: speed, way, hour and day at once", () => {
    const drivers = driversOf(fieldOf(1, { speed: -6, north: 5, secondDay: -7 }));
    expect([...drivers.keys()].sort()).toEqual(["date", "heading", "speed", "time-of-day"]);
    const check = (driver: Driver["driver"], effect: number): void => {
      const found = drivers.get(driver)!;
      expect(found.low, driver).toBeLessThan(effect);
      expect(found.high, driver).toBeGreaterThan(effect);
      expect(found.low * found.high, `${driver} is told from nothing`).toBeGreaterThan(0);
      expect(found.passes).toBeGreaterThan(15);
      expect(found.unit).toBe("mm");
    };
    check("speed", -6);
    check("heading", 5);
    check("date", -7);
    expect(drivers.get("heading")!.contrast).toBe("driven north against south");
    expect(drivers.get("date")!.contrast).toMatch(/^2026-\d\d-\d\d against 2026-\d\d-\d\d$/);
  });

  it("a soil zone that is driven slower is no effect of speed", () => {
    const field = fieldOf(2, {});
    for (let i = 0; i < field.log.recordCount; i++) {
      if (field.log.y[i]! > 80) field.log.values.speed![i]! -= 0.8;
    }
    const { effect } = driversOf(field).get("speed")!;
    // Without zones it would come out as -12 / 0.8 = -15 mm a m/s.
    expect(Math.abs(effect)).toBeLessThan(3);
  });

  it("on fields where nothing drives it, intervals of 95 % hold 0 nine times in ten or more", () => {
    const held: Partial<Record<Driver["driver"], number>> = {
      speed: 0,
      heading: 0,
      "time-of-day": 0,
      date: 0,
    };
    const tries = 60;
    for (let seed = 0; seed < tries; seed++) {
      for (const [driver, { low, high }] of driversOf(fieldOf(100 + seed, {}, "bar"))) {
        if (low <= 0 && high >= 0) held[driver] = (held[driver] ?? 0) + 1;
      }
    }
    for (const [driver, count] of Object.entries(held))
      expect(count / tries, driver).toBeGreaterThanOrEqual(0.88);
  });

  it("a depth that is only set, and a field of few passes, tell nothing", () => {
    const set = fieldOf(3, {});
    set.log.depthSource = "set";
    expect(driversOf(set).size).toBe(0);
    const none = fieldOf(3, {});
    delete none.log.values.seedingDepth;
    expect(driversOf(none).size).toBe(0);
  });
});

it("words give farm units, direction and interval, and say where nothing is shown", () => {
  const driver: Driver = {
    variable: "downForceMargin",
    unit: "N",
    driver: "speed",
    contrast: "1 m/s faster",
    effect: -199,
    low: -298.5,
    high: -99.5,
    level: 0.95,
    passes: 30,
  };
  // 199 N by m/s are 20 lbf by mph (4.4482 N, 0.44704 m/s).
  expect(driverWords(driver)).toBe(
    "1 mph faster: gauge-wheel load 20 lb less (30 lb less to 10 lb less; 95 % interval)",
  );
  expect(
    driverWords({ ...driver, driver: "heading", contrast: "driven east against west", high: 99.5 }),
  ).toBe(
    "driven east against west: no change of gauge-wheel load shown (67 lb less to 22 lb more; 95 % interval)",
  );
});
