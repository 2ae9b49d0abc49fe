import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ManifestError } from "../../src/errors.ts";
import { parseManifest, parseManifestText } from "../../src/manifest/manifest.ts";
import { planterSetup, prices, targets } from "../../src/manifest/manifest-quantities.ts";

const LOG = { plantingLog: { file: "planting.zip" } };

/** Everything the manifest can hold, in the words of the documentation. */
const FULL = {
  schema: "evenstand/field/1",
  name: "Larkspur Draw",
  season: 2026,
  crop: "corn",
  planted: "2026-04-24",
  plantingLog: {
    file: "planting.zip",
    columns: { seedingDepth: { column: "DEPTH_IN", unit: "in", source: "sensed" }, misses: null },
  },
  soilZones: { file: "soil.geojson", zone: "texture", columns: {} },
  standCounts: { file: "counts.geojson", columns: {} },
  digs: { file: "digs.csv" },
  boundary: { file: "boundary.geojson" },
  seedLots: { file: "lots.geojson", zone: "lot" },
  weather: { file: "weather.csv" },
  yield: { file: "yield.geojson" },
  planter: {
    rowUnits: 24,
    rowSpacing: "30 in",
    rowUnitWeight: "165 lbf",
    wheelTrackRows: [7, 8, 17, 18],
    depthSensedRows: "all",
    loadSensedRows: [1, 6, 12, 18, 24],
    wings: [
      [1, 8],
      [9, 16],
      [17, 24],
    ],
  },
  targets: {
    seedingDepth: "2.0 in",
    population: "34000 seeds/ac",
    downForceMargin: ["60 lbf", "160 lbf"],
    speed: "5.5 mi/h",
  },
  prices: { grain: "4.50 USD/bu", expectedYield: "200 bu/ac", seed: "3.75 USD/1000" },
  prescription: {},
  trial: {},
};

function messageOf(json: unknown): string {
  try {
    parseManifest(json);
  } catch (error) {
    expect(error).toBeInstanceOf(ManifestError);
    return (error as Error).message;
  }
  throw new Error("the manifest was accepted");
}

