import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  FACTORS,
  fastSpeed,
  type PredictedLoss,
  predictLoss,
  recordDoses,
  subtractUsual,
} from "../../src/cells/predicted-loss.ts";
import { THRESHOLDS as T } from "../../src/compare/thresholds.ts";
import type { Passes } from "../../src/passes/passes.ts";
import { groupBy } from "../../src/passes/record-groups.ts";
import type { Field } from "../../src/vocabulary/field.ts";
import type { LogVariable } from "../../src/vocabulary/variables.ts";
import { passesOf } from "../causes/support/parts.ts";
import { buildField } from "../support/field-builder.ts";

type Columns = Partial<Record<LogVariable, number[]>>;

function fieldOf(values: Columns): { field: Field; passes: Passes; count: number } {
  const count = Math.max(...Object.values(values).map((column) => column.length));
  const x = Array.from({ length: count }, () => 0);
  return {
    field: buildField({ x, y: x, values }),
    passes: passesOf(x.map(() => ({ pass: 1, distanceM: 6 }))),
    count,
  };
}

interface Options {
  sdMm?: number;
  excluded?: number[];
  change?: (field: Field) => void;
  zone?: number;
}

/** Predicted loss of one group of records. */
function lossOf(values: Columns, { sdMm, excluded = [], change, zone = -1 }: Options = {}) {
  const { field, passes, count } = fieldOf(values);
  change?.(field);
  const doses = recordDoses(field, passes, new Int32Array(count).fill(zone));
  const mask = new Uint8Array(count);
  for (const record of excluded) mask[record] = 1;
  const loss = predictLoss(
    groupBy(new Int32Array(count), 1),
    doses,
    sdMm === undefined ? null : Float64Array.of(sdMm),
    mask,
    fastSpeed(field, doses.speed ?? new Float64Array(0)),
  );
  return Object.fromEntries(FACTORS.map((factor) => [factor, loss[factor][0]!])) as Record<
    (typeof FACTORS)[number],
    number
  >;
}

const sum = (loss: Record<string, number>) => Object.values(loss).reduce((a, b) => a + b, 0);
const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;

const SLOW = 2.2;
const FAST = T.fastKnee.value * 1.3;
/** Shallow in part, light in part, skips: everything a fast bar shows. */
const rough = {
  seedingDepth: [30, 52, 34, 50],
  downForceMargin: [0, 100, 30, 700],
  misses: [0.1, 0.02, 0.05, 0.03],
};
const speeds = (value: number) => [value, value, value, value];

describe("curves read the one table", () => {
  it("shallow, light, heavy and skips, reading by reading", () => {
    const knee = T.shallowKnee.value;
    const depth = [knee - 10, knee + 30];
    expect(lossOf({ seedingDepth: depth })["too-shallow"]).toBeCloseTo((T.shallowSlope.value * 10) / 2, 12);
    const light = lossOf({ downForceMargin: [0, 60] });
    expect(light["lost-ground-contact"]).toBeCloseTo(
      mean([0, 60].map((value) => T.lightSlope.value * Math.max(0, T.lightKnee.value - value))),
      12,
    );
    const dry = T.heavyKneeDry.value;
    expect(lossOf({ downForceMargin: [dry + 200, dry - 200] })["excess-down-force"]).toBeCloseTo(
      (T.heavySlope.value * 200) / 2,
      12,
    );
    expect(lossOf({ misses: [0.04, 0.08] }).misses).toBeCloseTo(T.missLoss.value * 0.06, 12);
  });

  it("a mean on target hides the readings that are not: the tails count", () => {
    const knee = T.shallowKnee.value;
    expect(lossOf({ seedingDepth: [knee + 1, knee + 1] })["too-shallow"]).toBe(0);
    expect(lossOf({ seedingDepth: [knee - 20, knee + 22] })["too-shallow"]).toBeGreaterThan(0.05);
  });

  it("spread counts above its knee only", () => {
    const depth = [50, 50];
    expect(lossOf({ seedingDepth: depth }, { sdMm: T.unevenKnee.value })["uneven-depth"]).toBe(0);
    expect(lossOf({ seedingDepth: depth }, { sdMm: T.unevenKnee.value + 3 })["uneven-depth"]).toBeCloseTo(
      3 * T.unevenSlope.value,
      12,
    );
  });

  it("damp clay bears less load, and there alone deep seed costs stand", () => {
    const clay = (field: Field) => {
      field.soilZones = { names: ["clay"], polygons: [], texture: ["clay"], drainage: [null] };
    };
    const margin = [T.heavyKneeWet.value + 100];
    expect(lossOf({ downForceMargin: margin })["excess-down-force"]).toBe(0);
    expect(lossOf({ downForceMargin: margin }, { change: clay, zone: 0 })["excess-down-force"]).toBeCloseTo(
      100 * T.heavySlope.value,
      12,
    );
    const deep = [T.deepKnee.value + 10];
    expect(lossOf({ seedingDepth: deep })["too-deep"]).toBe(0);
    expect(lossOf({ seedingDepth: deep }, { change: clay, zone: 0 })["too-deep"]).toBeCloseTo(
      10 * T.deepSlope.value,
      12,
    );
  });

  it("soybeans have depths of their own, and deep ones are cut on any ground", () => {
    const change = (field: Field) => {
      field.crop = "soybean";
    };
    const depth = (mm: number) => lossOf({ seedingDepth: [mm, mm] }, { change });
    // 1.25 in, the middle of the advice for soybeans, would be shallow for corn.
    expect(depth(31.75)["too-shallow"]).toBe(0);
    expect(lossOf({ seedingDepth: [31.75, 31.75] })["too-shallow"]).toBeGreaterThan(0);
    expect(depth(20.4)["too-shallow"]).toBeCloseTo(5 * T.shallowSlope.value, 12);
    expect(depth(60.8)["too-deep"]).toBeCloseTo(10 * T.deepSlope.value, 12);
  });

  it("a target above the knee is the grower's own choice: shallow is judged against it", () => {
    const target = T.shallowKnee.value - 8;
    const change = (field: Field) => {
      field.targets.seedingDepthMm = target;
    };
    expect(lossOf({ seedingDepth: [target, target] }, { change })["too-shallow"]).toBe(0);
    expect(lossOf({ seedingDepth: [target - 5, target - 5] }, { change })["too-shallow"]).toBeCloseTo(
      5 * T.shallowSlope.value,
      12,
    );
  });
});

