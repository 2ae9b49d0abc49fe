/** The small field planted on two days with a rain in the night between, from files to words. */
import { describe, expect, it } from "vitest";
import { rainWords } from "../../src/findings/rain-at-planting.ts";
import { writingIn } from "../../src/texts/language.ts";
import { analysed } from "../support/light-field.ts";
import { collection, degrees, plantingLog, point, SMALL_MANIFEST } from "../support/small-field.ts";

const BAR_M = 18.288;
const PASSES = [...Array(10).keys()];
/** Of each soil (passes 0-4 and 5-9) the last three passes are planted a day later. */
const isLater = (pass: number): boolean => pass % 5 >= 2;

function twoDays(start: (time: Date) => unknown = (time) => time.toISOString()) {
  const log = plantingLog();
  const records = log.features.length / PASSES.length;
  (log.features as ReturnType<typeof point>[]).forEach(({ properties }, record) => {
    const day = isLater(Math.floor(record / records)) ? 86_400_000 : 0;
    properties.TIME = start(new Date(Date.parse(String(properties.TIME)) + day));
  });
  return log;
}

const counts = collection(
  PASSES.flatMap((pass) =>
    [50, 150, 250].map((north) =>
      point(degrees((pass + 0.5) * BAR_M, north), {
        PLANTS: (isLater(pass) ? 28 : 32) + (pass % 2),
        ROW_LENGTH_FT: 17.424,
      }),
    ),
  ),
);

/** From 24 April on: 12 mm of rain on the 25th, by the hour 6 mm at 3 and at 4; soil 8 C early on the 27th, else 13 C. */
function weather(hours: number): string {
  const rows = [...Array((40 * 24) / hours).keys()].map((k) => {
    const time = new Date(Date.UTC(2026, 3, 24) + k * hours * 3_600_000).toISOString().slice(0, 16);
    const rain = hours === 1 ? (/-25T0[34]/.test(time) ? 6 : 0) : time.includes("04-25") ? 12 : 0;
    const soil = /04-27T0[2-5]/.test(time) ? 8 : 13;
    return `${time},${rain},8,20,${soil}`;
  });
  return ["date,rain_mm,tmin_c,tmax_c,soil_c", ...rows].join("\n");
}

const emergenceOf = async (log: object, hours: number, more: object = {}) => {
  const changes = { "planting.geojson": log, "counts.geojson": counts, "weather.csv": weather(hours) };
  const manifest = { ...SMALL_MANIFEST, weather: { file: "weather.csv" }, ...more };
  const { document } = await analysed(changes, manifest);
  return document.summary.emergence!;
};

describe("the small field planted on both sides of a rain", () => {
  it("is compared on each soil by the hour, and cold soil counts from each pass's own hour", async () => {
    const { days, rain } = await emergenceOf(twoDays(), 1);
    expect(rain.map(({ soilZone }) => soilZone)).toEqual(["clay loam", "silt loam"]);
    const silt = rain[1]!;
    expect(silt).toMatchObject({ rainFrom: "2026-04-25T03:00", rainTo: "2026-04-25T04:00", rainMm: 12 });
    expect(silt).toMatchObject({ timedBy: "hour", shareOf: "target" });
    // Passes 0 and 1 have 32 and 33 plants on a thousandth of an acre, passes 2 to 4 28, 29 and 28, of 34 wanted.
    expect(silt.before).toMatchObject({ counts: 6, passes: 2 });
    expect(silt.after).toMatchObject({ counts: 9, passes: 3 });
    expect(silt.before.share).toBeCloseTo(32.5 / 34, 4);
    expect(silt.after.share).toBeCloseTo(85 / 3 / 34, 4);
    expect(silt.words).toContain(
      "silt loam, planted before and after 0.47 in of rain from 2026-04-25 03:00 to",
    );
    expect(silt.words).toContain(
      "plants of the target 96 % (6 counts on 2 passes) before, 83 % (9 counts on 3",
    );
    expect(silt.words).toContain("This is an association: other things change by day too.");
    expect(rainWords(silt, writingIn("metric"))).toContain("12 mm of rain");
    // The 8 C of the 27th lie within 48 hours of the passes of the 25th (14 o'clock), not of those of the 24th.
    expect(days.map(({ coldPasses }) => coldPasses)).toEqual([
      { cold: 0, of: 4 },
      { cold: 6, of: 6 },
    ]);
    expect(days.map(({ coldStart }) => coldStart)).toEqual([false, true]);
    expect(days[1]!.words).toContain("soil down to 46 F in the first 48 hours after 6 of 6 passes");
  });

  it("is not timed by the hour where weather or log know days only", async () => {
    for (const [log, hours] of [
      [twoDays(), 24],
      [twoDays((time) => time.toISOString().slice(0, 10)), 1],
    ] as const) {
      const { days } = await emergenceOf(log, hours);
      expect(days.map(({ coldPasses }) => coldPasses)).toEqual(days.map(() => null));
    }
  });

  it("is not compared where the times count from an unknown start", async () => {
    const start = Date.UTC(2026, 3, 24, 14);
    const log = twoDays((time) => (time.getTime() - start) / 1000);
    const { days, rain } = await emergenceOf(log, 1, { planted: "2026-04-24" });
    expect(rain).toEqual([]);
    expect(days.length).toBeGreaterThan(0);
    expect(days.every(({ coldPasses }) => coldPasses === null)).toBe(true);
  });
});
