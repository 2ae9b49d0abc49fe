import { describe, expect, it } from "vitest";
import { recogniseColumns } from "../../src/recognise/recognise.ts";
import type { RecogniseOptions } from "../../src/recognise/recognition.ts";
import { LOG_CATALOGUE } from "../../src/vocabulary/catalogue-log.ts";
import { COUNT_CATALOGUE, DIG_CATALOGUE } from "../../src/vocabulary/catalogue-spots.ts";
import { type ColumnValues, layer } from "./layers.ts";

const RECORDS = 200;

/** Values about a middle, spread by a tenth to either side. */
function around(middle: number, spread = 0.1): number[] {
  return Array.from({ length: RECORDS }, (_, i) => middle * (1 + spread * Math.sin(i * 1.7)));
}

function recognise(columns: Record<string, ColumnValues>, options: Partial<RecogniseOptions> = {}) {
  return recogniseColumns(layer(columns), LOG_CATALOGUE, { role: "plantingLog", ...options });
}

describe("names of log columns", () => {
  // Full words, words run together, usual abbreviations and names cut at ten letters.
  it.each([
    ["Speed_mph_", around(5.5), "speed", "mi/h"],
    ["GroundSpeed (km/h)", around(8), "speed", "km/h"],
    ["Vehicle speed [m/s]", around(2.4), "speed", "m/s"],
    ["GPS_Speed_mph", around(5.5), "speed", "mi/h"],
    ["Fan_speed_mph", around(5.5), null, null],
    ["RowUnitDownforce_lbf", around(150), "downForce", "lbf"],
    ["SPEED_KPH", around(8), "speed", "km/h"],
    ["DEPTH_IN", around(2), "seedingDepth", "in"],
    ["SeedingDepthActual_mm", around(50), "seedingDepth", "mm"],
    ["Seed depth (in)", around(2), "seedingDepth", "in"],
    ["seed_depth_cm", around(5), "seedingDepth", "cm"],
    ["Planting Depth mm", around(50), "seedingDepth", "mm"],
    ["Tgt_Depth_in", around(2), "targetDepth", "in"],
    ["SeedingDepthTarget_mm", around(50), "targetDepth", "mm"],
    ["DepthSet_in", around(2), "targetDepth", "in"],
    ["Soil depth in", around(2), null, null],
    ["Depth_SD_in", around(0.3), null, null],
    ["DownForce_N", around(700), "downForce", "N"],
    ["Downforce (lbf)", around(150), "downForce", "lbf"],
    ["Dn_Frc_lbs", around(150), "downForce", "lbf"],
    ["DownforceMargin_N", around(600), "downForceMargin", "N"],
    ["Gauge Wheel Load (lb)", around(120), "downForceMargin", "lbf"],
    ["GW_Load_daN", around(60), "downForceMargin", "daN"],
    ["MARGIN_LBF", around(120), "downForceMargin", "lbf"],
    ["Ground_Con", around(95, 0.02), "groundContact", "%"],
    ["GroundContact_pct", around(95, 0.02), "groundContact", "%"],
    ["Singulatio", around(97, 0.02), "singulation", "%"],
    ["SINGUL_PCT", around(97, 0.02), "singulation", "%"],
    ["Singulation (share)", around(0.97, 0.02), "singulation", "share"],
    ["Doubles_%", around(1.2), "multiples", "%"],
    ["SeedMultiples_pct", around(1.2), "multiples", "%"],
    ["Skips %", around(2), "misses", "%"],
    ["MISS_PCT", around(2), "misses", "%"],
    ["Rt_Apd_Ct_", around(34_000), "population", "seeds/ac"],
    ["AppliedRate (seeds/ac)", around(34_000), "population", "seeds/ac"],
    ["POP_AC", around(34_000), "population", "seeds/ac"],
    ["Population_ksds_ac", around(34), "population", "1000 seeds/ac"],
    ["AppliedCountPerAreaActual_ha", around(84_000), "population", "seeds/ha"],
    ["Tgt_Rate_k", around(36), "targetPopulation", "1000 seeds/ac"],
    ["Target population (seeds/ha)", around(84_000), "targetPopulation", "seeds/ha"],
    ["SpacingCV_pct", around(22), "spacingVariation", "%"],
    ["Spacing variation (share)", around(0.22), "spacingVariation", "share"],
    ["Track_deg_", around(180, 0.9), "heading", "deg"],
    ["HEADING", around(180, 0.9), "heading", "deg"],
    ["Distance_f", around(8), "distance", "ft"],
    ["Swth_Wdth_", around(60, 0), "swathWidth", "ft"],
    ["Swath width (m)", around(18, 0), "swathWidth", "m"],
    ["Y_Offset_f", around(12, 2), "lateralOffset", "ft"],
    ["Lateral offset m", around(3, 2), "lateralOffset", "m"],
    ["Duration_s", around(1), "duration", "s"],
    ["ROW_UNIT", Array.from({ length: RECORDS }, (_, i) => 1 + (i % 24)), "rowUnit", "1"],
    ["Row", Array.from({ length: RECORDS }, (_, i) => 1 + (i % 8)), "rowUnit", "1"],
    ["Pass_Num", Array.from({ length: RECORDS }, (_, i) => 1 + Math.floor(i / 50)), "pass", "1"],
    ["Section", Array.from({ length: RECORDS }, (_, i) => 1 + (i % 4)), "section", "1"],
    ["SeedLot", Array.from({ length: RECORDS }, () => "A-17"), "seedLot", "1"],
    ["Hybrid", Array.from({ length: RECORDS }, () => "A-17"), "seedLot", "1"],
    ["Working", Array.from({ length: RECORDS }, (_, i) => i % 2), "working", "1"],
    ["Elevation_", around(1018, 0.01), null, null],
    ["Seed_Cnt__", around(500), null, null],
    ["Obj__Id", Array.from({ length: RECORDS }, (_, i) => i + 1), null, null],
    ["RideQuality", around(0.9), null, null],
    ["Engine_rpm", around(1900), null, null],
    ["Hopper_lb", around(120), null, null],
  ])("%s", (name, values, variable, unit) => {
    const result = recognise({ [name]: values });
    expect(result.open).toEqual([]);
    if (variable === null) {
      expect(result.recognised).toEqual([]);
      expect(result.unrecognised).toEqual([name]);
    } else {
      expect(result.recognised).toHaveLength(1);
      expect(result.recognised[0]).toMatchObject({ variable, column: name, unit });
      expect(result.recognised[0]!.reason).not.toBe("");
    }
  });

  it("takes the actual value, not the target or the commanded one", () => {
    const { recognised } = recognise({
      ControlRate_k: around(34),
      TargetRate_k: around(35),
      AppliedRate_k: around(33),
    });
    expect(recognised.map(({ variable, column }) => [variable, column])).toEqual([
      ["population", "AppliedRate_k"],
      ["targetPopulation", "TargetRate_k"],
    ]);
  });

  it("is surer of a full name than of a vague one, and surest of the manifest", () => {
    const confidence = (name: string, choices = {}) =>
      recognise({ [name]: around(150) }, { choices }).recognised[0]!.confidence;
    expect(confidence("Force_lbf")).toBeLessThan(confidence("Down_Force_lbf"));
    expect(confidence("Q7", { downForce: { column: "Q7", unit: "lbf" } })).toBe(1);
  });
});

