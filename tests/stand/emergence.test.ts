import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ManifestError } from "../../src/errors.ts";
import { dayNumber, daysAfterMarchFirst, isoDateOf } from "../../src/stand/calendar.ts";
import { degreeDaysC, degreeDaysF } from "../../src/stand/degree-days.ts";
import { emergenceRequirementF, expectedEmergence } from "../../src/stand/emergence.ts";
import { lateSharesOf } from "../../src/stand/uniformity.ts";
import type { Weather } from "../../src/vocabulary/field.ts";

/** Weather from day to day; a reading is [day, minimum, maximum, soil], NaN where missing. */
function weather(readings: [time: string, minimumC: number, maximumC: number, soilC?: number][]): Weather {
  return {
    time: readings.map(([time]) => time),
    rainMm: new Float64Array(readings.length),
    minimumC: Float64Array.from(readings, ([, minimum]) => minimum),
    maximumC: Float64Array.from(readings, ([, , maximum]) => maximum),
    soilC: Float64Array.from(readings, ([, , , soil]) => soil ?? Number.NaN),
  };
}

function steadyDays(from: string, count: number, minimumC: number, maximumC: number) {
  return Array.from({ length: count }, (_, day): [string, number, number] => [
    isoDateOf(dayNumber(from) + day),
    minimumC,
    maximumC,
  ]);
}

describe("calendar", () => {
  it("counts alike in leap and other years from March on", () => {
    expect(daysAfterMarchFirst("2024-04-24")).toBe(daysAfterMarchFirst("2026-04-24"));
    expect(daysAfterMarchFirst("2026-03-01")).toBe(0);
    expect(isoDateOf(dayNumber("2028-02-29T13:40:00Z"))).toBe("2028-02-29");
  });
  it.each(["2026-02-30", "24.4.2026", "2026-13-01", "", "2026-04-245"])("refuses %s", (text) => {
    expect(() => dayNumber(text)).toThrow(ManifestError);
    expect(() => dayNumber(text)).toThrow("2026-04-24");
  });
});

describe("degree days", () => {
  it("never leave their range, and a warmer day never has fewer", () => {
    const temperature = fc.double({ min: -30, max: 50, noNaN: true });
    fc.assert(
      fc.property(temperature, temperature, fc.double({ min: 0, max: 20, noNaN: true }), (a, b, warmer) => {
        const [minimum, maximum] = a < b ? [a, b] : [b, a];
        const day = degreeDaysC(minimum, maximum);
        expect(day).toBeGreaterThanOrEqual(0);
        expect(day).toBeLessThanOrEqual(20);
        expect(degreeDaysC(minimum + warmer, maximum + warmer)).toBeGreaterThanOrEqual(day);
      }),
    );
  });
  it("are missing where a temperature is", () => {
    expect(degreeDaysC(Number.NaN, 20)).toBeNaN();
    expect(degreeDaysF(50, Number.NaN)).toBeNaN();
  });
});

