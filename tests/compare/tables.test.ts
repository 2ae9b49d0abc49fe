import { describe, expect, it } from "vitest";
import { joinSoilZones } from "../../src/compare/soil-join.ts";
import type { ComparisonRow } from "../../src/compare/tables/comparison.ts";
import { comparisonNotes } from "../../src/compare/tables/comparison-notes.ts";
import { compareAll } from "../../src/compare/tables/tables.ts";
import { mean, medianAbsoluteDeviation, standardDeviation } from "../../src/numerics/descriptive.ts";
import { quantileSorted } from "../../src/numerics/quantile.ts";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import type { Field } from "../../src/vocabulary/field.ts";
import { alikeNeighbours } from "../support/alike-neighbours.ts";
import { type DrivenLog, drive, upAndDown } from "../support/driven-log.ts";
import { buildField } from "../support/field-builder.ts";
import { expectRelative } from "../support/relative.ts";

const UNITS = 6;
const SPACING = 0.762;
const WIDTH = UNITS * SPACING;
const PLANTER = { rowUnits: UNITS, rowSpacingM: SPACING };

function tables(field: Field): ComparisonRow[] {
  return compareAll(field, findPasses(field), joinSoilZones(field));
}

function rowUnitField(
  log: DrivenLog,
  depth: number[],
  parts: Partial<Parameters<typeof buildField>[0]> = {},
): Field {
  return buildField({
    ...log,
    layout: "row-unit",
    hasClockTime: true,
    planter: PLANTER,
    ...parts,
    values: { rowUnit: log.rowUnit, time: log.time, seedingDepth: depth, ...parts.values },
  });
}