describe("units told from the values", () => {
  it.each([
    ["Depth", around(2), "seedingDepth", "in"],
    ["Depth", around(5), "seedingDepth", "cm"],
    ["Depth", around(50), "seedingDepth", "mm"],
    ["Population", around(34_000), "population", "seeds/ac"],
    ["Population", around(34), "population", "1000 seeds/ac"],
    ["Population", around(84_000), "population", "seeds/ha"],
    ["Singulation", around(98, 0.01), "singulation", "%"],
    ["Singulation", around(0.98, 0.01), "singulation", "share"],
    ["Contact", around(0.97, 0.02), "groundContact", "share"],
    ["Skips", around(2), "misses", "%"],
    ["SpacingCV", around(0.25), "spacingVariation", "share"],
    ["SwathWidth", around(60, 0), "swathWidth", "ft"],
  ])("%s about %j", (name, values, variable, unit) => {
    const { recognised } = recognise({ [name]: values });
    expect(recognised).toMatchObject([{ variable, unit }]);
    expect(recognised[0]!.reason).toContain(`unit ${unit}: the only unit in which the values are usual`);
  });

  it("reads soybean populations by the crop", () => {
    const options = { hints: { crop: "soybean" } } as const;
    expect(recognise({ Population: around(140_000) }, options).recognised).toMatchObject([
      { unit: "seeds/ac" },
    ]);
    expect(recognise({ Population: around(350_000) }, options).recognised).toMatchObject([
      { unit: "seeds/ha" },
    ]);
    expect(recognise({ Population: around(140) }, options).recognised).toMatchObject([
      { unit: "1000 seeds/ac" },
    ]);
  });
});