describe("root before symptom", () => {
  it("fast ground credits speed with all of it and nothing to load, depth, spread, skips", () => {
    const slow = lossOf({ ...rough, speed: speeds(SLOW) }, { sdMm: 8 });
    const fast = lossOf(
      { ...rough, speed: speeds(FAST) },
      { sdMm: 8, change: (field) => { field.targets.speedMetresPerSecond = SLOW; } }, // biome-ignore format: one line
    );
    expect(fast["excess-speed"]).toBeGreaterThan(0.05);
    for (const factor of ["lost-ground-contact", "too-shallow", "uneven-depth", "misses"] as const)
      expect(fast[factor], factor).toBe(0);
    expect(slow["excess-speed"]).toBe(0);
    // Credit moves, the harm stays: light readings of slow ground are there too, since it ran light.
    expect(fast["excess-speed"]).toBeCloseTo(slow["lost-ground-contact"] + slow.misses, 12);
  });

  it("light ground credits the load with shallow and uneven seed", () => {
    const loss = lossOf({ seedingDepth: [37, 37], downForceMargin: [60, 80] }, { sdMm: 8 });
    expect(loss["too-shallow"]).toBe(0);
    expect(loss["uneven-depth"]).toBe(0);
    const shallow = T.shallowSlope.value * (T.shallowKnee.value - 37);
    const uneven = T.unevenSlope.value * (8 - T.unevenKnee.value);
    const light = mean([60, 80].map((value) => T.lightSlope.value * (T.lightKnee.value - value)));
    expect(loss["lost-ground-contact"]).toBeCloseTo(shallow + uneven + light, 12);
  });

  it("what a root cannot have done alone is left to depth and spread, and the sum stays", () => {
    const load = { seedingDepth: [20, 20], downForceMargin: [60, 80] };
    const light = lossOf(load, { sdMm: 14 });
    const shallow = T.shallowSlope.value * (T.shallowKnee.value - 20);
    const uneven = T.unevenSlope.value * (14 - T.unevenKnee.value);
    expect(light["too-shallow"]).toBeGreaterThan(0);
    expect(light["too-shallow"]).toBeLessThan(shallow);
    expect(light["uneven-depth"]).toBeGreaterThan(0);
    expect(light["uneven-depth"]).toBeLessThan(uneven);
    const fast = lossOf(
      { ...load, speed: [FAST, FAST] },
      { sdMm: 14, change: (field) => { field.targets.speedMetresPerSecond = SLOW; } }, // biome-ignore format: one line
    );
    expect(fast["too-shallow"]).toBe(0);
    expect(fast["uneven-depth"]).toBeGreaterThan(0);
    expect(fast["uneven-depth"]).toBeLessThan(light["uneven-depth"]);
    expect(sum(fast)).toBeCloseTo(sum(light), 12);
  });

  it("with load on the wheels shallow seed is a matter of depth", () => {
    const loss = lossOf({ seedingDepth: [30, 30], downForceMargin: [500, 520] }, { sdMm: 12 });
    expect(loss["lost-ground-contact"]).toBe(0);
    expect(loss["too-shallow"]).toBeGreaterThan(0);
    expect(loss["uneven-depth"]).toBeGreaterThan(0);
  });

  it("a good mean with readings without load ran light all the same", () => {
    const margin = [0, 0, ...Array.from({ length: 18 }, () => 500)];
    expect(mean(margin)).toBeGreaterThan(T.lowMeanMargin.value);
    expect(lossOf({ downForceMargin: margin })["lost-ground-contact"]).toBeGreaterThan(0);
    const seldom = [0, ...Array.from({ length: 99 }, () => 500)];
    expect(lossOf({ downForceMargin: seldom })["lost-ground-contact"]).toBe(0);
  });

  it("a set depth, or one of unknown source, gives no depth loss", () => {
    for (const source of ["set", "unknown"] as const) {
      const change = (field: Field) => {
        field.log.depthSource = source;
      };
      expect(sum(lossOf({ seedingDepth: [10, 20, 90] }, { change }))).toBe(0);
    }
  });

  it("too fast means above the knee and well above the usual speed", () => {
    const { field } = fieldOf({ speed: [2, 2, 2] });
    expect(fastSpeed(field, Float64Array.of(2, 2, Number.NaN))).toBe(T.fastKnee.value);
    expect(fastSpeed(field, Float64Array.of(4, 4, 4))).toBeCloseTo(4 * (1 + T.fastShare.value), 12);
    field.targets.speedMetresPerSecond = 3.5;
    expect(fastSpeed(field, Float64Array.of(2, 2, 2))).toBeCloseTo(3.5 * (1 + T.fastShare.value), 12);
  });
});

