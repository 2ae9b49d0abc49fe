import { describe, expect, it } from "vitest";
import { findPasses } from "../../src/passes/find-passes.ts";
import type { Passes } from "../../src/passes/passes.ts";
import { joinCounts, referencePopulation, type Spots } from "../../src/stand/spots.ts";
import type { Field, StandCounts } from "../../src/vocabulary/field.ts";
import { drive, upAndDown } from "../support/driven-log.ts";
import { buildField } from "../support/field-builder.ts";

const UNITS = 8;
const SPACING_M = 0.762;
const BAR_M = UNITS * SPACING_M;
const TARGET_PER_HA = 84_000;

/** Three passes to and fro of an eight-row bar, 100 m long, a record of each row unit every 2 m. */
const log = drive(upAndDown(3, BAR_M, 100), { rowUnits: UNITS, rowSpacingM: SPACING_M });

interface OneCount {
  x: number;
  y: number;
  plants?: number;
  stand?: number;
  rowLengthM?: number;
  rows?: number;
  rowUnit?: number;
}

function countsOf(list: readonly OneCount[]): StandCounts {
  const column = (read: (count: OneCount) => number | undefined) =>
    Float64Array.from(list, (count) => read(count) ?? Number.NaN);
  return {
    spotCount: list.length,
    x: column((count) => count.x),
    y: column((count) => count.y),
    standPerHa: column((count) => count.stand ?? 80_000),
    plants: column((count) => count.plants),
    rowLengthM: column((count) => count.rowLengthM),
    rowsCounted: column((count) => count.rows),
    rowUnit: Int16Array.from(list, (count) => count.rowUnit ?? 0),
    lateShare: column(() => undefined),
    leafStagesBehind: column(() => undefined),
    method: list.map(() => null),
  };
}

function fieldWith(list: readonly OneCount[], changes: { x?: number[]; y?: number[] } = {}): Field {
  const field = buildField({
    x: changes.x ?? log.x,
    y: changes.y ?? log.y,
    values: { time: log.time, rowUnit: log.rowUnit, heading: log.headingDeg },
    layout: "row-unit",
    hasClockTime: true,
    planter: { rowUnits: UNITS, rowSpacingM: SPACING_M },
    targets: { populationPerHa: TARGET_PER_HA },
  });
  field.standCounts = countsOf(list);
  return field;
}

function join(field: Field): { spots: Spots; passes: Passes } {
  const passes = findPasses(field);
  const zones = new Int32Array(field.log.recordCount).fill(-1);
  return { spots: joinCounts(field, passes, zones)!, passes };
}

/** Row units and passes beneath a spot, each once. */
function beneath(
  { spots, passes }: ReturnType<typeof join>,
  spot: number,
): { units: number[]; passes: number[] } {
  const records = [
    ...spots.beneath.records.subarray(spots.beneath.start[spot]!, spots.beneath.start[spot + 1]!),
  ];
  const sorted = (values: number[]) => [...new Set(values)].sort((a, b) => a - b);
  return {
    units: sorted(records.map((record) => passes.rowUnitOf[record]!)),
    passes: sorted(records.map((record) => passes.passOf[record]!)),
  };
}

/** Place of a row unit on the first pass, which runs north along x = 0. */
const rowX = (unit: number) => (unit - (UNITS + 1) / 2) * SPACING_M;

describe("which rows a count stands for", () => {
  it("a hand count that names its row unit takes that unit, wherever the position wandered", () => {
    // Named unit 6, but the position is nearest to unit 2.
    const joined = join(fieldWith([{ x: rowX(2), y: 50, rowLengthM: 10, rows: 1, rowUnit: 6 }]));
    expect(beneath(joined, 0)).toEqual({ units: [6], passes: [1] });
  });

  it("without a name the rows at the position are taken, as many as were counted", () => {
    const joined = join(
      fieldWith([
        { x: rowX(2), y: 50, rowLengthM: 10, rows: 1 },
        { x: (rowX(3) + rowX(6)) / 2, y: 50, rowLengthM: 10, rows: 4 },
      ]),
    );
    expect(beneath(joined, 0)).toEqual({ units: [2], passes: [1] });
    expect(beneath(joined, 1)).toEqual({ units: [3, 4, 5, 6], passes: [1] });
  });

  it("each row counted holds the same share of the records beneath", () => {
    const joined = join(fieldWith([{ x: (rowX(3) + rowX(6)) / 2, y: 50, rowLengthM: 12, rows: 4 }]));
    const { start, records } = joined.spots.beneath;
    const units = [...records.subarray(start[0]!, start[1]!)].map(
      (record) => joined.passes.rowUnitOf[record]!,
    );
    for (const unit of [3, 4, 5, 6])
      expect(units.filter((other) => other === unit).length / units.length).toBe(0.25);
  });

  it("rows of two passes side by side are both beneath a count over the seam", () => {
    const joined = join(fieldWith([{ x: BAR_M / 2, y: 50, rowLengthM: 10, rows: 4 }]));
    expect(beneath(joined, 0)).toEqual({ units: [7, 8], passes: [1, 2] });
  });

  it("row units logged at the position of the bar are told apart all the same", () => {
    const middle = log.line.map((line) => line * BAR_M);
    const y = log.y;
    const joined = join(fieldWith([{ x: rowX(2), y: 50, rowLengthM: 10, rows: 1 }], { x: middle, y }));
    expect(beneath(joined, 0)).toEqual({ units: [2], passes: [1] });
  });
});

