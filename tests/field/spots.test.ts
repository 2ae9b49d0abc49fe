import { describe, expect, it } from "vitest";
import { ChoiceNeededError, FileUnusableError, NothingToAnalyseError } from "../../src/errors.ts";
import { assembleField } from "../../src/field/load.ts";
import { parseManifest } from "../../src/field/manifest.ts";
import { type ColumnValues, layer } from "./layers.ts";

const LOG = layer({ DEPTH_IN: Array.from({ length: 120 }, (_, i) => 2 + 0.1 * Math.sin(i)) });
const PLACES = { x: new Array(9).fill(-93.6), y: Array.from({ length: 9 }, (_, i) => 42 + i * 1e-4) };

function place(columns: Record<string, ColumnValues>, file: string) {
  const count = Object.values(columns)[0]!.length;
  return layer(columns, { file, x: PLACES.x.slice(0, count), y: PLACES.y.slice(0, count) });
}

function counts(columns: Record<string, ColumnValues>, manifest: object = {}) {
  const json = { plantingLog: { file: "log" }, standCounts: { file: "counts.csv" }, ...manifest };
  return assembleField(parseManifest(json), { plantingLog: LOG, standCounts: place(columns, "counts.csv") });
}

function digs(columns: Record<string, ColumnValues>, manifest: object = {}) {
  const json = { plantingLog: { file: "log" }, digs: { file: "digs.csv" }, ...manifest };
  return assembleField(parseManifest(json), { plantingLog: LOG, digs: place(columns, "digs.csv") });
}

describe("stand counts", () => {
  it("one thousandth of an acre: 17 ft 5 in of a 30 in row, 30 plants are 30,000 plants/ac", () => {
    const { standCounts } = counts({ plants: [30], row_length_ft: [17.424], row_spacing_in: [30] });
    expect(standCounts!.standPerHa[0]! / 2.4710538146716536).toBeCloseTo(30_000, 3);
    expect(standCounts!.plants[0]).toBe(30);
    expect(standCounts!.rowsCounted[0]).toBe(1);
    expect(standCounts!.rowLengthM[0]).toBeCloseTo(5.31084, 4);
  });

  it("several rows side by side, at the planter's row spacing", () => {
    const { standCounts, inputs } = counts(
      { plants: [120, 100], row_length_m: [5, 5], rows_counted: [4, 4] },
      { planter: { rowSpacing: "30 in" } },
    );
    expect(standCounts!.standPerHa[0]).toBeCloseTo((120 / (5 * 4 * 0.762)) * 10_000, 6);
    expect(inputs[1]!.notes).toMatchObject([{ effect: "assumed", count: 2 }]);
  });

  it("a hoop: 18 plants in 30 in are 18 x 8,874 plants/ac (exact geometry)", () => {
    const { standCounts } = counts({ plants: [18], hoop_in: [30] });
    expect(standCounts!.standPerHa[0]! / 2.4710538146716536 / 18).toBeCloseTo(8874, 0);
  });

  it("a stand given directly", () => {
    const { standCounts } = counts({ stand_ac: [31_000, 28_000] });
    expect(standCounts!.standPerHa[0]).toBeCloseTo(31_000 * 2.4710538146716536, 6);
    expect(standCounts!.plants[0]).toBeNaN();
    expect(standCounts!.rowUnit[0]).toBe(0);
  });

  it("late plants as a share, and how many leaf stages behind", () => {
    const { standCounts, inputs } = counts({
      plants: [30, 30, 30],
      row_length_ft: [17.424, 17.424, 17.424],
      row_spacing_in: [30, 30, 30],
      late_plants: [3, 0, 31],
      leaf_stages_behind: [2, Number.NaN, 1],
      row_unit: [4, Number.NaN, 12],
      method: ["on foot", null, "drone"],
    });
    expect([...standCounts!.lateShare]).toEqual([0.1, 0, Number.NaN]);
    expect([...standCounts!.leafStagesBehind]).toEqual([2, Number.NaN, 1]);
    expect([...standCounts!.rowUnit]).toEqual([4, 0, 12]);
    expect(standCounts!.method).toEqual(["on foot", null, "drone"]);
    expect(inputs[1]!.notes).toMatchObject([{ field: "late_plants", firstRecord: 3, value: "31" }]);
  });

  it("spacings as a list give their sample SD", () => {
    const { standCounts, inputs } = counts({ stand_ac: [31_000, 30_000], spacings_in: ["5; 6; 7", "six"] });
    expect(standCounts!.spacingSdMm![0]).toBeCloseTo(25.4, 9);
    expect(standCounts!.spacingSdMm![1]).toBeNaN();
    expect(inputs[1]!.notes).toMatchObject([{ field: "spacings_in", value: "six" }]);
    expect(() => counts({ stand_ac: [31_000], spacings: ["5; 6; 7"] })).toThrow(ChoiceNeededError);
  });

  it("leaves out a spot without a stand and counts it", () => {
    const { standCounts, inputs } = counts({ stand_ac: [31_000, Number.NaN, 30_000] });
    expect(standCounts!.spotCount).toBe(2);
    expect(inputs[1]).toMatchObject({ records: 3, used: 2, leftOut: 1 });
    expect(inputs[1]!.notes).toMatchObject([{ effect: "left out", firstRecord: 2, count: 1 }]);
  });

  it("refuses counts whose ground nobody knows, and counts of another field", () => {
    expect(() => counts({ plants: [30, 31] })).toThrow(NothingToAnalyseError);
    expect(() => counts({ plants: [30, 31] })).toThrow(
      /its columns are "plants"\. Needed are stand, or plants with rowLength/,
    );
    const json = parseManifest({ plantingLog: { file: "log" }, standCounts: { file: "counts.csv" } });
    const elsewhere = layer({ stand_ac: [31_000] }, { file: "counts.csv", x: [-93.6], y: [42.5] });
    expect(() => assembleField(json, { plantingLog: LOG, standCounts: elsewhere })).toThrow(
      FileUnusableError,
    );
  });
});