describe("nothing is paid for twice, and nothing for nothing", () => {
  it("skips lower the rate: what they take is not taken again", () => {
    const wanted = 84_000;
    const missing = [0.06, 0.1];
    const values = {
      misses: missing,
      population: missing.map((share) => wanted * (1 - share)),
      targetPopulation: missing.map(() => wanted),
    };
    const loss = lossOf(values);
    expect(loss.misses).toBeCloseTo(0.08, 12);
    expect(loss["rate-off-target"]).toBeCloseTo(0, 12);
    const short = lossOf({ ...values, population: missing.map((share) => wanted * (1 - share) * 0.9) });
    expect(sum(short)).toBeCloseTo(mean(missing.map((share) => 1 - (1 - share) * 0.9)), 12);
  });

  it("doubles and more seed than wanted cost nothing", () => {
    const loss = lossOf({
      multiples: [0.1, 0.2],
      population: [95_000, 96_000],
      targetPopulation: [84_000, 84_000],
    });
    expect(sum(loss)).toBe(0);
  });

  it("sound readings, readings missing and records left out cost nothing", () => {
    const sound = { seedingDepth: [50, 51], downForceMargin: [500, 480], misses: [0, 0], speed: [2.3, 2.3] };
    expect(sum(lossOf(sound, { sdMm: 4 }))).toBe(0);
    expect(sum(lossOf({ seedingDepth: [Number.NaN, 50], misses: [Number.NaN, 0] }))).toBe(0);
    expect(sum(lossOf({ seedingDepth: [5, 50], misses: [0.5, 0] }, { excluded: [0] }))).toBe(0);
  });

  it("losses are shares, never below nothing, and grow with the trouble", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 100, noNaN: true }), { minLength: 2, maxLength: 12 }),
        fc.double({ min: 0, max: 20, noNaN: true }),
        (depths, lower) => {
          const here = lossOf({ seedingDepth: depths });
          const shallower = lossOf({ seedingDepth: depths.map((depth) => Math.max(0, depth - lower)) });
          for (const factor of FACTORS) expect(here[factor]).toBeGreaterThanOrEqual(0);
          expect(shallower["too-shallow"]).toBeGreaterThanOrEqual(here["too-shallow"] - 1e-12);
        },
      ),
    );
  });
});

describe("departures from the rest of the field", () => {
  const lossesOf = (rows: number[][]): PredictedLoss =>
    Object.fromEntries(FACTORS.map((factor, k) => [factor, Float64Array.from(rows[k] ?? [0, 0, 0])])) as PredictedLoss; // biome-ignore format: one line

  it("the usual loss is taken off, never below nothing", () => {
    const loss = lossesOf([[0.02, 0.05, 0.01]]);
    const usual = subtractUsual(loss);
    expect(usual[FACTORS[0]]).toBe(0.02);
    expect([...loss[FACTORS[0]]].map((value) => Number(value.toFixed(12)))).toEqual([0, 0.03, 0]);
  });
});
