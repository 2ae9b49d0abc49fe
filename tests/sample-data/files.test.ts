import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { booleanPointInPolygon } from "@turf/turf";
import { strFromU8, strToU8 } from "fflate";
import { describe, expect, it } from "vitest";
import { makeCounts } from "../../sample-data/counts.ts";
import { makeDigs } from "../../sample-data/digs.ts";
import { makeLarkspurDraw, makeLarkspurDrawTruth } from "../../sample-data/larkspur-draw.ts";
import { makeReadme } from "../../sample-data/readme.ts";
import { makeWeather } from "../../sample-data/weather.ts";
import { mean, plantsPerAcre, readBoundary, readCounts, readCsv } from "./read-sample.ts";

const committed = fileURLToPath(new URL("../../sample-data/larkspur-draw/", import.meta.url));
const all = makeLarkspurDraw(1);
/** Seed 2 without its planting log, which planting-log.test.ts makes and reads. */
const samples: Record<number, Record<string, Uint8Array>> = {
  1: all,
  2: {
    "counts.geojson": strToU8(makeCounts(2)),
    "digs.csv": strToU8(makeDigs(2)),
    "weather.csv": strToU8(makeWeather(2)),
    "boundary.geojson": all["boundary.geojson"]!,
  },
};

describe("the files of the invented field", () => {
  it("are the committed ones, byte for byte, for seed 1", () => {
    expect(readdirSync(committed).sort()).toEqual(Object.keys(all).sort());
    for (const [name, bytes] of Object.entries(all)) {
      expect(Buffer.compare(readFileSync(committed + name), bytes), name).toBe(0);
    }
  });

  it("differ for another seed in all that has noise", () => {
    for (const name of ["counts.geojson", "digs.csv", "weather.csv"]) {
      expect(Buffer.compare(all[name]!, samples[2]![name]!), name).not.toBe(0);
    }
  });

  it("stay under 6 MB together", () => {
    const total = Object.values(all).reduce((sum, bytes) => sum + bytes.length, 0);
    expect(total).toBeGreaterThan(1e6);
    expect(total).toBeLessThan(6e6);
  });

  it("say that they are invented, by which script and seed", () => {
    expect(makeReadme(2)).toContain("make.js --seed 2");
    const text = strFromU8(all["README.md"]!);
    expect(text).toContain("invented");
    expect(text).toContain("make.js --seed 1");
    for (const name of Object.keys(all)) if (name !== "README.md") expect(text).toContain(`\`${name}\``);
  });

  it("are all named in the manifest", () => {
    const manifest = JSON.parse(strFromU8(all["field.json"]!)) as Record<string, { file?: string }>;
    const named = Object.values(manifest).flatMap((layer) => layer.file ?? []);
    const others = Object.keys(all).filter((name) => name !== "field.json" && name !== "README.md");
    expect(named.sort()).toEqual(others.sort());
  });
});