describe("digs", () => {
  it("a dug depth stands before one from the mesocotyl, which lies 19 mm higher", () => {
    const { digs: dug, inputs } = digs({
      row: [3, Number.NaN, 5],
      seed_depth_in: [2, Number.NaN, Number.NaN],
      mesocotyl_mm: [10, 25, Number.NaN],
    });
    expect([...dug!.depthMm]).toEqual([50.8, 44, Number.NaN]);
    expect([...dug!.rowUnit]).toEqual([3, 0, 5]);
    expect(inputs[1]!.notes).toMatchObject([{ effect: "converted", count: 1, field: "mesocotyl_mm" }]);
  });

  it("takes no depth from a mesocotyl of another crop", () => {
    const { digs: dug, inputs } = digs({ mesocotyl_mm: [25] }, { crop: "soybean" });
    expect(dug!.depthMm[0]).toBeNaN();
    expect(inputs[1]!.notes[0]!.reason).toContain("corn only");
  });

  it("knows its words and their usual variants, and says which it does not know", () => {
    const { digs: dug, inputs } = digs({
      depth_mm: [50, 48, 47, 51],
      smear: ["none", "Heavy", "slight", "greasy"],
      furrow: ["closed", "OPEN", null, "closed"],
      moisture: ["dry", "fit", "wet", ""],
      seed_state: ["fine", "Leafed_out underground", "rotten", "none"],
    });
    expect(dug!.smear).toEqual(["none", "heavy", "some", null]);
    expect(dug!.furrow).toEqual(["closed", "open", null, "closed"]);
    expect(dug!.moisture).toEqual(["dry", "fit", "damp", null]);
    expect(dug!.seedState).toEqual(["fine", "leafed out underground", "rotted", "none"]);
    expect(inputs[1]!.notes).toMatchObject([{ field: "smear", value: "greasy", firstRecord: 4, count: 1 }]);
    expect(inputs[1]!.notes[0]!.reason).toContain("none, some, heavy would be accepted");
  });
});

describe("weather", () => {
  const load = (columns: Record<string, ColumnValues>) => {
    const json = parseManifest({ plantingLog: { file: "log" }, weather: { file: "weather.csv" } });
    const crs = { basis: "standard", name: "no positions", definition: null } as const;
    return assembleField(json, {
      plantingLog: LOG,
      weather: layer(columns, { file: "weather.csv", geometry: "none", crs }),
    });
  };

  it("comes out in millimetres and degrees Celsius", () => {
    const { weather } = load({
      date: ["2026-04-24", "2026-04-25"],
      rain_in: [0.5, 0],
      tmin_f: [41, 50],
      tmax_f: [59, 68],
      soil_temp_c: [11, 12],
    });
    expect(weather!.time).toEqual(["2026-04-24", "2026-04-25"]);
    expect(weather!.rainMm[0]).toBeCloseTo(12.7, 9);
    expect(weather!.minimumC[0]).toBeCloseTo(5, 9);
    expect(weather!.maximumC[1]).toBeCloseTo(20, 9);
    expect(weather!.soilC[1]).toBe(12);
  });

  it("fills what is missing with nothing", () => {
    const { weather } = load({ date: ["2026-04-24"], rain_mm: [3] });
    expect(weather!.minimumC[0]).toBeNaN();
  });

  it("needs dates", () => {
    expect(() => load({ rain_mm: [3] })).toThrow(FileUnusableError);
  });
});
