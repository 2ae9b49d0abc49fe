import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readFlagTest } from "../../src/stand/flag-test.ts";
import { plantingDayWeather } from "../../src/stand/planting-day-weather.ts";
import type { Weather } from "../../src/vocabulary/field.ts";

/** Days from 2026-04-20 on: rain and soil temperature as given, air 20 C at the highest and 10 C at the lowest. */
function weather(rain: readonly number[], soil: readonly number[] = []): Weather {
  return {
    time: rain.map((_, k) => new Date(Date.UTC(2026, 3, 20 + k)).toISOString().slice(0, 10)),
    rainMm: Float64Array.from(rain),
    minimumC: new Float64Array(rain.length).fill(10),
    maximumC: new Float64Array(rain.length).fill(20),
    soilC: Float64Array.from(rain, (_, k) => soil[k] ?? Number.NaN),
  };
}

describe("the weather of a planting day", () => {
  // Planted May 1, air 10 to 20 C: 5 degree days C = 9 F a day; 115 F (90 to 150) take 13 days (10 to 17).
  const rain = new Array(30).fill(0);
  rain[11] = 20;
  rain[15] = 31;
  rain[29] = 60;
  const read = plantingDayWeather(weather(rain), "2026-05-01");

  it("counts rain after the planting day and before the last plants are up", () => {
    expect(read.emergence).toMatchObject({
      date: "2026-05-14",
      earliest: "2026-05-11",
      latest: "2026-05-18",
    });
    expect(read.rainMm).toBe(31);
    expect(read.heaviestRain).toEqual({ isoDate: "2026-05-05", rainMm: 31 });
  });

  it("says nothing of rain where none fell, nor of the soil where nobody measured", () => {
    expect(plantingDayWeather(weather(new Array(30).fill(0)), "2026-05-01")).toMatchObject({
      heaviestRain: null,
      rainMm: 0,
      lowestSoilC: null,
    });
  });

  it("takes the lowest soil temperature of the planting day and the next only", () => {
    const soil = [2, 3, 4, 5, 6, 7, 8, 9, 11, 10, 9.5, 12, 8, 4];
    expect(plantingDayWeather(weather(new Array(14).fill(0), soil), "2026-04-28").lowestSoilC).toBe(10);
    expect(plantingDayWeather(weather(new Array(14).fill(0), soil), "2026-04-29").lowestSoilC).toBe(9.5);
  });
});

describe("a flag test", () => {
  const visits = [
    { isoDate: "2026-05-06", plants: 18 },
    { isoDate: "2026-05-07", plants: 9 },
    { isoDate: "2026-05-09", plants: 2 },
    { isoDate: "2026-05-11", plants: 1 },
  ];
  it("counts late plants by both definitions, which differ", () => {
    // 9 degree days F a day: 3 days are 27, more than 25; only the fourth visit is more than 3 days after the first.
    const read = readFlagTest(visits, weather(new Array(30).fill(0)));
    expect(read.byDays).toBeCloseTo(1 / 30, 12);
    expect(read.byDegreeDays).toBeCloseTo(3 / 30, 12);
    expect(read).toMatchObject({ plants: 30, daysSpread: 5 });
    expect(read.degreeDaysFSpread).toBeCloseTo(45, 10);
  });
  it("knows days alone without weather, or where the weather does not cover the visits", () => {
    for (const known of [null, weather(new Array(18).fill(0))])
      expect(readFlagTest(visits, known)).toMatchObject({ byDegreeDays: null, degreeDaysFSpread: null });
  });
  it("does not depend on the order of the visits", () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(visits, { minLength: 4 }), (shuffled) => {
        expect(readFlagTest(shuffled, null)).toEqual(readFlagTest(visits, null));
      }),
    );
  });
});
