import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Pass, Passes } from "../../src/passes/passes.ts";
import { compareAroundRain } from "../../src/stand/rain-comparison.ts";
import type { Spots } from "../../src/stand/spots.ts";
import { lowestSoilAfter, rainSpells } from "../../src/stand/weather-hours.ts";
import type { Field, Weather } from "../../src/vocabulary/field.ts";
import { buildField } from "../support/field-builder.ts";

const LEAST_MM = 5;
const at = (text: string): number => Date.parse(`${text}:00Z`) / 1000;

/** Rain by ISO date or date and hour; zero elsewhere, from 24 to 28 April, every hour or every day. */
function weather(rain: Record<string, number>, hours: number, soil: Record<string, number> = {}): Weather {
  const count = (5 * 24) / hours;
  const time = [...Array(count).keys()].map((k) => {
    const text = new Date((at("2026-04-24T00:00") + k * hours * 3600) * 1000).toISOString();
    return text.includes("T00:00") ? text.slice(0, 10) : text.replace(".000Z", "Z");
  });
  const read = (from: Record<string, number>, other: number) =>
    Float64Array.from(time, (one) => from[one.slice(0, 13)] ?? other);
  return {
    time,
    rainMm: read(rain, 0),
    minimumC: new Float64Array(count).fill(8),
    maximumC: new Float64Array(count).fill(20),
    soilC: read(soil, 12),
  };
}

interface OneCount {
  planted: string;
  pass: number;
  share: number;
  zone?: number;
}

/** Counts with one record beneath each; 80,000 seeds/ha dropped at all of them. */
function compare(
  list: readonly OneCount[],
  sky: Weather,
  hasClockTime = true,
  rate = 80_000,
  leftOut: readonly number[] = [],
) {
  const field: Field = buildField({
    x: list.map(() => 0),
    y: list.map(() => 0),
    values: { time: list.map(({ planted }) => at(planted)) },
    hasClockTime,
  });
  field.weather = sky;
  field.standCounts = {
    standPerHa: Float64Array.from(list, ({ share }) => 80_000 * share),
  } as Field["standCounts"];
  const index = Int32Array.from(list.keys());
  const spots = {
    count: list.length,
    source: index,
    response: Float64Array.from(list, ({ share }) => share / 2),
    pass: Int32Array.from(list, ({ pass }) => pass),
    zone: Int32Array.from(list, ({ zone }) => zone ?? 0),
    beneath: { start: Int32Array.from(Array(list.length + 1).keys()), records: index },
    seedsPerHa: new Float64Array(list.length).fill(rate),
  } as Partial<Spots> as Spots;
  const passes = { passes: [1, 2, 3, 4, 5].map((number) => ({ number }) as Pass) } as Passes;
  return compareAroundRain(field, passes, spots, LEAST_MM, new Set(leftOut));
}

const counts = (planted: string, pass: number, ...shares: number[]): OneCount[] =>
  shares.map((share) => ({ planted, pass, share }));

/** Two passes before the morning of the 25th and two after it, the same soil. */
const FOUR_PASSES = [
  ...counts("2026-04-24T15:00", 1, 0.94, 0.9),
  ...counts("2026-04-24T16:00", 2, 0.96, 0.92),
  ...counts("2026-04-25T15:00", 3, 0.83, 0.81),
  ...counts("2026-04-25T16:00", 4, 0.83, 0.83, 0.86),
];
const NIGHT = { "2026-04-25T02": 4, "2026-04-25T06": 3 };

