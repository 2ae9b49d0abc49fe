/**
 * The numbers of the invented field Larkspur Draw, in the units a grower in the US Corn Belt writes. Every
 * number here is made up for the demonstration (no source): it is what was put in, for an analysis to find.
 */

export const ROW_UNITS = 24;
export const ROW_SPACING_M = 0.762;
export const BAR_WIDTH_M = ROW_UNITS * ROW_SPACING_M;
export const HEADLAND_LAPS = 2;

/** One hydraulic setting left all day; with the weight of a row unit it is what presses on the soil. */
export const DOWN_FORCE_SETTING_LBF = 150;
export const ROW_UNIT_WEIGHT_LBF = 165;

export const TARGET_DEPTH_IN = 2.0;
export const TARGET_SPEED_MPH = 5.3;
export const TARGET_POPULATION_PER_ACRE = 34_000;
/** Seeds the meters would drop without misses and multiples, 1/ac. */
export const METERED_RATE_PER_ACRE = 33_740;

export const PLANTING_DATES = { 1: "2026-04-24", 2: "2026-04-27" } as const;
export type PlantingDay = keyof typeof PLANTING_DATES;
export const COUNT_DATE = "2026-05-22";

/** Seconds between two records of a row unit. */
export const RECORD_INTERVAL_S = 2;

export const SOIL_TEXTURES = ["silt loam", "clay loam", "silty clay", "sandy loam"] as const;
export type SoilTexture = (typeof SOIL_TEXTURES)[number];

interface SoilNumbers {
  areaHa: number;
  /** Added to the gauge-wheel load on ordinary ground. */
  marginLbf: number;
  /** Relative change of the stand on ordinary ground. */
  standShare: number;
}

export const SOILS: Readonly<Record<SoilTexture, SoilNumbers>> = {
  "silt loam": { areaHa: 19, marginLbf: 4, standShare: 0.006 },
  "clay loam": { areaHa: 9, marginLbf: -3, standShare: -0.004 },
  "silty clay": { areaHa: 7, marginLbf: 2, standShare: -0.004 },
  "sandy loam": { areaHa: 6, marginLbf: -10, standShare: -0.012 },
};

export const PLACE_NAMES = ["knoll", "swaleDayTwo", "fastPasses", "pocket"] as const;
export type PlaceName = (typeof PLACE_NAMES)[number];

export interface GroundNumbers {
  /** Gauge-wheel load (down-force margin) before the wheels lift: mean and SD. Below 0 the log reads 0. */
  marginLbf: number;
  marginSdLbf: number;
  /** Sensed seeding depth of an ordinary row unit: mean and SD within a row unit. */
  depthIn: number;
  depthSdIn: number;
  speedMph: number;
  missShare: number;
  multipleShare: number;
  plantsPerAcre: number;
  /** Share of the plants that are late, and by how many leaves. */
  lateShare: number;
  leavesBehind: number;
}

export const ORDINARY_GROUND: GroundNumbers = {
  marginLbf: 115,
  marginSdLbf: 26,
  depthIn: 1.95,
  depthSdIn: 0.2,
  speedMph: TARGET_SPEED_MPH,
  missShare: 0.015,
  multipleShare: 0.008,
  plantsPerAcre: 31_900,
  lateShare: 0.03,
  leavesBehind: 1,
};

/** The places where the stand fell short. */
export const PLACES: Readonly<Record<PlaceName, GroundNumbers & { areaHa: number }>> = {
  // A normal load of mean 27.7 and SD 27.8 lbf, cut off at 0, is 30 lbf on average and 0 for 16 % of the time.
  knoll: {
    ...ORDINARY_GROUND,
    areaHa: 3.4,
    marginLbf: 27.7,
    marginSdLbf: 27.8,
    depthIn: 1.4,
    depthSdIn: 0.33,
    plantsPerAcre: 28_300,
    lateShare: 0.22,
    leavesBehind: 2,
  },
  swaleDayTwo: {
    ...ORDINARY_GROUND,
    areaHa: 3.0,
    marginLbf: 260,
    marginSdLbf: 35,
    depthIn: 2.05,
    depthSdIn: 0.22,
    plantsPerAcre: 30_300,
    lateShare: 0.18,
    leavesBehind: 2,
  },
  fastPasses: {
    ...ORDINARY_GROUND,
    areaHa: 2.6,
    marginLbf: 85,
    marginSdLbf: 32,
    depthIn: 1.9,
    depthSdIn: 0.38,
    speedMph: 8.1,
    missShare: 0.048,
    multipleShare: 0.012,
    plantsPerAcre: 30_000,
    lateShare: 0.05,
  },
  pocket: { ...ORDINARY_GROUND, areaHa: 1.1, plantsPerAcre: 24_200, lateShare: 0.08 },
};

/** The row unit whose depth stop slipped: shallow in every pass, load as elsewhere. */
export const SHALLOW_ROW = { rowUnit: 17, shallowerIn: 0.7, plantsPerAcre: 29_000, lateShareAdded: 0.05 };

/** The decoy: a dusty seed sensor on the first day. The seeds and the plants are there. */
export const DUSTY_SENSOR_ROW = {
  rowUnit: 5,
  day: 1 as PlantingDay,
  populationFactor: 0.92,
  missShareAdded: 0.07,
};

/** Natural spread between row units. */
export const ROW_SPREAD = { depthSdIn: 0.04, marginSdLbf: 6 };

/** Relative SD of the stand from place to place beyond chance, and how far it hangs together. */
export const STAND_NOISE = { share: 0.017, rangeM: 40 };