describe("figures of the rows", () => {
  const log = drive(upAndDown(4, WIDTH, 100), PLANTER);
  const random = seededRandom(3);
  const depth = log.x.map((_, record) => (record % 17 === 0 ? Number.NaN : 50 + 5 * normal(random)));
  const zones = [
    { name: "south", rings: [[[-50, -1], [90, -1], [90, 50], [-50, 50], [-50, -1]]] as [number, number][][] }, // biome-ignore format: one line
    { name: "north", rings: [[[-50, 50], [90, 50], [90, 80], [-50, 80], [-50, 50]]] as [number, number][][] }, // biome-ignore format: one line
  ];
  const field = rowUnitField(log, depth, { soilZones: zones, targets: { seedingDepthMm: 50 } });
  const rows = tables(field);

  it("pass by zone: count, mean, SD, quantiles, share outside 6 mm, ground", () => {
    const members = depth.filter(
      (value, record) => log.line[record] === 2 && log.y[record]! < 50 && !Number.isNaN(value),
    );
    const row = rows.find((candidate) => candidate.pass === 3 && candidate.soilZone === "south")!;
    const sorted = members.toSorted((a, b) => a - b);
    expect([row.variable, row.unit, row.rowUnit, row.records]).toEqual([
      "seedingDepth",
      "mm",
      null,
      members.length,
    ]);
    expectRelative(row.mean, mean(members), 1e-12);
    expectRelative(row.sd!, standardDeviation(members), 1e-12);
    expectRelative(row.p10, quantileSorted(sorted, 0.1), 1e-12);
    expectRelative(row.p50, quantileSorted(sorted, 0.5), 1e-12);
    expectRelative(row.p90, quantileSorted(sorted, 0.9), 1e-12);
    expect(row.shareOutside).toBe(
      members.filter((value) => Math.abs(value - 50) > 6).length / members.length,
    );
    expectRelative(row.areaHa, (members.length * 2 * SPACING) / 10_000, 1e-9);
    expectRelative(row.robustSd!, medianAbsoluteDeviation(members), 1e-12);
    const share = (chosen: (value: number) => boolean) => members.filter(chosen).length / members.length;
    expect(row.shareBelow).toBe(share((value) => value < 44));
    expect(row.shareAbove).toBe(share((value) => value > 56));
    expectRelative(
      row.withinTolerance!,
      share((value) => Math.abs(value - 50) <= 6),
      1e-12,
    );
    expect(row.noLoadShare).toBeNull();
    expect(row.headland).toBe(false);
  });

  it("spread along the row is that of steps within a row unit, and leaves standing differences out", () => {
    const steep = rowUnitField(
      log,
      log.x.map((_, record) => 10 * log.rowUnit[record]! + (log.moment[record]! % 2)),
    );
    const row = tables(steep).find((candidate) => candidate.pass === 1 && candidate.soilZone === null)!;
    // Steps of 1 mm between neighbours: sqrt(1/2); the units differ by 10 mm each.
    expectRelative(row.spreadAlongRow!, Math.SQRT1_2, 1e-12);
    expect(row.sd!).toBeGreaterThan(15);
    const set = rowUnitField(log, depth);
    set.log.depthSource = "set";
    expect(tables(set).every((candidate) => candidate.spreadAlongRow === null)).toBe(true);
  });

  it("share of records without load, rows of one record, and rows without a target", () => {
    const margin = log.x.map((_, record) => (record % 4 === 0 ? 0 : 400));
    const loaded = rowUnitField(log, depth, { values: { downForceMargin: margin } });
    const loadRows = tables(loaded).filter(({ variable }) => variable === "downForceMargin");
    expect(loadRows.length).toBeGreaterThan(0);
    const all = loadRows.find(({ pass }) => pass === 1)!;
    expectRelative(all.noLoadShare!, 0.25, 0.02);
    expect([all.shareBelow, all.shareAbove, all.withinTolerance, all.spreadAlongRow]).toEqual([
      null,
      null,
      null,
      null,
    ]);
  });

  it("every kind of row is there once, rows over all zones hold what lies in no zone, too", () => {
    const kinds = rows.map((row) => `${row.pass ?? "-"}/${row.soilZone ?? "-"}/${row.rowUnit ?? "-"}`);
    expect(new Set(kinds).size).toBe(rows.length);
    // 2 zones + 4 passes x (2 zones + all) + 6 units x (2 zones + all)
    expect(rows).toHaveLength(2 + 12 + 18);
    const sum = (chosen: ComparisonRow[]) => chosen.reduce((records, row) => records + row.records, 0);
    const known = depth.filter((value) => !Number.isNaN(value)).length;
    expect(sum(rows.filter((row) => row.pass !== null && row.soilZone === null))).toBe(known);
    expect(sum(rows.filter((row) => row.rowUnit !== null && row.soilZone === null))).toBe(known);
    const outside = depth.filter((value, record) => !Number.isNaN(value) && log.y[record]! > 80).length;
    expect(sum(rows.filter((row) => row.pass === null && row.rowUnit === null))).toBe(known - outside);
  });

  it("what is left out is counted", () => {
    const passes = findPasses(field);
    const notes = comparisonNotes(field, passes, joinSoilZones(field));
    const missing = depth.filter((value) => Number.isNaN(value)).length;
    expect(notes.find((note) => note.field === "seedingDepth")).toMatchObject({
      count: missing,
      effect: "left out",
      firstRecord: 1,
    });
    const beyond = log.y.filter((y) => y > 80).length;
    expect(notes.find((note) => note.reason.includes("soil zones"))!.count).toBe(beyond);
    expect(notes).toHaveLength(2);
  });

  it("gaps between zones and ground that two zones claim are counted, the rest is analysed", () => {
    const strip = (from: number, to: number): [number, number][][] => [
      [[-50, from], [90, from], [90, to], [-50, to], [-50, from]], // biome-ignore format: one line
    ];
    const patchy = rowUnitField(log, depth, {
      soilZones: [
        { name: "first", rings: strip(-1, 40) },
        { name: "second", rings: strip(30, 60) },
        { name: "second", rings: strip(55, 62) },
        { name: "third", rings: strip(66, 101) },
      ],
    });
    const inSeveral = new Uint8Array(patchy.log.recordCount);
    const zones = joinSoilZones(patchy, inSeveral);
    const notes = comparisonNotes(patchy, findPasses(patchy), zones, inSeveral);
    const countOf = (word: string) => notes.find(({ reason }) => reason.includes(word))?.count ?? 0;
    expect(countOf("gap between")).toBe(log.y.filter((y) => y > 62 && y < 66).length);
    // Two parts of one zone that overlap are no dispute.
    expect(countOf("overlap")).toBe(log.y.filter((y) => y > 30 && y < 40).length);
    expect(countOf("outside all")).toBe(0);
    expect(patchy.soilZones!.names[zones[log.y.findIndex((y) => y > 30 && y < 40)]!]).toBe("first");
  });

  it("lifted records are in no row", () => {
    const working = log.x.map((_, record) => (log.moment[record]! % 10 === 0 ? 0 : 1));
    const lifted = rowUnitField(log, depth, { values: { working } });
    const row = tables(lifted).find((candidate) => candidate.pass === 1)!;
    const members = depth.filter(
      (value, record) => log.line[record] === 0 && working[record] === 1 && !Number.isNaN(value),
    );
    expect(row.records).toBe(members.length);
    expectRelative(row.mean, mean(members), 1e-12);
  });
});

