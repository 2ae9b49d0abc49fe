/** Traps in small logs made here: what a column is named is not always what it holds. */
import { describe, expect, it } from "vitest";
import { assembleField } from "../../src/field/load.ts";
import { parseManifest } from "../../src/manifest/manifest.ts";
import { type ColumnValues, layer, othersThanDepth } from "./layers.ts";

const RECORDS = 200;
const each = (value: (i: number) => number) => Array.from({ length: RECORDS }, (_, i) => value(i));
/** Steps of 2.5e-5 degrees of latitude are 2.777 m (111.07 km a degree at 42 N), one each second: 6.21 mi/h, 10.0 km/h. */
const TIME = each((i) => 1_777_000_000 + i);
const DEPTH = each((i) => 2 + 0.1 * Math.sin(i));
/** Targets that vary by plots of 40 records, thousands of seeds an acre; what was dropped is 2 % off at most. */
const TARGET_K = each((i) => 30 + 3 * (Math.floor(i / 40) % 3));
const DROPPED_K = each((i) => TARGET_K[i]! * (0.99 + 0.01 * Math.sin(i * 1.3)));

function load(columns: Record<string, ColumnValues>, manifest: object = {}) {
  const log = { DEPTH_IN: DEPTH, ...columns };
  return assembleField(parseManifest({ plantingLog: { file: "log.geojson" }, ...manifest }), {
    plantingLog: layer(log),
  });
}

const PER_ACRE = 2.4710538146716536;
const reasons = (field: ReturnType<typeof load>) => field.inputs[0]!.notes.map(({ reason }) => reason);

describe("populations in percent of the target", () => {
  const percent = each((i) => (100 * DROPPED_K[i]!) / TARGET_K[i]!);

  it("by a target that varies", () => {
    const { log } = load({ Population: percent, Target_Rate_k: TARGET_K });
    expect(log.values.population![50]! / (DROPPED_K[50]! * 1000 * PER_ACRE)).toBeCloseTo(1, 12);
  });

  it("by a target that stands still: whichever reading lies nearer", () => {
    const constant = each(() => 35);
    const { log } = load({ Population: percent, Target_Rate_k: constant });
    expect(log.values.population![50]! / ((percent[50]! / 100) * 35_000 * PER_ACRE)).toBeCloseTo(1, 12);
    // 98 against a target of 97,000 seeds/ha may be either.
    expect(() => load({ Population: percent, Target_seeds_ha: each(() => 97_000) })).toThrow(
      /may be percent of the target, too[\s\S]*"unit":"1000 seeds\/ha"[\s\S]*"unit":"%"/,
    );
  });

  it("by the manifest's target", () => {
    const { log } = load({ Population: percent }, { targets: { population: "35000 seeds/ac" } });
    expect(log.values.population![50]! / ((percent[50]! / 100) * 35_000 * PER_ACRE)).toBeCloseTo(1, 12);
  });

  it("by the name, and left out where nothing gives the target", () => {
    const { log } = load({ Population_pct: percent, Target_Rate_k: TARGET_K });
    expect(log.values.population![50]! / (DROPPED_K[50]! * 1000 * PER_ACRE)).toBeCloseTo(1, 12);
    const without = load({ Population_pct: percent });
    expect(without.log.values.population).toBeUndefined();
    expect(reasons(without).join()).toContain("nothing gives the target");
  });

  it("named seeds an acre, the name is not believed", () => {
    expect(() => load({ Population_ac: percent })).toThrow(/"unit":"%"/);
  });

  it("thousands of seeds a hectare beside their target stay what they are", () => {
    const perHa = each((i) => DROPPED_K[i]! * PER_ACRE * 1.2);
    const target = each((i) => TARGET_K[i]! * PER_ACRE * 1.2);
    const { inputs, log } = load({ Population: perHa, Target_Population_k_ha: target });
    expect(inputs[0]!.recognised.find(({ variable }) => variable === "population")!.unit).toBe(
      "1000 seeds/ha",
    );
    expect(log.values.population![50]! / (perHa[50]! * 1000)).toBeCloseTo(1, 12);
  });
});

