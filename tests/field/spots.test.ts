import { describe, expect, it } from "vitest";
import { ChoiceNeededError, FileUnusableError, NothingToAnalyseError } from "../../src/errors.ts";
import { assembleField } from "../../src/field/load.ts";
import { parseManifest } from "../../src/manifest/manifest.ts";
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

  it.each([
    ["plants per 17'5\"", 30],
    ["Plants_17ft5in", 30],
    ["plant count (17 ft 5 in)", 30],
    ["plants per 1/1000 acre", 30],
  ])("the ground in the name: %s", (name, plants) => {
    const { standCounts, inputs } = counts({ [name]: [plants, 28] }, { planter: { rowSpacing: "30 in" } });
    expect(inputs[1]!.recognised).toMatchObject([{ variable: "plants", column: name }]);
    // 17 ft 5 in of a 30 in row is 0.9996 of a thousandth of an acre (17 ft 5.09 in).
    expect(Math.abs(standCounts!.standPerHa[0]! / (30_000 * 2.4710538146716536) - 1)).toBeLessThan(0.0005);
    expect(standCounts!.plants[0]).toBe(30);
    expect(Math.abs(standCounts!.rowLengthM[0]! / 5.31084 - 1)).toBeLessThan(0.0005);
    expect(standCounts!.rowsCounted[0]).toBe(1);
  });

  it("a length in each cell, as people write it", () => {
    const { standCounts } = counts(
      { plants: [30, 31, 32, 33], row_length: ["17'5\"", "17 ft 5 in", "5.3 m", "half a row"] },
      { planter: { rowSpacing: "30 in" } },
    );
    expect([...standCounts!.rowLengthM].map((length) => Math.round(length * 1000))).toEqual([
      5309, 5309, 5300,
    ]);
    expect(standCounts!.spotCount).toBe(3);
  });

  it.each([
    [["row1", "row2", "row3", "row4"]],
    [["Row 1 plants", "Row 2 plants", "Row 3 plants", "Row 4 plants"]],
    [["plants_1", "plants_2", "plants_3", "plants_4"]],
  ])("one column per row counted: %j", (names) => {
    const columns = Object.fromEntries(
      names.map((name, row) => [name, [30 + row, row === 3 ? Number.NaN : 28]]),
    );
    const { standCounts, inputs } = counts(
      { ...columns, row_length_m: [5, 5] },
      { planter: { rowSpacing: "30 in" } },
    );
    expect(inputs[1]!.recognised[0]).toMatchObject({ variable: "plants" });
    expect([...standCounts!.plants]).toEqual([126, 84]);
    expect([...standCounts!.rowsCounted]).toEqual([4, 3]);
    expect(standCounts!.standPerHa[1]).toBeCloseTo((84 / (5 * 3 * 0.762)) * 10_000, 6);
  });

  it("leaf stages as two stages, as a range and as a number", () => {
    const { standCounts, inputs } = counts({
      stand_ac: [31_000, 30_000, 29_000, 28_000, 27_000, 26_000],
      leaf_stages_behind: ["V2/V3", "V1 vs V3", "1-2", "2 behind", "V3", null],
      date: ["May 22, 2026", "22 May 2026", "22-May-26", "2026/5/22", "5/22/2026", null],
    });
    expect([...standCounts!.leafStagesBehind]).toEqual([1, 2, 1.5, 2, Number.NaN, Number.NaN]);
    expect(inputs[1]!.notes).toMatchObject([
      { field: "leaf_stages_behind", value: "V3", firstRecord: 5, count: 1 },
    ]);
    expect(standCounts!.dates).toEqual([...new Array(5).fill("2026-05-22"), null]);
  });

  it("a leaf stage that may be the stage itself is asked about", () => {
    const columns = { stand_ac: [31_000, 30_000], leaf_stage: [4, 3] };
    expect(() => counts(columns)).toThrow(/may be the stage itself[\s\S]*"leafStages": "leaf_stage"/);
    const standCounts = { file: "counts.csv", columns: { leafStages: "leaf_stage" } };
    expect([...counts(columns, { standCounts }).standCounts!.leafStagesBehind]).toEqual([4, 3]);
    expect(counts({ ...columns, leaf_stage: ["V4/V3", "V3/V3"] }).standCounts!.leafStagesBehind[0]).toBe(1);
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

  it("reads depths with their units in the cells", () => {
    const { digs: dug, inputs } = digs({
      depth: ["1.5 in", '1 1/2"', "38 mm", "1½ in", "4 cm", "~2 in", "deep", "2"],
      smear: new Array(8).fill("none"),
    });
    // Rounded to a thousandth of a millimetre.
    expect([...dug!.depthMm].map((depth) => Math.round(depth * 1000) / 1000)).toEqual([
      38.1,
      38.1,
      38,
      38.1,
      40,
      50.8,
      Number.NaN,
      Number.NaN,
    ]);
    expect(inputs[1]!.recognised[0]).toMatchObject({ variable: "seedDepth", unit: "in" });
    // A bare number among cells with units may be in any of them.
    expect(inputs[1]!.notes).toMatchObject([{ field: "depth", value: "deep", firstRecord: 7, count: 2 }]);
    const named = digs({ depth_in: ["1.5 in", "2"] });
    expect([...named.digs!.depthMm].map((depth) => Math.round(depth * 1000) / 1000)).toEqual([38.1, 50.8]);
    const chosen = digs(
      { d: ["1.5 in", "40"] },
      { digs: { file: "digs.csv", columns: { seedDepth: { column: "d", unit: "mm" } } } },
    );
    expect(chosen.digs!.depthMm[0]).toBeCloseTo(38.1, 9);
    expect(chosen.digs!.depthMm[1]).toBeCloseTo(40, 9);
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