describe("expected emergence", () => {
  it("comes when the sum reaches the requirement, counted from the day after planting", () => {
    // 10/20 C is 5 C or 9 F a day: 90, 115 and 150 F are met on days 10, 13 and 17.
    const found = expectedEmergence(weather(steadyDays("2026-04-20", 40, 10, 20)), "2026-05-01");
    expect(found).toMatchObject({
      basis: "air",
      earliest: "2026-05-11",
      date: "2026-05-14",
      latest: "2026-05-18",
      daysFilled: 0,
    });
    expect(found.accumulatedF).toBeCloseTo(153, 9);
  });

  it("takes the readings of a day together", () => {
    const hourly = steadyDays("2026-05-01", 30, 0, 0).flatMap(([day]): [string, number, number][] => [
      [`${day}T05:00:00Z`, 10, 11],
      [`${day}T15:00:00Z`, 19, 20],
    ]);
    const daily = expectedEmergence(weather(steadyDays("2026-05-01", 30, 10, 20)), "2026-05-01");
    expect(expectedEmergence(weather(hourly), "2026-05-01")).toEqual(daily);
  });

  it("goes by the soil where the soil is known", () => {
    const days = steadyDays("2026-05-01", 30, 5, 12).map(
      ([day, low, high]): [string, number, number, number] => [day, low, high, 20],
    );
    // Soil at 20 C: 18 F a day; 115 F on day 7.
    expect(expectedEmergence(weather(days), "2026-05-01")).toMatchObject({
      basis: "soil",
      date: "2026-05-08",
    });
  });

  it("bridges three missing days and says so, stops at four, and leaves open what the weather does not reach", () => {
    const days = steadyDays("2026-05-01", 30, 10, 20);
    const without = (first: number, count: number) =>
      weather(days.filter((_, day) => day < first || day >= first + count));
    expect(expectedEmergence(without(5, 3), "2026-05-01")).toMatchObject({
      date: "2026-05-14",
      daysFilled: 3,
    });
    expect(expectedEmergence(without(5, 4), "2026-05-01").date).toBeNull();
    const short = expectedEmergence(weather(days.slice(0, 13)), "2026-05-01");
    expect(short).toMatchObject({ earliest: "2026-05-11", date: null, latest: null });
    expect(expectedEmergence(weather([]), "2026-05-01")).toMatchObject({ date: null, accumulatedF: 0 });
  });

  it("needs the same by soil temperature whatever the date and the tillage, more where it is deep, crusted or dry", () => {
    for (const day of ["2026-04-10", "2026-04-24", "2026-04-25", "2026-05-15", "2026-05-16", "2026-06-10"])
      expect(emergenceRequirementF(day, { conservationTillage: true })).toEqual({
        low: 90,
        estimate: 115,
        high: 150,
      });
    const deep = emergenceRequirementF("2026-05-01", { seedingDepthMm: 76.2, drySeedZone: true });
    expect(deep.estimate).toBeCloseTo(115 + 15 + 30, 9);
    expect(emergenceRequirementF("2026-05-01", { seedingDepthMm: 38 }).estimate).toBe(115);
    expect(emergenceRequirementF("2026-05-20", { crop: "soybean", crustOrClods: true })).toEqual({
      low: 130,
      estimate: 135.5,
      high: 200,
    });
  });

  it("is adjusted by air temperature for date and tillage, without steps and never below 90", () => {
    const byAir = (day: string, seedbed = {}) => emergenceRequirementF(day, seedbed, "air");
    expect(byAir("2026-05-05")).toEqual({ low: 90, estimate: 115, high: 150 });
    expect(byAir("2026-04-05", { conservationTillage: true })).toEqual({
      low: 90 + 10 + 30,
      estimate: 115 + 17.5 + 45,
      high: 150 + 25 + 60,
    });
    expect(byAir("2026-06-05")).toEqual({ low: 90, estimate: 90, high: 100 });
    for (let day = 0; day < 90; day++) {
      const [one, next] = [day, day + 1].map((later) => byAir(isoDateOf(dayNumber("2026-04-01") + later)));
      for (const key of ["low", "estimate", "high"] as const)
        expect(Math.abs(next![key] - one![key])).toBeLessThanOrEqual(6);
      expect(one!.low).toBeGreaterThanOrEqual(90);
    }
  });

  it("does not have corn of May 20 up two days after planting in warm soil", () => {
    // Soil at 24 C: 25.2 F a day.
    const warm = steadyDays("2026-05-20", 20, 15, 30).map(
      ([day, low, high]): [string, number, number, number] => [day, low, high, 24],
    );
    expect(expectedEmergence(weather(warm), "2026-05-20")).toMatchObject({
      basis: "soil",
      earliest: "2026-05-24",
      date: "2026-05-25",
      latest: "2026-05-26",
    });
  });
});

describe("late shares", () => {
  it("keep the two definitions apart", () => {
    // A cool spell: four days but 22 degree days. Late by the calendar, not by thermal time.
    const cool = [
      { plants: 30, daysAfterFirst: 0, degreeDaysFAfterFirst: 0 },
      { plants: 10, daysAfterFirst: 4, degreeDaysFAfterFirst: 22 },
    ];
    expect(lateSharesOf(cool)).toEqual({ byDays: 0.25, byDegreeDays: 0 });
    const warm = [
      { plants: 30, daysAfterFirst: 0, degreeDaysFAfterFirst: 0 },
      { plants: 10, daysAfterFirst: 2, degreeDaysFAfterFirst: 44 },
    ];
    expect(lateSharesOf(warm)).toEqual({ byDays: 0, byDegreeDays: 0.25 });
  });
  it("are open where nothing is known", () => {
    expect(lateSharesOf([])).toEqual({ byDays: null, byDegreeDays: null });
    expect(lateSharesOf([{ plants: 5, daysAfterFirst: 5, degreeDaysFAfterFirst: null }])).toEqual({
      byDays: 1,
      byDegreeDays: null,
    });
  });
});
