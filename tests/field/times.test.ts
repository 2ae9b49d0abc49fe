import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isoTextOf, joinDateAndTime, readTimes } from "../../src/ingest/values/times.ts";
import { column } from "./layers.ts";

function reading(values: (string | null)[] | number[]) {
  const result = readTimes(column("Time", values));
  return result && "reading" in result ? result.reading : result;
}

/** 2026-04-24T00:00:00Z by the POSIX definition of seconds since the epoch: 20,567 days. */
const DAY = 20_567 * 86_400;

describe("readTimes", () => {
  it.each([
    [["2026-04-24"], "date", DAY],
    [["20260424"], "date", DAY],
    [["2026-04-24T15:20:05Z"], "clock", DAY + 55_205],
    [["2026-04-24 15:20:05"], "clock", DAY + 55_205],
    [["2026-04-24T15:20:05.25"], "clock", DAY + 55_205.25],
    [["2026-04-24T10:20:05-05:00"], "clock", DAY + 55_205],
    [["2026-04-24T17:20:05+0200"], "clock", DAY + 55_205],
    [["4/24/2026 3:20:05 PM"], "clock", DAY + 55_205],
    [["4/24/2026 12:00:30 AM"], "clock", DAY + 30],
    [["24.04.2026 15:20"], "clock", DAY + 55_200],
    [["4/24/26"], "date", DAY],
    [["4-24-2026"], "date", DAY],
    [["2026/4/24"], "date", DAY],
    [["2026.04.24 15:20"], "clock", DAY + 55_200],
    [["Apr 24, 2026"], "date", DAY],
    [["24 April 2026"], "date", DAY],
    [["24-Apr-26"], "date", DAY],
    [["24APR2026"], "date", DAY],
    [["April 24th, 2026"], "date", DAY],
    [["Fri, Apr 24, 2026 3:20:05 PM"], "clock", DAY + 55_205],
    [["15:20:05"], "time-of-day", 55_205],
    [["2026-04-24T00:00:00"], "date", DAY],
    [[DAY + 55_205, DAY + 55_206], "clock", DAY + 55_205],
    [[(DAY + 55_205) * 1000], "clock", DAY + 55_205],
    [[20_260_424], "date", DAY],
    [[0.5, 1.5, 2.5], "seconds", 0.5],
  ] as [(string | null)[] | number[], string, number][])("%j is a %s", (values, resolution, seconds) => {
    const result = reading(values);
    expect(result).toMatchObject({ resolution });
    expect((result as { seconds: Float64Array }).seconds[0]).toBeCloseTo(seconds, 6);
  });

  it.each([
    [["soon"]],
    [["24 Arp 2026"]],
    [["31 Jun 2026"]],
    [["2026-02-30"]],
    [["13/13/2026"]],
    [["25:00:00"]],
    [[-5, 3]],
    [[1e20]],
    [[Number.NaN]],
  ] as [string[] | number[]][])("%j is no time", (values) => {
    expect(reading(values)).toBeNull();
  });

  it("settles day and month by any value above 12, and else asks", () => {
    expect(reading(["4/5/2026", "4/13/2026"])).toMatchObject({ seconds: { 0: Date.UTC(2026, 3, 5) / 1000 } });
    expect(reading(["4/5/2026", "13/5/2026"])).toMatchObject({ seconds: { 0: Date.UTC(2026, 4, 4) / 1000 } });
    expect(readTimes(column("Time", ["4/5/2026"]))).toEqual({ ambiguousDayOrder: "4/5/2026" });
    expect(readTimes(column("Time", ["4/5/2026"]), "d/m/y")).toMatchObject({
      reading: { seconds: { 0: Date.UTC(2026, 4, 4) / 1000 } },
    });
    expect(reading(["5/5/2026"])).toMatchObject({ resolution: "date" });
  });

  it("leaves out single values it cannot read, and counts them", () => {
    const result = reading(["2026-04-24T10:00:00", null, "later", "2026-04-24T10:00:02"]);
    expect(result).toMatchObject({ unread: { count: 1, firstRecord: 3, value: "later" } });
    expect([...(result as { seconds: Float64Array }).seconds].map(Number.isNaN)).toEqual([
      false,
      true,
      true,
      false,
    ]);
  });

  it("reads back any second it writes", () => {
    fc.assert(
      fc.property(fc.integer({ min: 315_532_800, max: 4_102_444_799 }), (seconds) => {
        const result = reading([isoTextOf(seconds)]);
        expect((result as { seconds: Float64Array }).seconds[0]).toBe(seconds);
      }),
    );
  });

  it("joins a day and a time of day", () => {
    const [date, clock] = [readTimes(column("D", ["2026-04-24"])), readTimes(column("T", ["15:20:05"]))];
    if (!date || !clock || "ambiguousDayOrder" in date || "ambiguousDayOrder" in clock)
      throw new Error("unread");
    expect(joinDateAndTime(date.reading, clock.reading)).toMatchObject({
      resolution: "clock",
      seconds: { 0: DAY + 55_205 },
    });
  });
});