describe("the response", () => {
  it("is the stand as a share of the target", () => {
    const { spots } = join(fieldWith([{ x: 0, y: 20, stand: 63_000 }]));
    expect(spots.response[0]).toBeCloseTo(0.75, 12);
  });

  it("the reference is the target, else the usual target rate, else the usual rate", () => {
    const field = fieldWith([]);
    expect(referencePopulation(field)).toBe(TARGET_PER_HA);
    field.targets.populationPerHa = null;
    expect(referencePopulation(field)).toBeNull();
    field.log.values.population = Float64Array.of(70_000, 0, 72_000, Number.NaN, 74_000);
    expect(referencePopulation(field)).toBe(72_000);
    field.log.values.targetPopulation = Float64Array.of(80_000, 80_000, 90_000);
    expect(referencePopulation(field)).toBe(80_000);
  });

  it("variance of counting is the binomial one at the seeds dropped there", () => {
    // 5 m of one row at 0.762 m: 3.81 m2, 32.004 seeds at the target; 24 plants up.
    const areaHa = (5 * SPACING_M) / 10_000;
    const { spots } = join(
      fieldWith([
        { x: 0, y: 20, plants: 24, stand: 24 / areaHa, rowLengthM: 5, rows: 1 },
        { x: 0, y: 40, plants: 40, stand: 40 / areaHa, rowLengthM: 5, rows: 1 },
        { x: 0, y: 60, stand: 70_000 },
      ]),
    );
    const seeds = TARGET_PER_HA * areaHa;
    const emerged = 24 / seeds;
    expect(spots.countingVariance[0]).toBeCloseTo((emerged * (1 - emerged)) / seeds, 12);
    // More plants than seeds: the share is held at 0.98, the variance stays above nothing.
    expect(spots.countingVariance[1]).toBeCloseTo((0.98 * 0.02) / seeds, 12);
    expect(spots.countingVariance[2]).toBe(0);
  });
});

describe("late plants", () => {
  it("are those counted, else those of the flag test later than three days", () => {
    const field = fieldWith([
      { x: 0, y: 40 },
      { x: 0, y: 50 },
      { x: 0, y: 60 },
    ]);
    const counts = field.standCounts!;
    const visits = [
      { isoDate: "2026-05-06", plants: 18 },
      { isoDate: "2026-05-09", plants: 6 },
      { isoDate: "2026-05-10", plants: 6 },
    ];
    counts.lateShare[0] = 0.1;
    counts.flagged = [visits, visits, null];
    const { spots } = join(field);
    // 6 of 30 came up more than 3 days after the first (Nemergut et al. 2021).
    expect([...spots.lateShare]).toEqual([0.1, 0.2, Number.NaN]);
  });
});

describe("seeds dropped at the spot", () => {
  it("follow the log beneath it and how much the rate differs a little beside it", () => {
    const field = fieldWith([
      { x: 0, y: 20, rows: 2 },
      { x: 0, y: 50, rows: 2 },
    ]);
    field.log.values.population = Float64Array.from(field.log.y, (y) => (y < 50 ? 80_000 : 90_000));
    const { spots } = join(field);
    expect(spots.seedsPerHa[0]).toBe(80_000);
    expect(spots.seedsSpread[0]).toBe(0);
    expect(spots.seedsPerHa[1]).toBeGreaterThan(80_000);
    expect(spots.seedsPerHa[1]).toBeLessThan(90_000);
    expect(spots.seedsSpread[1]).toBeGreaterThan(0.01);
    const unlogged = fieldWith([{ x: 0, y: 20 }]);
    expect([...join(unlogged).spots.seedsPerHa]).toEqual([Number.NaN]);
  });
});

describe("counts off the planted ground", () => {
  it("are left out and counted; the others keep their number in the file", () => {
    const { spots } = join(
      fieldWith([
        { x: 500, y: 500 },
        { x: 0, y: 50 },
      ]),
    );
    expect(spots).toMatchObject({ count: 1, offGround: 1 });
    expect([...spots.source]).toEqual([1]);
    expect(spots.pass[0]).toBe(1);
    expect(spots.alongM[0]).toBeGreaterThan(45);
    expect(spots.alongM[0]).toBeLessThan(55);
  });

  it("without counts, or without a population to compare with, there is nothing to join", () => {
    const field = fieldWith([{ x: 0, y: 50 }]);
    field.targets.populationPerHa = null;
    const passes = findPasses(field);
    const zones = new Int32Array(field.log.recordCount).fill(-1);
    expect(joinCounts(field, passes, zones)).toBeNull();
    field.targets.populationPerHa = TARGET_PER_HA;
    field.standCounts = null;
    expect(joinCounts(field, passes, zones)).toBeNull();
  });
});