describe("units told from other columns", () => {
  it.each([
    ["mi/h", 1],
    ["km/h", 1.609344],
    ["m/s", 0.44704],
  ])("speed by distance and duration: %s", (unit, factor) => {
    const metres = around(2.46);
    const columns = {
      Speed: metres.map((m) => (m / 0.44704) * factor),
      Distance_m: metres,
      Duration_s: around(1, 0),
    };
    expect(recognise(columns).recognised.find(({ variable }) => variable === "speed")).toMatchObject({
      unit,
    });
  });

  it("distance by the steps between positions", () => {
    const hints = { stepMetres: 2.5 };
    expect(
      recognise({ Distance: around(2.5), MARGIN_N: around(500) }, { hints }).recognised[0],
    ).toMatchObject({ unit: "m" });
    expect(
      recognise({ Distance: around(8.2), MARGIN_N: around(500) }, { hints }).recognised[0],
    ).toMatchObject({ unit: "ft" });
  });

  it("population by the target", () => {
    // 40,000 may be seeds an acre or a hectare; a target of 40 thousand an acre settles it.
    expect(recognise({ Rate: around(40_000, 0.02) }).open).toHaveLength(1);
    const { recognised } = recognise({ Rate: around(40_000, 0.02), Tgt_Rate_k: around(40, 0) });
    expect(recognised).toMatchObject([
      { variable: "population", unit: "seeds/ac" },
      { variable: "targetPopulation", unit: "1000 seeds/ac" },
    ]);
  });

  it("depth by the manifest's target", () => {
    // 3.0 may be inches (76 mm) or centimetres (30 mm).
    expect(recognise({ Depth: around(3, 0.02) }).open).toHaveLength(1);
    const expected = { seedingDepth: { value: 31.75, source: "targets.seedingDepth of the manifest" } };
    const { recognised } = recognise({ Depth: around(3, 0.02) }, { hints: { expected } });
    expect(recognised).toMatchObject([{ unit: "cm" }]);
    expect(recognised[0]!.reason).toContain("agrees with targets.seedingDepth");
  });

  it("force by the other force, and misses by singulation", () => {
    const { recognised, open } = recognise({
      DownForce_lbf: around(150),
      Margin: around(130),
      Singulation: around(98, 0.01),
      Skips: around(0.4),
    });
    expect(open).toEqual([]);
    expect(Object.fromEntries(recognised.map(({ variable, unit }) => [variable, unit]))).toEqual({
      downForce: "lbf",
      downForceMargin: "lbf",
      singulation: "%",
      misses: "%",
    });
  });

  it("a margin by the units of two other columns, but not of one", () => {
    const margin = around(160);
    const two = recognise({ Margin: margin, Speed_mph: around(5), Swath_ft: around(60, 0) });
    expect(two.recognised.find(({ variable }) => variable === "downForceMargin")).toMatchObject({
      unit: "lbf",
    });
    const one = recognise({ Margin: margin, Speed_mph: around(5) });
    expect(one.open.map(({ variable }) => variable)).toEqual(["downForceMargin"]);
    // Units that were themselves told from values count half.
    const told = recognise({ Margin: margin, Depth: around(2), Population: around(34_000) });
    expect(told.open.map(({ variable }) => variable)).toEqual(["downForceMargin"]);
    const both = recognise({
      Margin: margin,
      Speed_mph: around(5),
      Depth: around(2),
      Population: around(34_000),
    });
    expect(both.open).toEqual([]);
    const mixed = recognise({
      Margin: margin,
      Speed_mph: around(5),
      Depth_in: around(2),
      Swath_m: around(18, 0),
    });
    expect(mixed.open.map(({ variable }) => variable)).toEqual(["downForceMargin"]);
  });
});