describe.each([1, 2])("the counts made with seed %d", (seed) => {
  const files = samples[seed]!;
  const truth = makeLarkspurDrawTruth(seed);
  const counts = readCounts(files).features.map(({ properties, geometry }) => ({
    ...properties,
    standPerAcre: plantsPerAcre(properties),
    longitude: geometry.coordinates[0]!,
    latitude: geometry.coordinates[1]!,
    place: truth.placeOf(geometry.coordinates[0]!, geometry.coordinates[1]!),
  }));
  const drone = counts.filter((count) => count.method === "drone");
  const hand = counts.filter((count) => count.method === "hand");

  /**
   * Asserts a mean stand within three standard errors. One count has a relative SD from chance,
   * sqrt((1 - p) / (p n)) for n seeds of emergence p, and 1.7 % that hangs together from place to place.
   */
  function expectStand(found: typeof counts, plantsPerAcre: number, seedsPerCount: number): void {
    const emergence = plantsPerAcre / 33_500;
    const sdShare = Math.hypot(Math.sqrt((1 - emergence) / (emergence * seedsPerCount)), 0.017);
    const tolerance = (3 * sdShare) / Math.sqrt(found.length);
    expect(Math.abs(mean(found.map((count) => count.standPerAcre)) / plantsPerAcre - 1)).toBeLessThan(
      tolerance,
    );
  }
  const droneSeeds = 24 * 6.31;
  const handSeeds = 25 * 6.31;

  it("are 108 by drone and 12 by hand, all inside the boundary", () => {
    expect(drone.length).toBe(108);
    expect(hand.length).toBe(12);
    const { geometry } = readBoundary(files).features[0]!;
    const outside = counts.filter(
      (count) => !booleanPointInPolygon([count.longitude, count.latitude], geometry),
    );
    expect(outside).toEqual([]);
    expect(drone.every((count) => count.rows_counted === 4 && count.row_length_m === 6)).toBe(true);
    expect(hand.every((count) => count.rows_counted === 1 && count.row_length_m === 25)).toBe(true);
    expect(counts.every((count) => count.late_plants <= count.plants && count.row_spacing_in === 30)).toBe(
      true,
    );
  });

  it("spread over the field: every place has some", () => {
    for (const [name, place] of Object.entries(truth.places)) {
      const inside = drone.filter((count) => count.place === name).length;
      const expected = (108 * place.areaHa) / truth.field.areaHa;
      expect(inside).toBeGreaterThanOrEqual(Math.max(1, expected - 4));
      expect(inside).toBeLessThanOrEqual(expected + 4);
    }
  });

  it.each([
    ["knoll", 28_300, 0.22],
    ["swaleDayTwo", 30_300, 0.18],
    ["fastPasses", 30_000, 0.05],
    ["pocket", 24_200, 0.08],
    [null, 31_900, 0.03],
  ] as const)("by drone show the stand and the late plants of %s", (place, plants, lateShare) => {
    const found = drone.filter((count) => count.place === place);
    expectStand(found, plants, droneSeeds);
    const total = found.reduce((sum, count) => sum + count.plants, 0);
    const late = found.reduce((sum, count) => sum + count.late_plants, 0);
    // Four standard errors of a share, and row unit 17 with its few more late plants among the rows.
    const tolerance = 4 * Math.sqrt((lateShare * (1 - lateShare)) / total) + 0.05 / 24;
    expect(Math.abs(late / total - lateShare)).toBeLessThan(tolerance);
  });

  it("by hand lie on the row they name, three on row unit 17 and three on row unit 5 of the first day", () => {
    for (const count of hand) {
      const planted = truth.plantedBy(count.longitude, count.latitude)!;
      expect(planted.rowUnit).toBe(count.row_unit);
    }
    const row17 = hand.filter((count) => count.row_unit === 17);
    const row5 = hand.filter((count) => count.row_unit === 5);
    expect(row17.length).toBe(3);
    expect(row5.length).toBe(3);
    expect([...row17, ...row5].every((count) => count.place === null)).toBe(true);
    for (const count of row5) {
      const { pass } = truth.plantedBy(count.longitude, count.latitude)!;
      expect(truth.passes[pass - 1]!.date).toBe("2026-04-24");
    }
    expectStand(row17, 29_000, handSeeds);
    expectStand(row5, 31_900, handSeeds);
    const others = hand.filter((count) => count.row_unit !== 17 && count.row_unit !== 5);
    const places = others.map((count) => String(count.place)).sort();
    expect(places).toEqual(["knoll", "knoll", "null", "null", "pocket", "swaleDayTwo"]);
  });

  it("come with digs where the story has them", () => {
    const digs = readCsv(files, "digs.csv").map((dig) => ({
      place: truth.placeOf(Number(dig.lon), Number(dig.lat)),
      planted: truth.plantedBy(Number(dig.lon), Number(dig.lat))!,
      rowUnit: Number(dig.row_unit),
      // Mesocotyl plus 19 mm (trade press) where the depth itself was not taken.
      depthIn: dig.seed_depth_in ? Number(dig.seed_depth_in) : (Number(dig.mesocotyl_mm) + 19) / 25.4,
      smear: dig.smear,
      seedState: dig.seed_state,
    }));
    expect(digs.length).toBe(16);
    for (const dig of digs) expect(dig.planted.rowUnit).toBe(dig.rowUnit);
    const at = (place: string) => digs.filter((dig) => dig.place === place);
    const meanDepth = (found: typeof digs) => mean(found.map((dig) => dig.depthIn));
    expect(at("knoll").length).toBe(4);
    expect(Math.abs(meanDepth(at("knoll")) - 1.4)).toBeLessThan(0.02);
    expect(at("swaleDayTwo").length).toBe(4);
    expect(Math.abs(meanDepth(at("swaleDayTwo")) - 2.05)).toBeLessThan(0.02);
    expect(at("swaleDayTwo").every((dig) => dig.smear === "heavy" || dig.smear === "some")).toBe(true);
    expect(at("pocket").map((dig) => dig.seedState)).toEqual(Array(2).fill("leafed out underground"));
    const row17 = digs.filter((dig) => dig.rowUnit === 17);
    expect(row17.length).toBe(3);
    expect(Math.abs(meanDepth(row17) - 1.25)).toBeLessThan(0.2);
    const row5 = digs.filter((dig) => dig.rowUnit === 5);
    expect(row5.length).toBe(2);
    expect(Math.abs(meanDepth(row5) - 1.95)).toBeLessThan(0.1);
    expect(digs.filter((dig) => dig.smear !== "none").length).toBe(4);
  });

  it("come with the weather of the story", () => {
    const days = readCsv(files, "weather.csv");
    expect(days.length).toBe(52);
    expect([days[0]!.date, days.at(-1)!.date]).toEqual(["2026-04-10", "2026-05-31"]);
    const on = (date: string) => days.find((day) => day.date === date)!;
    expect(on("2026-04-24").rain_mm).toBe("0");
    expect(on("2026-04-25").rain_mm).toBe("9");
    expect(on("2026-05-03").rain_mm).toBe("31");
    for (const date of ["2026-05-04", "2026-05-05", "2026-05-06", "2026-05-07"]) {
      expect(Number(on(date).tmax_c)).toBeGreaterThan(28);
      expect(on(date).rain_mm).toBe("0");
    }
    for (const day of days) {
      expect(Number(day.tmin_c)).toBeLessThan(Number(day.tmax_c));
      expect(Number(day.soil_c)).toBeGreaterThan(5);
      expect(Number(day.soil_c)).toBeLessThan(26);
    }
    // Not cold in the two days after either planting: the story has no chilling in it (50 F, Purdue).
    for (const date of ["2026-04-24", "2026-04-25", "2026-04-27", "2026-04-28"]) {
      expect(Number(on(date).soil_c)).toBeGreaterThan(10);
    }
  });
});