describe("parseManifest", () => {
  it("accepts a full manifest and returns it as written", () => {
    expect(parseManifest(FULL)).toEqual(FULL);
  });

  it("accepts a planting log alone; all else is unknown", () => {
    const manifest = parseManifest(LOG);
    expect(planterSetup(manifest)).toMatchObject({ rowUnits: null, rowSpacingM: null, wings: [] });
    expect(targets(manifest)).toEqual({
      seedingDepthMm: null,
      populationPerHa: null,
      downForceMarginN: null,
      speedMetresPerSecond: null,
    });
    expect(prices(manifest)).toEqual({
      grainPerBushel: null,
      expectedBushelPerAcre: null,
      seedPer1000: null,
      currency: "USD",
    });
  });

  it.each([
    [{ plantinglog: { file: "a" } }, 'unknown key "plantinglog"; the nearest known key is "plantingLog"'],
    [{ ...LOG, standcount: {} }, 'unknown key "standcount"; the nearest known key is "standCounts"'],
    [
      { plantingLog: { file: "a", columns: { seedDepth: "D" } } },
      'unknown key "seedDepth" in plantingLog.columns; the nearest known key is "seedingDepth"',
    ],
    [
      { plantingLog: { file: "a", columns: { seedingDepth: { colunm: "D" } } } },
      'unknown key "colunm" in plantingLog.columns.seedingDepth; the nearest known key is "column"',
    ],
    [
      { ...LOG, targets: { depth: "2 in" } },
      'unknown key "depth" in targets; the nearest known key is "speed"',
    ],
  ])("names an unknown key, its place and the nearest known key: %j", (json, message) => {
    expect(messageOf(json)).toContain(message);
  });

  it.each([
    [null, "the manifest is null; write an object"],
    [{}, "plantingLog is missing; write an object"],
    [{ plantingLog: {} }, "plantingLog.file is missing; write text"],
    [{ plantingLog: { file: "" } }, "plantingLog.file is"],
    [{ plantingLog: { file: "a", columns: { speed: 5 } } }, "plantingLog.columns.speed is 5"],
    [{ plantingLog: { file: "a", columns: { speed: ["a", 3] } } }, "plantingLog.columns.speed[1] is 3"],
    [
      { plantingLog: { file: "a", columns: { speed: { column: "a", unit: 3 } } } },
      "plantingLog.columns.speed.unit is 3",
    ],
    [{ ...LOG, schema: "evenstand/field/2" }, 'schema is "evenstand/field/2"; write "evenstand/field/1"'],
    [{ ...LOG, planted: "24/4/2026" }, 'planted is "24/4/2026"; write a date as YYYY-MM-DD'],
    [{ ...LOG, planted: "2026-02-30" }, 'planted is "2026-02-30", which is not a day of the calendar'],
    [{ ...LOG, crop: "wheat" }, 'crop is "wheat"; write ("corn" | "soybean" | "other")'],
    [{ ...LOG, season: "2026" }, 'season is "2026"; write a number'],
    [{ ...LOG, planter: { rowUnits: 2.5 } }, "planter.rowUnits is 2.5; write a whole number"],
  ])("says what is wrong and what would be accepted: %j", (json, message) => {
    expect(messageOf(json)).toContain(message);
  });

  it.each([
    [{ targets: { seedingDepth: "2.0 lbf" } }, 'unit "lbf" of targets.seedingDepth does not fit'],
    [{ targets: { speed: "fast" } }, 'cannot read the quantity "fast" of targets.speed'],
    [{ targets: { seedingDepth: "-2 in" } }, 'targets.seedingDepth is "-2 in", which cannot be; 0.2 in'],
    [
      { targets: { population: "20 lb/ac" } },
      'targets.population is "20 lb/ac", a rate by weight, which cannot be read without the size of the seed; give "seedSize"',
    ],
    [
      { targets: { population: "1e9 kg/ha" }, seedSize: "3700 seeds/kg" },
      'targets.population is "1e9 kg/ha", with seedSize "3700 seeds/kg"',
    ],
    [{ targets: { population: "-20 lb/ac" }, seedSize: "1700 seeds/lb" }, "which cannot be; 2,024 seeds/ac"],
    [{ targets: { population: "34000 lbf" } }, 'unit "lbf" of targets.population does not fit'],
    [{ targets: { downForceMargin: ["60 lbf"] } }, "targets.downForceMargin[1] is missing"],
    [
      { targets: { downForceMargin: ["160 lbf", "60 lbf"] } },
      "targets.downForceMargin runs from 160 lbf to 60 lbf; write the lower limit first",
    ],
    [{ planter: { rowUnits: 12, wheelTrackRows: [7, 13] } }, "planter.wheelTrackRows names row unit 13"],
    [{ planter: { rowUnits: 12, wings: [[1, 14]] } }, "planter.wings[0] names row unit 14"],
    [{ planter: { wings: [[8, 1]] } }, "planter.wings[0] runs from 8 to 1"],
    [{ prices: { grain: "4.50 /bu" } }, 'cannot read "4.50 /bu" of prices.grain'],
    [{ prices: { grain: "4 USD/bu", seed: "3 EUR/1000" } }, "prices.grain is in USD and prices.seed in EUR"],
    [{ crop: "other", prices: { grain: "180 EUR/t" } }, "cannot be turned into bushels"],
  ])("checks quantities and row units: %j", (parts, message) => {
    expect(messageOf({ ...LOG, ...parts })).toContain(message);
  });

  it.each([
    [
      { seedingDepth: { column: "D", unit: "lbf" } },
      'plantingLog.columns.seedingDepth.unit is "lbf", which does not fit; write mm, cm, m, in, ft',
    ],
    [
      { speed: { column: "S", unit: "knots" } },
      'plantingLog.columns.speed.unit is "knots", which is not a known unit; write m/s, km/h, mi/h, mph',
    ],
    [
      { pass: { column: "P", unit: "in" } },
      'plantingLog.columns.pass.unit is "in", which does not fit; write no unit',
    ],
    [{ speed: { column: "S", source: "set" } }, "only seedingDepth has a source"],
  ])("checks the unit of a column: %j", (columns, message) => {
    expect(messageOf({ plantingLog: { file: "a", columns } })).toContain(message);
  });

  it.each([
    "../a.zip",
    "a/../../b.zip",
    "/etc/a.zip",
    "C:\\a.zip",
    "\\\\host\\a.zip",
    "file:///a.zip",
    "..\\a.zip",
  ])("keeps %j out unless told otherwise", (file) => {
    expect(messageOf({ plantingLog: { file } })).toContain(`plantingLog.file is "${file}"`);
    expect(parseManifest({ plantingLog: { file } }, { allowOutsidePaths: true }).plantingLog.file).toBe(file);
  });

  it.each(["a.zip", "sub/a.zip", "sub/../a.zip", "./a.zip", "..a.zip"])("lets %j in", (file) => {
    expect(parseManifest({ plantingLog: { file } }).plantingLog.file).toBe(file);
  });

  it("never throws anything but a ManifestError, whatever the JSON", () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.constantFrom(...Object.keys(FULL)), (value, key) => {
        for (const json of [value, { ...FULL, [key]: value }]) {
          try {
            parseManifest(json);
          } catch (error) {
            expect(error).toBeInstanceOf(ManifestError);
          }
        }
      }),
    );
  });
});