describe("choices left to the user", () => {
  it("two columns that fit about equally", () => {
    const { open } = recognise({ Speed_mph: around(5), SPEED_KPH: around(9) });
    expect(open).toMatchObject([
      { variable: "speed", lines: ['"speed": "Speed_mph"', '"speed": "SPEED_KPH"', '"speed": null'] },
    ]);
  });

  it("two columns with the same values are one", () => {
    const { open, recognised, notes } = recognise({ Speed_mph: around(5), Speed: around(5) });
    expect(open).toEqual([]);
    expect(recognised).toMatchObject([{ variable: "speed", column: "Speed_mph" }]);
    expect(notes).toMatchObject([{ field: "Speed", effect: "left out" }]);
  });

  it("one measure in two units is one, too", () => {
    const speed = around(5).map((mph) => Math.round(mph * 100) / 100);
    const kph = speed.map((mph) => Math.round(mph * 16.09344) / 10);
    const { open, recognised } = recognise({ Speed_mph: speed, Speed_kph: kph });
    expect(open).toEqual([]);
    expect(recognised).toMatchObject([{ column: "Speed_mph", unit: "mi/h" }]);
  });

  it("a speed of 6 with nothing to compare it to", () => {
    const { open } = recognise({ Speed: around(6) });
    expect(open).toHaveLength(1);
    expect(open[0]!.question).toContain('the unit of the column "Speed" (speed) cannot be told');
    expect(open[0]!.lines).toEqual([
      '"speed": {"column":"Speed","unit":"mi/h"}',
      '"speed": {"column":"Speed","unit":"km/h"}',
      '"speed": null',
    ]);
  });

  it("a unit in the name that the values contradict", () => {
    const { open } = recognise({ DEPTH_IN: around(50) });
    expect(open[0]!.lines).toContain('"seedingDepth": {"column":"DEPTH_IN","unit":"mm"}');
  });

  it("each line settles its choice", () => {
    const columns = { Speed: around(6), Depth: around(3) };
    const first = recognise(columns);
    expect(first.open).toHaveLength(2);
    for (const { variable, lines } of first.open) {
      for (const line of lines) {
        const choices = JSON.parse(`{${line}}`);
        expect(recognise(columns, { choices }).open.map((one) => one.variable)).not.toContain(variable);
      }
    }
  });
});

describe("traps", () => {
  it("a sensor that is zero throughout is not there", () => {
    const { recognised, notes } = recognise({ DEPTH_IN: new Array(RECORDS).fill(0), Speed_mph: around(5) });
    expect(recognised.map(({ variable }) => variable)).toEqual(["speed"]);
    expect(notes).toMatchObject([{ field: "DEPTH_IN", effect: "left out" }]);
    expect(notes[0]!.reason).toContain("is zero throughout");
  });

  it("zeros among values stay values", () => {
    const margin = around(120).map((value, i) => (i % 5 === 0 ? 0 : value));
    const { found } = recognise({ MARGIN_LBF: margin });
    expect(found.get("downForceMargin")!.numbers[0]!.filter((value) => value === 0)).toHaveLength(40);
  });

  it.each([-9999, 9999, 65535, 6553.5, 32767, -32768, 2147483647, 3.4028234663852886e38])(
    "%d among values is no value",
    (mark) => {
      const depth = around(2).map((value, i) => (i === 17 || i === 30 ? mark : value));
      const { found, notes } = recognise({ DEPTH_IN: depth });
      const values = found.get("seedingDepth")!.numbers[0]!;
      expect(values.filter((value) => Number.isNaN(value))).toHaveLength(2);
      expect(Number.isNaN(values[17]!)).toBe(true);
      expect(notes).toMatchObject([{ field: "DEPTH_IN", count: 2, firstRecord: 18, value: String(mark) }]);
    },
  );

  it("65535 among populations of that size is a value", () => {
    const population = around(62_000).map((value, i) => (i === 17 ? 65_535 : value));
    const { found, notes } = recognise({ Population_ha: population });
    expect(found.get("population")!.numbers[0]![17]).toBe(65_535);
    expect(notes).toEqual([]);
  });

  it("a column without values, and text where numbers belong", () => {
    const { recognised, notes } = recognise({
      Speed_mph: new Array(RECORDS).fill(Number.NaN),
      Depth_in: new Array(RECORDS).fill("deep"),
    });
    expect(recognised).toEqual([]);
    expect(notes.map(({ field, reason }) => `${field} ${reason}`)).toEqual([
      "Speed_mph has no values; not used as speed",
      'Depth_in is text where numbers are expected (first value "deep"); not used as seedingDepth',
    ]);
  });

  it("the input columns are not changed", () => {
    const values = Float64Array.from(around(2));
    values[3] = -9999;
    const input = layer({ DEPTH_IN: values });
    const before = structuredClone(input.columns);
    recogniseColumns(input, LOG_CATALOGUE, { role: "plantingLog" });
    expect(input.columns).toEqual(before);
  });
});

