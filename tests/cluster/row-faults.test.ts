import { describe, expect, it } from "vitest";
import { findRowFaults } from "../../src/rows/row-faults.ts";
import { givenRowSets } from "../../src/rows/row-set-faults.ts";
import type { PlanterSetup } from "../../src/vocabulary/field.ts";
import { type BarFault, simulateBar } from "./support/bar-simulator.ts";

const SHAPE = { units: 24, passes: 20, moments: 30 };
const TRACKS = [7, 8, 17, 18];
const WINGS: [number, number][] = [
  [1, 8],
  [9, 16],
  [17, 24],
];

function faultsOf(
  seed: number,
  planter: Partial<PlanterSetup>,
  put: readonly BarFault[],
  shape = SHAPE,
): ReturnType<typeof findRowFaults> {
  const { field, passes } = simulateBar(shape, seed, put);
  field.planter = { ...field.planter, ...planter };
  return findRowFaults(field, passes);
}

function shifted(
  rows: readonly number[],
  variable: BarFault["variable"],
  shift: number,
  to = SHAPE.passes,
): BarFault[] {
  return rows.map((rowUnit) => ({ rowUnit, variable, from: 1, to, shift }));
}

const range = (from: number, to: number): number[] =>
  Array.from({ length: to - from + 1 }, (_, k) => from + k);

describe("rows behind tires", () => {
  it("named by the planter sheet are one fault and no bad units", () => {
    const { sets, units } = faultsOf(1, { wheelTrackRows: TRACKS }, shifted(TRACKS, "seedingDepth", -6));
    expect(sets).toHaveLength(1);
    expect(sets[0]).toMatchObject({
      variable: "seedingDepth",
      set: { kind: "wheel-track", rows: TRACKS, given: true },
    });
    // Natural spread of four units (SD 1 mm each) and the noise of the mean.
    expect(Math.abs(sets[0]!.shift + 6)).toBeLessThan(1.6);
    expect(sets[0]!.passes).toHaveLength(SHAPE.passes);
    expect(units).toEqual([]);
  });

  it("not named are told by their symmetric pattern", () => {
    const { sets, units } = faultsOf(2, {}, shifted(TRACKS, "downForceMargin", -220));
    expect(sets.map(({ set }) => set)).toEqual([{ kind: "wheel-track", rows: TRACKS, given: false }]);
    expect(units).toEqual([]);
  });

  it("do not hide a unit that is off by much more, nor one elsewhere", () => {
    const put = [
      ...shifted(TRACKS, "seedingDepth", -5.5),
      ...shifted([17], "seedingDepth", -9),
      ...shifted([3], "seedingDepth", -8),
    ];
    const { sets, units } = faultsOf(3, { wheelTrackRows: TRACKS }, put);
    expect(sets.map(({ set }) => set.rows)).toEqual([TRACKS]);
    expect(units.map(({ rowUnit }) => rowUnit)).toEqual([3, 17]);
  });

  it("are no explanation where only one of them departs, nor for skips", () => {
    const one = faultsOf(4, { wheelTrackRows: TRACKS }, shifted([8], "seedingDepth", -8));
    expect(one.sets).toEqual([]);
    expect(one.units.map(({ rowUnit }) => rowUnit)).toEqual([8]);
    const skips = faultsOf(5, { wheelTrackRows: TRACKS }, shifted(TRACKS, "misses", 0.03));
    expect(skips.sets).toEqual([]);
    expect(new Set(skips.units.map(({ rowUnit }) => rowUnit))).toEqual(new Set(TRACKS));
  });

  it("two units that lie at random are two units", () => {
    const { sets, units } = faultsOf(6, {}, shifted([4, 11], "seedingDepth", -8));
    expect(sets).toEqual([]);
    expect(units.map(({ rowUnit }) => rowUnit)).toEqual([4, 11]);
  });
});

describe("wings and sections", () => {
  it("a wing that departs as a whole is one fault of its variable, over its run of passes", () => {
    const { sets, units } = faultsOf(7, { wings: WINGS }, shifted(range(17, 24), "downForceMargin", -170, 9));
    expect(sets).toHaveLength(1);
    expect(sets[0]).toMatchObject({
      variable: "downForceMargin",
      set: { kind: "wing", rows: range(17, 24) },
    });
    expect(sets[0]!.passes).toEqual(range(1, 9));
    expect(units).toEqual([]);
  });

  it("the centre against both wings is one fault", () => {
    const { sets, units } = faultsOf(8, { wings: WINGS }, [
      ...shifted(range(1, 8), "downForceMargin", -170),
      ...shifted(range(17, 24), "downForceMargin", -170),
    ]);
    expect(sets.map(({ set, shift }) => [set.rows[0], Math.sign(shift)])).toEqual([[9, 1]]);
    expect(units).toEqual([]);
  });

  it("a block side by side is a section where no sheet names one", () => {
    const { sets, units } = faultsOf(9, {}, shifted(range(13, 18), "population", -6000));
    expect(sets.map(({ set }) => set)).toEqual([{ kind: "wing", rows: range(13, 18), given: false }]);
    expect(units).toEqual([]);
  });
});

describe("healthy bars", () => {
  it("raise no set in at least 98 of 100, units and sets together alarm in at most 5", () => {
    let setAlarms = 0;
    let alarms = 0;
    for (let seed = 0; seed < 100; seed++) {
      const { sets, units } = faultsOf(1000 + seed, { wheelTrackRows: TRACKS, wings: WINGS }, [], {
        ...SHAPE,
        moments: 10,
      });
      if (sets.length > 0) setAlarms++;
      if (sets.length + units.length > 0) alarms++;
    }
    expect(setAlarms).toBeLessThanOrEqual(2);
    expect(alarms).toBeLessThanOrEqual(5);
  });
});

it("rows outside the bar and sets that leave too few others are passed over", () => {
  const planter: PlanterSetup = {
    rowUnits: 8,
    rowSpacingM: null,
    rowUnitWeightN: null,
    wheelTrackRows: [3, 6, 6, 19],
    depthSensedRows: null,
    loadSensedRows: null,
    wings: [
      [1, 6],
      [5, 12],
    ],
  };
  expect(givenRowSets(planter, 8)).toEqual([
    { kind: "wheel-track", rows: [3, 6], given: true },
    { kind: "wing", rows: [5, 6, 7, 8], given: true },
  ]);
});