describe("speeds", () => {
  it("by the positions and their times, where there is no distance", () => {
    const kmh = load({ Time: TIME, Speed: each((i) => 10 + 0.1 * Math.sin(i)) });
    expect(kmh.log.values.speed![0]).toBeCloseTo(10 / 3.6, 9);
    const mph = load({ Time: TIME, Speed: each((i) => 6.2 + 0.1 * Math.sin(i)) });
    expect(mph.log.values.speed![0]).toBeCloseTo(6.2 * 0.44704, 9);
  });

  it("named mph but in km/h are asked about, named rightly they are not", () => {
    expect(() => load({ Time: TIME, Speed_mph: each(() => 10) })).toThrow(/in km\/h, not in mi\/h/);
    expect(load({ Time: TIME, Speed_mph: each(() => 6.2) }).log.values.speed![0]).toBeCloseTo(2.7716, 3);
    // A third off is another unit of nothing: slow wheels, no trap.
    expect(load({ Time: TIME, Speed_mph: each(() => 4.1) }).log.values.speed![0]).toBeCloseTo(1.8329, 3);
  });
});

describe("headings", () => {
  it("in radians, past a full turn, and from a dead compass", () => {
    const half = RECORDS / 2;
    const corner = {
      x: Array.from({ length: RECORDS }, (_, i) => -93.6 + Math.min(i, half) * 3e-5),
      y: Array.from({ length: RECORDS }, (_, i) => 42 + Math.max(0, i - half) * 2.5e-5),
    };
    const radians = assembleField(parseManifest({ plantingLog: { file: "log.geojson" } }), {
      plantingLog: layer({ DEPTH_IN: DEPTH, Heading: each((i) => (i < half ? Math.PI / 2 : 0)) }, corner),
    });
    expect(radians.inputs[0]!.recognised.find(({ variable }) => variable === "heading")!.unit).toBe("rad");
    expect(radians.log.values.heading![7]).toBeCloseTo(90, 9);
    const past = load({ Heading_deg: each((i) => 360 * (i % 5) + 1) });
    expect([...past.log.values.heading!].every((value) => Math.abs(value - 1) < 1e-9)).toBe(true);
    expect(othersThanDepth(past.inputs[0]!)).toMatchObject([{ effect: "converted", count: 160 }]);
    const east = {
      x: Array.from({ length: RECORDS }, (_, i) => -93.6 + i * 3e-5),
      y: Array.from({ length: RECORDS }, () => 42),
    };
    const dead = assembleField(parseManifest({ plantingLog: { file: "log.geojson" } }), {
      plantingLog: layer({ DEPTH_IN: DEPTH, Heading: each(() => 0) }, east),
    });
    expect(dead.log.values.heading).toBeUndefined();
  });
});

describe("blanks and dead sensors", () => {
  it("a mark between zeros and values is no value where nothing comes near it", () => {
    const seeds = each((i) => (i % 10 === 3 ? 6553.5 : i % 10 === 4 ? 0 : 34_000 + i));
    const { log } = load({ Population_ac: seeds });
    expect(log.values.population!.filter(Number.isNaN)).toHaveLength(20);
    expect(log.values.population!.filter((value) => value === 0)).toHaveLength(20);
  });

  it("a working flag that is off throughout says nothing", () => {
    const { log, inputs } = load({ Working: each(() => 0) });
    expect(log.values.working).toBeUndefined();
    expect(othersThanDepth(inputs[0]!)).toMatchObject([{ field: "Working", effect: "left out" }]);
  });
});

describe("clocks", () => {
  it("a count of seconds that starts anew is taken piece after piece", () => {
    const { log, inputs } = load({ Time: each((i) => i % 80) });
    const { time } = log.values;
    for (let record = 1; record < RECORDS; record++)
      expect(time![record]!).toBeGreaterThan(time![record - 1]!);
    expect(inputs[0]!.notes.find(({ reason }) => reason.includes("anew"))).toMatchObject({ count: 2 });
    expect([...log.fileRecord.slice(0, 3)]).toEqual([1, 2, 3]);
  });
});