describe("one column per row unit", () => {
  const family = (count: number, name: (unit: number) => string) =>
    Object.fromEntries(Array.from({ length: count }, (_, i) => [name(i + 1), around(2 + i / 50)]));

  it("columns numbered from 1 are taken together", () => {
    const { recognised, found, unrecognised } = recognise(family(12, (unit) => `Depth_${unit}_in`));
    expect(recognised).toMatchObject([
      { variable: "seedingDepth", column: "Depth_1_in … Depth_12_in", unit: "in" },
    ]);
    expect(recognised[0]!.reason).toContain("12 columns: one per row unit");
    expect(found.get("seedingDepth")!.numbers).toHaveLength(12);
    expect(unrecognised).toEqual([]);
  });

  it("also with the row named in front", () => {
    const columns = Object.fromEntries(
      Array.from({ length: 8 }, (_, i) => [`Row${i + 1}_Margin_lbf`, around(120 + i)]),
    );
    expect(recognise(columns).recognised).toMatchObject([
      { variable: "downForceMargin", column: "Row1_Margin_lbf … Row8_Margin_lbf", unit: "lbf" },
    ]);
  });

  it("but not where a number is missing", () => {
    const columns = family(12, (unit) => `Depth_${unit}_in`);
    delete columns.Depth_5_in;
    const { recognised, open } = recognise(columns);
    expect(recognised).toEqual([]);
    expect(open.map(({ variable }) => variable)).toEqual(["seedingDepth"]);
  });
});

describe("counts and digs", () => {
  it("tells plants from plants an acre", () => {
    const of = (columns: Record<string, ColumnValues>) =>
      recogniseColumns(layer(columns), COUNT_CATALOGUE, { role: "standCounts" }).recognised;
    expect(of({ plants: [30, 31, 29] })).toMatchObject([{ variable: "plants", unit: "1" }]);
    expect(of({ plants_ac: [30_000, 31_000, 29_000] })).toMatchObject([
      { variable: "stand", unit: "plants/ac" },
    ]);
    expect(of({ "Stand (plants/ha)": [80_000, 79_000] })).toMatchObject([
      { variable: "stand", unit: "plants/ha" },
    ]);
    expect(of({ late_pct: [3, 8, 12] })).toMatchObject([{ variable: "lateShare", unit: "%" }]);
    expect(of({ late_plants: [3, 8, 12] })).toMatchObject([{ variable: "latePlants", unit: "1" }]);
  });

  it("knows the columns of a dig", () => {
    const { recognised } = recogniseColumns(
      layer({
        row: [3, 4],
        depth_in: [1.5, 2],
        mesocotyl_mm: [20, 30],
        smear: ["none", "some"],
        seed: ["fine", "rotted"],
      }),
      DIG_CATALOGUE,
      { role: "digs" },
    );
    expect(recognised.map(({ variable }) => variable)).toEqual([
      "rowUnit",
      "seedDepth",
      "mesocotylLength",
      "smear",
      "seedState",
    ]);
  });
});
