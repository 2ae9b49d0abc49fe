import { describe, expect, it } from "vitest";
import { makeLarkspurDraw, makeLarkspurDrawTruth } from "../../sample-data/larkspur-draw.ts";
import { type LogRecord, mean, readLog, standardDeviation } from "./read-sample.ts";

const ROW_17 = 17;
const ROW_5 = 5;

/** Mean over the row units of the SD within each, the last digit of the log being its only rounding. */
function sdWithinRowUnits(records: LogRecord[], value: (record: LogRecord) => number): number {
  const groups = grouped(records, (record) => record.ROW_UNIT);
  return mean(groups.map((rows) => standardDeviation(rows.map(value))));
}

function grouped<R>(records: R[], keyOf: (record: R) => number): R[][] {
  const groups = new Map<number, R[]>();
  for (const record of records) {
    const group = groups.get(keyOf(record));
    if (group) group.push(record);
    else groups.set(keyOf(record), [record]);
  }
  return [...groups.values()];
}

describe.each([1, 2])("the planting log made with seed %d", async (seed) => {
  const truth = makeLarkspurDrawTruth(seed);
  const all = await readLog(makeLarkspurDraw(seed));
  const located = all.map((record) => ({
    ...record,
    place: truth.placeOf(record.longitude, record.latitude),
    planted: truth.plantedBy(record.longitude, record.latitude),
    date: record.TIME.slice(0, 10),
  }));
  const usual = located.filter((record) => record.ROW_UNIT !== ROW_17 && record.ROW_UNIT !== ROW_5);
  const at = (place: (typeof usual)[number]["place"]) => usual.filter((record) => record.place === place);
  const ordinary = at(null);

  it("puts every record on its row unit, in its pass and on its day", () => {
    for (const { planted, ROW_UNIT, date } of located) {
      if (planted?.rowUnit !== ROW_UNIT)
        throw new Error(`row unit ${ROW_UNIT} stands on ${planted?.rowUnit}`);
      if (truth.passes[planted.pass - 1]!.date !== date) throw new Error(`pass ${planted.pass} has ${date}`);
    }
    expect(new Set(located.map((record) => record.planted!.pass)).size).toBe(truth.passes.length);
  });

  it("is in order of time, 24 row units a moment, without a gap inside a pass", () => {
    const moments = all.filter((_, index) => index % 24 === 0);
    moments.forEach((moment, index) => {
      const rows = all.slice(24 * index, 24 * index + 24);
      if (!rows.every((row, unit) => row.ROW_UNIT === unit + 1 && row.TIME === moment.TIME)) {
        throw new Error(`moment ${moment.TIME} is not 24 row units in order`);
      }
    });
    expect(all.length).toBe(24 * moments.length);
    const seconds = moments.map((moment) => Date.parse(moment.TIME) / 1000);
    const gaps = seconds.slice(1).map((second, index) => second - seconds[index]!);
    expect(Math.min(...gaps)).toBe(2);
    // Between two passes the bar is lifted and turned.
    expect(gaps.filter((gap) => gap > 2).length).toBe(truth.passes.length - 1);
    expect(Math.min(...gaps.filter((gap) => gap > 2))).toBeGreaterThan(15);
  });

  it("heads where the pass heads", () => {
    const off = located.map(({ HEADING, planted }) => {
      const difference = Math.abs(HEADING - truth.passes[planted!.pass - 1]!.headingDeg) % 360;
      return Math.min(difference, 360 - difference);
    });
    expect(Math.max(...off.filter((_, index) => index % 24 === 0))).toBeLessThan(2);
  });

  it("reads ordinary ground as put in", () => {
    expect(Math.abs(mean(ordinary.map((record) => record.MARGIN_LBF)) - 115)).toBeLessThan(3);
    expect(ordinary.filter((record) => record.MARGIN_LBF <= 0).length / ordinary.length).toBeLessThan(0.005);
    expect(Math.abs(mean(ordinary.map((record) => record.DEPTH_IN)) - 1.95)).toBeLessThan(0.02);
    expect(Math.abs(sdWithinRowUnits(ordinary, (record) => record.DEPTH_IN) - 0.2)).toBeLessThan(0.015);
    expect(Math.abs(mean(ordinary.map((record) => record.SPEED_MPH)) - 5.3)).toBeLessThan(0.05);
    expect(Math.abs(mean(ordinary.map((record) => record.MISS_PCT)) - 1.5)).toBeLessThan(0.1);
    expect(Math.abs(mean(ordinary.map((record) => record.MULT_PCT)) - 0.8)).toBeLessThan(0.1);
    expect(Math.abs(mean(ordinary.map((record) => record.POP_AC)) - 33_500)).toBeLessThan(100);
    expect(Math.abs(mean(ordinary.map((record) => record.FORCE_LBF)) - 150)).toBeLessThan(1);
  });

  it("closes singulation, misses and multiples to 100 % in every record", () => {
    const open = all.filter((one) => Math.abs(one.SINGUL_PCT + one.MISS_PCT + one.MULT_PCT - 100) > 1e-6);
    expect(open).toEqual([]);
  });

  it("reads the knoll light, shallow and uneven", () => {
    const knoll = at("knoll");
    expect(Math.abs(mean(knoll.map((record) => record.MARGIN_LBF)) - 30)).toBeLessThan(4);
    const noLoad = knoll.filter((record) => record.MARGIN_LBF <= 0).length / knoll.length;
    expect(Math.abs(noLoad - 0.16)).toBeLessThan(0.04);
    expect(Math.abs(mean(knoll.map((record) => record.DEPTH_IN)) - 1.4)).toBeLessThan(0.05);
    expect(sdWithinRowUnits(knoll, (record) => record.DEPTH_IN)).toBeGreaterThan(0.3);
    expect(Math.abs(mean(knoll.map((record) => record.MISS_PCT)) - 1.5)).toBeLessThan(0.15);
  });

  it("reads the swale of the second day pressed hard and the rest of it ordinary", () => {
    const swale = at("swaleDayTwo");
    expect(Math.abs(mean(swale.map((record) => record.MARGIN_LBF)) - 260)).toBeLessThan(8);
    expect(Math.abs(mean(swale.map((record) => record.DEPTH_IN)) - 2.05)).toBeLessThan(0.03);
    expect(new Set(swale.map((record) => record.date))).toEqual(new Set(["2026-04-27"]));
    const zone = truth.zones["silty clay"];
    const dayOne = ordinary.filter((record) => zone.contains(record.longitude, record.latitude));
    expect(new Set(dayOne.map((record) => record.date))).toEqual(new Set(["2026-04-24"]));
    expect(Math.abs(mean(dayOne.map((record) => record.MARGIN_LBF)) - 115)).toBeLessThan(8);
  });

  it("reads the fast passes fast, full of misses and bouncing, but seldom without load", () => {
    const fast = at("fastPasses");
    expect(Math.abs(mean(fast.map((record) => record.SPEED_MPH)) - 8.1)).toBeLessThan(0.15);
    expect(Math.abs(mean(fast.map((record) => record.MISS_PCT)) - 4.8)).toBeLessThan(0.2);
    expect(Math.abs(sdWithinRowUnits(fast, (record) => record.DEPTH_IN) - 0.38)).toBeLessThan(0.025);
    expect(Math.abs(mean(fast.map((record) => record.MARGIN_LBF)) - 85)).toBeLessThan(6);
    expect(fast.filter((record) => record.MARGIN_LBF <= 0).length / fast.length).toBeLessThan(0.01);
  });

  it("reads the pocket as clean as the ground round it", () => {
    const pocket = at("pocket");
    expect(Math.abs(mean(pocket.map((record) => record.MARGIN_LBF)) - 115)).toBeLessThan(10);
    expect(Math.abs(mean(pocket.map((record) => record.DEPTH_IN)) - 1.95)).toBeLessThan(0.04);
    expect(Math.abs(mean(pocket.map((record) => record.MISS_PCT)) - 1.5)).toBeLessThan(0.2);
    expect(Math.abs(mean(pocket.map((record) => record.POP_AC)) - 33_500)).toBeLessThan(150);
  });

  it("reads row unit 17 shallow in every pass, its load as elsewhere", () => {
    const row17 = located.filter((record) => record.ROW_UNIT === ROW_17 && record.place === null);
    const natural = truth.rowUnits.depthIn[ROW_17 - 1]! + 0.7;
    expect(Math.abs(natural)).toBeLessThan(0.1);
    expect(Math.abs(mean(row17.map((record) => record.DEPTH_IN)) - (1.25 + natural))).toBeLessThan(0.03);
    expect(Math.abs(mean(row17.map((record) => record.MARGIN_LBF)) - 115)).toBeLessThan(16);
    const passMeans = grouped(row17, (record) => record.planted!.pass).map((records) =>
      mean(records.map((record) => record.DEPTH_IN)),
    );
    expect(Math.max(...passMeans)).toBeLessThan(1.6);
  });

  it("reads row unit 5 short of seeds on the first day only", () => {
    const compare = (date: string) => {
      const others = ordinary.filter((record) => record.date === date);
      const row = located.filter((one) => one.ROW_UNIT === ROW_5 && one.place === null && one.date === date);
      return {
        population: mean(row.map((one) => one.POP_AC)) / mean(others.map((one) => one.POP_AC)),
        misses: mean(row.map((one) => one.MISS_PCT)) - mean(others.map((one) => one.MISS_PCT)),
        singulation: mean(row.map((one) => one.SINGUL_PCT)) - mean(others.map((one) => one.SINGUL_PCT)),
      };
    };
    const dayOne = compare("2026-04-24");
    expect(Math.abs(dayOne.population - 0.92)).toBeLessThan(0.005);
    expect(Math.abs(dayOne.misses - 7)).toBeLessThan(0.4);
    expect(Math.abs(dayOne.singulation + 7)).toBeLessThan(0.4);
    const dayTwo = compare("2026-04-27");
    expect(Math.abs(dayTwo.population - 1)).toBeLessThan(0.005);
    expect(Math.abs(dayTwo.misses)).toBeLessThan(0.3);
  });
});