describe("outside the target", () => {
  const x = [0, 0, 0, 0];
  const y = [0, 2, 4, 6];
  const share = (variable: ComparisonRow["variable"], parts: Parameters<typeof buildField>[0]) =>
    tables(buildField({ planter: { rowUnits: 1, rowSpacingM: 0.762 }, ...parts })).find(
      (row) => row.variable === variable,
    )!.shareOutside;

  it("depth beyond 6 mm, with the record's own target before that of the manifest", () => {
    const values = { seedingDepth: [50, 56, 57, 43], targetDepth: [50, 50, Number.NaN, 40] };
    expect(share("seedingDepth", { x, y, values, targets: { seedingDepthMm: 50 } })).toBe(0.25);
    expect(share("seedingDepth", { x, y, values: { seedingDepth: [50, 56, 57, 43] } })).toBeNull();
  });

  it("margin outside its band, population beyond 5 %, speed more than 10 % above", () => {
    expect(share("downForceMargin", { x, y, values: { downForceMargin: [99, 100, 300, 301] }, targets: { downForceMarginN: [100, 300] } })).toBe(0.5); // biome-ignore format: one line
    expect(share("population", { x, y, values: { population: [80000, 84001, 75999, 83999] }, targets: { populationPerHa: 80000 } })).toBe(0.5); // biome-ignore format: one line
    expect(share("speed", { x, y, values: { speed: [1, 2, 2.19, 2.21] }, targets: { speedMetresPerSecond: 2 } })).toBe(0.25); // biome-ignore format: one line
  });

  it("singulation has no target", () => {
    expect(share("singulation", { x, y, values: { singulation: [0.9, 0.99, 0.98, 1] } })).toBeNull();
  });
});

describe("intervals hold what they promise", () => {
  /** Share of all intervals of the chosen rows that hold the truth, over simulated fields. */
  function coverage(
    fields: number,
    chosen: (row: ComparisonRow) => boolean,
    make: (index: number) => Field,
  ): number {
    let held = 0;
    let all = 0;
    for (let index = 0; index < fields; index++) {
      for (const row of tables(make(index)).filter(chosen)) {
        all++;
        if (row.low! <= 0 && row.high! >= 0) held++;
      }
    }
    return held / all;
  }

  it.each([0, 0.5, 0.8])(
    "pass against the others, neighbours alike by %f: nine in ten or more",
    (correlation) => {
      const random = seededRandom(100 + correlation);
      const log = drive(upAndDown(8, WIDTH, 300), { ...PLANTER, bar: true });
      const share = coverage(
        60,
        (row) => row.pass !== null,
        () =>
          buildField({
            ...log,
            planter: PLANTER,
            values: { seedingDepth: Array.from({ length: 8 }, () => Array.from(alikeNeighbours(150, correlation, random))).flat() }, // biome-ignore format: one line
          }),
      );
      expect(share).toBeGreaterThan(0.9);
      expect(share).toBeLessThan(0.99);
    },
  );

  it("row unit against the others, drifting ground and units alike along the pass: 90 to 99 %", () => {
    const random = seededRandom(77);
    const log = drive(upAndDown(8, WIDTH, 160), PLANTER);
    const share = coverage(
      40,
      (row) => row.rowUnit !== null,
      () => {
        const ground = alikeNeighbours(8 * 80, 0.9, random);
        const own = Array.from({ length: UNITS }, () => alikeNeighbours(8 * 80, 0.6, random));
        const depth = log.moment.map((moment, record) => 50 + 3 * ground[moment]! + 4 * own[log.rowUnit[record]! - 1]![moment]!); // biome-ignore format: one line
        return rowUnitField(log, depth);
      },
    );
    expect(share).toBeGreaterThan(0.9);
    expect(share).toBeLessThan(0.99);
  });

  it("a row unit that is 4 mm shallow and a pass that is 6 mm deep are found", () => {
    const random = seededRandom(5);
    const log = drive(upAndDown(8, WIDTH, 200), PLANTER);
    const ground = alikeNeighbours(8 * 100, 0.9, random);
    const depth = log.moment.map(
      (moment, record) =>
        50 +
        2 * ground[moment]! +
        3 * normal(random) -
        (log.rowUnit[record] === 4 ? 4 : 0) +
        (log.line[record] === 5 ? 6 : 0),
    );
    const rows = tables(rowUnitField(log, depth));
    const unit = rows.find((row) => row.rowUnit === 4)!;
    expect(unit.difference!).toBeCloseTo(-4, 0);
    expect(unit.high!).toBeLessThan(0);
    const pass = rows.find((row) => row.pass === 6)!;
    expect(pass.difference!).toBeGreaterThan(4.5);
    expect(pass.low!).toBeGreaterThan(0);
  });
});

it("one pass alone has no difference; one unit in one pass no interval", () => {
  const log = drive(upAndDown(1, WIDTH, 60), PLANTER);
  const rows = tables(
    rowUnitField(
      log,
      log.x.map((_, record) => 50 + (record % 7)),
    ),
  );
  expect(rows.find((row) => row.pass === 1)).toMatchObject({ difference: null, low: null, high: null });
  const unit = rows.find((row) => row.rowUnit === 2)!;
  expect(unit.difference).not.toBeNull();
  expect([unit.low, unit.high]).toEqual([null, null]);
});