describe("the same soil planted before and after a rain", () => {
  it("is compared pass by pass, as worked by hand", () => {
    const [one, ...others] = compare(FOUR_PASSES, weather(NIGHT, 1));
    expect(others).toEqual([]);
    // Pass means 0.92 and 0.94 against 0.82 and 0.84: v = 0.0002 and n = 2 on both sides, V = 0.0002, df = 2,
    // t(0.975, 2) = 4.30265 (printed t tables).
    const half = 4.30265 * Math.sqrt(0.0002);
    expect(one).toMatchObject({ zone: 0, rainMm: 7, timedBy: "hour", shareOf: "seeds", level: 0.95 });
    expect(one).toMatchObject({ first: at("2026-04-25T02:00"), last: at("2026-04-25T06:00") });
    expect(one!.before).toMatchObject({ counts: 4, passes: 2 });
    expect(one!.after).toMatchObject({ counts: 5, passes: 2 });
    expect(one!.before.share).toBeCloseTo(0.93, 12);
    expect(one!.after.share).toBeCloseTo(0.83, 12);
    expect(one!.difference).toBeCloseTo(-0.1, 12);
    expect(one!.low).toBeCloseTo(-0.1 - half, 6);
    expect(one!.high).toBeCloseTo(-0.1 + half, 6);
  });
  it("takes the share of the target where the log has no rate", () => {
    const [one] = compare(FOUR_PASSES, weather(NIGHT, 1), true, Number.NaN);
    expect(one!.shareOf).toBe("target");
    expect(one!.difference).toBeCloseTo(-0.05, 12);
  });
  it("by day leaves out what was planted on the day of rain, by hour it does not", () => {
    const afterwards = FOUR_PASSES.map((one) => ({ ...one, planted: one.planted.replace("-25T", "-26T") }));
    expect(compare(FOUR_PASSES, weather({ "2026-04-25": 7 }, 24), false)).toEqual([]);
    expect(compare(FOUR_PASSES, weather({ "2026-04-25": 7 }, 24))).toEqual([]);
    expect(compare(afterwards, weather({ "2026-04-25": 7 }, 24), false)[0]).toMatchObject({
      timedBy: "day",
      before: { counts: 4 },
      after: { counts: 5 },
    });
  });
  it("leaves out what was planted while it rained", () => {
    const during = counts("2026-04-25T04:00", 5, 0.1, 0.1);
    expect(compare([...FOUR_PASSES, ...during], weather(NIGHT, 1))).toEqual(
      compare(FOUR_PASSES, weather(NIGHT, 1)),
    );
  });
  it("leaves out the counts it is told to, and says how many of the soil", () => {
    const odd = counts("2026-04-25T15:00", 3, 0.2, 0.3);
    const [one] = compare([...FOUR_PASSES, ...odd], weather(NIGHT, 1), true, 80_000, [9, 10]);
    expect(one).toEqual({ ...compare(FOUR_PASSES, weather(NIGHT, 1))[0], leftOut: 2 });
    expect(compare(FOUR_PASSES, weather(NIGHT, 1))[0]!.leftOut).toBe(0);
  });
  it("needs four counts on two passes on each side, on one soil", () => {
    const sky = weather(NIGHT, 1);
    expect(compare(FOUR_PASSES.slice(1), sky)).toEqual([]);
    expect(
      compare(
        FOUR_PASSES.map((one) => ({ ...one, pass: Math.ceil(one.pass / 2) })),
        sky,
      ),
    ).toEqual([]);
    expect(
      compare(
        FOUR_PASSES.map((one, k) => ({ ...one, zone: k % 2 })),
        sky,
      ),
    ).toEqual([]);
    expect(
      compare(
        FOUR_PASSES.map((one) => ({ ...one, zone: -1 })),
        sky,
      ),
    ).toEqual([]);
  });
  it("is not there without a rain between, whatever the counts", () => {
    const one = fc.record({
      planted: fc
        .integer({ min: 0, max: 100 })
        .map((h) => new Date((at("2026-04-24T06:00") + h * 3600) * 1000).toISOString().slice(0, 16)),
      pass: fc.integer({ min: 1, max: 5 }),
      share: fc.double({ min: 0.1, max: 1, noNaN: true }),
      zone: fc.integer({ min: -1, max: 1 }),
    });
    const little = { "2026-04-25T02": 2, "2026-04-26T02": 2.9 };
    fc.assert(
      fc.property(
        fc.array(one, { maxLength: 40 }),
        fc.constantFrom(1, 3, 24),
        fc.boolean(),
        (list, hours, clock) => {
          expect(compare(list, weather(hours === 24 ? { "2026-04-25": 4.9 } : little, hours), clock)).toEqual(
            [],
          );
        },
      ),
    );
  });
  it("does not depend on the order of the counts, and turns round with the sides", () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(FOUR_PASSES, { minLength: FOUR_PASSES.length }), (shuffled) => {
        const [one] = compare(shuffled, weather(NIGHT, 1));
        expect(one!.difference).toBeCloseTo(-0.1, 12);
      }),
    );
    const turned = FOUR_PASSES.map((one) => ({
      ...one,
      planted: one.planted.replace(/-2[45]T/, one.planted.includes("-24T") ? "-25T" : "-24T"),
    }));
    expect(compare(turned, weather(NIGHT, 1))[0]!.difference).toBeCloseTo(0.1, 12);
  });
});

describe("weather by the hour", () => {
  it("parts rains by six dry hours", () => {
    const rain = { "2026-04-25T02": 4, "2026-04-25T08": 3, "2026-04-25T15": 6, "2026-04-26T12": 2 };
    expect(rainSpells(weather(rain, 1), LEAST_MM)).toEqual([
      {
        first: at("2026-04-25T02:00"),
        last: at("2026-04-25T08:00"),
        clearBefore: at("2026-04-25T01:00"),
        clearAfter: at("2026-04-25T09:00"),
        rainMm: 7,
      },
      {
        first: at("2026-04-25T15:00"),
        last: at("2026-04-25T15:00"),
        clearBefore: at("2026-04-25T14:00"),
        clearAfter: at("2026-04-25T16:00"),
        rainMm: 6,
      },
    ]);
  });
  it("takes days of rain in a row together where it knows days only", () => {
    const spells = rainSpells(weather({ "2026-04-25": 6, "2026-04-26": 9, "2026-04-28": 4 }, 24), LEAST_MM);
    expect(spells.map(({ rainMm }) => rainMm)).toEqual([15]);
    expect(spells[0]).toMatchObject({
      clearBefore: at("2026-04-25T00:00"),
      clearAfter: at("2026-04-27T00:00"),
    });
  });
  it("looks for cold soil in the 48 hours after the moment itself", () => {
    const sky = weather({}, 1, { "2026-04-24T06": 4, "2026-04-26T05": 9, "2026-04-26T20": 3 });
    expect(lowestSoilAfter(sky, at("2026-04-24T06:30"))).toBe(9);
    expect(lowestSoilAfter(sky, at("2026-04-24T06:00"))).toBe(4);
    expect(lowestSoilAfter(sky, at("2026-04-24T21:00"))).toBe(3);
    expect(lowestSoilAfter(sky, at("2026-05-24T21:00"))).toBeNull();
  });
});