describe("parseManifestText", () => {
  it("reads text with a byte order mark", () => {
    expect(parseManifestText(`\uFEFF${JSON.stringify(LOG)}`)).toEqual(LOG);
  });

  it("names the file that is not JSON", () => {
    expect(() => parseManifestText("{ nothing", { file: "north.json" })).toThrow(/north\.json is not JSON/);
  });
});

describe("quantities", () => {
  const manifest = parseManifest(FULL);

  it("come out in inside units", () => {
    expect(planterSetup(manifest).rowSpacingM).toBeCloseTo(0.762, 12);
    expect(planterSetup(manifest).rowUnitWeightN).toBeCloseTo(165 * 4.4482216152605, 9);
    expect(targets(manifest).seedingDepthMm).toBeCloseTo(50.8, 12);
    expect(targets(manifest).downForceMarginN?.[0]).toBeCloseTo(60 * 4.4482216152605, 9);
    expect(targets(manifest).speedMetresPerSecond).toBeCloseTo(5.5 * 0.44704, 12);
  });

  it("bring prices by weight to the bushel (56 lb corn, 60 lb soybeans)", () => {
    const priced = (crop: string, given: object) => prices(parseManifest({ ...LOG, crop, prices: given }));
    // 1000 kg / 25.40117272 kg = 39.368 bu of corn a tonne.
    expect(priced("corn", { grain: "180 EUR/t" }).grainPerBushel).toBeCloseTo(180 / 39.36826, 4);
    expect(priced("soybean", { grain: "0.4 EUR/kg" }).grainPerBushel).toBeCloseTo(0.4 * 27.2155422, 9);
    // 1 Mg/ha of corn is 15.93 bu/ac.
    expect(priced("corn", { expectedYield: "10 t/ha" }).expectedBushelPerAcre).toBeCloseTo(159.3, 1);
    expect(priced("corn", { seed: "300 USD/80,000" }).seedPer1000).toBeCloseTo(3.75, 12);
  });
});

describe("units in percent of the target", () => {
  const withUnit = (variable: string) =>
    parseManifest({ plantingLog: { file: "a", columns: { [variable]: { column: "P", unit: "%" } } } });

  it("fit a population and no other density", () => {
    expect(() => withUnit("population")).not.toThrow();
    expect(() => withUnit("targetPopulation")).toThrow(/targetPopulation\.unit is "%", which does not fit/);
  });
});
