import { describe, expect, it } from "vitest";
import { type MeasureInput, measure } from "../../src/causes/measure.ts";
import { THRESHOLDS } from "../../src/compare/thresholds.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import { joinCounts } from "../../src/stand/spots.ts";
import { drive, upAndDown } from "../support/driven-log.ts";
import { buildField } from "../support/field-builder.ts";
import { digsOf } from "./support/parts.ts";

const log = drive(upAndDown(2, 4 * 0.762, 60), { rowUnits: 4, rowSpacingM: 0.762 });
/** Any numbers will do; every eleventh reading is missing. */
const wave = (level: number, size: number) =>
  log.x.map((_, i) => (i % 11 === 5 ? Number.NaN : level + size * Math.sin(i * 1.7)));

const columns = {
  seedingDepth: wave(50, 8),
  downForceMargin: wave(130, 120),
  speed: wave(2.4, 0.3),
  misses: wave(0.03, 0.02),
  singulation: wave(0.96, 0.03),
  multiples: wave(0.01, 0.005),
  population: wave(84_000, 900),
};

const field = buildField({
  x: log.x,
  y: log.y,
  values: { time: log.time, rowUnit: log.rowUnit, heading: log.headingDeg, ...columns },
  layout: "row-unit",
  hasClockTime: true,
  planter: { rowUnits: 4, rowSpacingM: 0.762 },
  targets: {
    seedingDepthMm: 50.8,
    populationPerHa: 80_000,
    downForceMarginN: [260, 700],
    speedMetresPerSecond: 2.3,
  },
});
const passes = findPasses(field);
const inside = Uint8Array.from(log.y, (y) => (y < 20 ? 1 : 0));
const ordinary = Uint8Array.from(log.y, (y) => (y > 30 ? 1 : 0));
const nothing = { spots: null, insideSpots: [], ordinarySpots: [], insideDigs: [], ordinaryDigs: [] };
const input: MeasureInput = { field, passes, inside, ordinary, ...nothing };

const present = (values: readonly number[], mask: Uint8Array) =>
  values.filter((value, i) => mask[i] === 1 && !Number.isNaN(value));
const average = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;

describe("the figures of a place", () => {
  it.each([
    ["seedingDepthMm", "seedingDepth", 50.8],
    ["downForceMarginN", "downForceMargin", [260, 700]],
    ["speedMetresPerSecond", "speed", 2.3],
    ["missesShare", "misses", null],
    ["singulationShare", "singulation", null],
    ["multiplesShare", "multiples", null],
    ["populationPerHa", "population", 80_000],
  ] as const)("%s is the plain mean inside and elsewhere, with its target", (key, variable, target) => {
    const figure = measure(input)[key]!;
    expect(figure.inside).toBeCloseTo(average(present(columns[variable], inside)), 9);
    expect(figure.elsewhere).toBeCloseTo(average(present(columns[variable], ordinary)), 9);
    expect(figure.target).toEqual(target);
  });

  it("the low tenth of the load is quantile type 7; readings without load are counted", () => {
    const figures = measure(input);
    for (const [side, mask] of [
      ["inside", inside],
      ["elsewhere", ordinary],
    ] as const) {
      const values = present(columns.downForceMargin, mask).sort((a, b) => a - b);
      const place = 0.1 * (values.length - 1);
      const [low, high] = [values[Math.floor(place)]!, values[Math.ceil(place)]!];
      expect(figures.downForceMarginP10N![side]).toBeCloseTo(low + (place % 1) * (high - low), 9);
      const without = values.filter((value) => value <= THRESHOLDS.noLoad.value).length / values.length;
      expect(without).toBeGreaterThan(0.05);
      expect(figures.noLoadShare![side]).toBeCloseTo(without, 12);
    }
  });

  it("the spread of depth is that of steps along each row", () => {
    const expected = (mask: Uint8Array): number => {
      let sum = 0;
      let steps = 0;
      for (const line of [0, 1]) {
        for (let unit = 1; unit <= 4; unit++) {
          const own = [...log.x.keys()].filter(
            (i) => log.line[i] === line && log.rowUnit[i] === unit && !Number.isNaN(columns.seedingDepth[i]!),
          );
          for (let k = 1; k < own.length; k++) {
            if (!mask[own[k]!]) continue;
            sum += (columns.seedingDepth[own[k]!]! - columns.seedingDepth[own[k - 1]!]!) ** 2 / 2;
            steps++;
          }
        }
      }
      return Math.sqrt(sum / steps);
    };
    expect(measure(input).depthSdMm!.inside).toBeCloseTo(expected(inside), 9);
  });

  it("what the place has no value of is left away; what only elsewhere lacks is null", () => {
    const empty = new Uint8Array(inside.length);
    expect(measure({ ...input, inside: empty })).toEqual({});
    expect(measure({ ...input, ordinary: empty }).speedMetresPerSecond!.elsewhere).toBeNull();
    expect(measure(input).standPerHa).toBeUndefined();
    expect(measure(input).dugDepthMm).toBeUndefined();
  });

  it("stand, late plants and dug depth are means over the spots and digs named", () => {
    const dug = digsOf([{ depthMm: 30 }, { depthMm: 40 }, {}, { depthMm: 52 }]);
    const counted = {
      ...field,
      digs: dug,
      standCounts: {
        spotCount: 3,
        x: Float64Array.of(0, 0, 0),
        y: Float64Array.of(10, 15, 45),
        standPerHa: Float64Array.of(60_000, 64_000, 78_000),
        plants: new Float64Array(3).fill(Number.NaN),
        rowLengthM: new Float64Array(3).fill(Number.NaN),
        rowsCounted: new Float64Array(3).fill(Number.NaN),
        rowUnit: new Int16Array(3),
        lateShare: Float64Array.of(0.2, Number.NaN, 0.02),
        leafStagesBehind: new Float64Array(3).fill(Number.NaN),
        method: [null, null, null],
      },
    };
    const spots = joinCounts(counted, passes, new Int32Array(log.x.length).fill(-1))!;
    const figures = measure({
      ...input,
      field: counted,
      spots,
      insideSpots: [0, 1],
      ordinarySpots: [2],
      insideDigs: [0, 1, 2],
      ordinaryDigs: [3],
    });
    expect(figures.standPerHa!.inside).toBeCloseTo(62_000, 6);
    expect(figures.standPerHa!.elsewhere).toBeCloseTo(78_000, 6);
    expect(figures.lateShare).toEqual({ inside: 0.2, elsewhere: 0.02, target: null });
    expect(figures.dugDepthMm).toEqual({ inside: 35, elsewhere: 52, target: 50.8 });
  });
});
