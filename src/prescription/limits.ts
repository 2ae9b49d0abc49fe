/**
 * The figures the prescription decides with. Values are in inside units (N, m, s, shares); `farm` says them as
 * people do. Every row names its source or says that it is our judgement; documents and tests read this table.
 */
import { MARGIN_BANDS, type Threshold } from "../compare/thresholds.ts";
import { SETTING_BOUNDS } from "../manifest/prescription-bounds.ts";
import { LOAD_BOUNDS } from "../quantities/load-physics.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "../quantities/units.ts";
import type { TextureClass } from "../vocabulary/field.ts";
import type { Moisture } from "../vocabulary/moisture.ts";

const judgement = "our judgement, not a published figure";

export const LIMITS = {
  controlError: {
    value: 28 * LBF,
    unit: "N",
    farm: "28 lb",
    meaning:
      "SD of the load about its target, along the row and between row units, built into every expectation",
    source: judgement,
  },
  asGoodAsBest: {
    value: 0.003,
    unit: "share",
    farm: "0.3 plants in 100",
    meaning: "loads whose expected stand is within this of the best are one range",
    source: judgement,
  },
  worthChanging: {
    value: 0.002,
    unit: "share",
    farm: "0.2 plants in 100",
    meaning: "expected gain up to which today's load is kept",
    source: judgement,
  },
  narrowRange: {
    value: 60 * LBF,
    unit: "N",
    farm: "60 lb",
    meaning: "spread of load between counts (5 to 95 %) below which a zone teaches nothing about load",
    source: judgement,
  },
  fewestSpots: {
    value: 8,
    unit: "1",
    farm: "8 counts",
    meaning: "counts below which a zone teaches nothing about load",
    source: judgement,
  },
  taintedShare: {
    value: 0.2,
    unit: "share",
    farm: "20 %",
    meaning:
      "share of a zone under repair, traffic, sensor or speed findings from which its number is held back",
    source: judgement,
  },
  stateShare: {
    value: 0.1,
    unit: "share",
    farm: "10 %",
    meaning: "share of a zone that has to be planted in a state of the ground to know today's load in it",
    source: judgement,
  },
  largestStep: {
    value: 40 * LBF,
    unit: "N",
    farm: "40 lb",
    meaning: "largest step from today's load in one season",
    source: judgement,
  },
  rateStep: {
    value: 5 * LBF,
    unit: "N",
    farm: "5 lb",
    meaning: "loads are whole multiples of this",
    source: judgement,
  },
  smallestMargin: {
    value: 40 * LBF,
    unit: "N",
    farm: "40 lb",
    meaning: "smallest load prescribed where the user names none",
    source:
      "lower limit of the light load class of Hanna, Steward & Aldinger 2010, Appl. Eng. Agric. 26(4):551-556; its use as a limit is our judgement",
  },
  largestMargin: {
    value: 220 * LBF,
    unit: "N",
    farm: "220 lb",
    meaning: "largest load prescribed where the user names none",
    source: `${judgement}; the higher of two loads tried by Badua et al. 2021, Precis. Agric. (980 N)`,
  },
  leastMarginEver: {
    value: SETTING_BOUNDS.minimumMarginN.lowest,
    unit: "N",
    farm: "20 lb",
    meaning: "no setting goes below this: a load of zero, or lift, leaves the wheels off the ground",
    source: judgement,
  },
  mostMarginEver: {
    value: SETTING_BOUNDS.maximumMarginN.highest,
    unit: "N",
    farm: "350 lb",
    meaning: "no setting goes above this: no load on gauge wheels that was tried in public comes near it",
    source: `${judgement}; published trials end at 220 lb (Badua et al. 2021)`,
  },
  mostForceEver: {
    value: LOAD_BOUNDS.meanForceN,
    unit: "N",
    farm: "600 lb",
    meaning: "no added force above this is written for one row unit",
    source: "from memory of what down-force systems are sold for",
  },
  mostForceInTotal: {
    value: 20_000 * LBF,
    unit: "N",
    farm: "20,000 lb",
    meaning: "no added force above this is written for all row units together",
    source: judgement,
  },
  dampSteps: {
    value: 2,
    unit: "largest steps",
    farm: "twice the largest step",
    meaning:
      "how far a load may go down on damp ground in one season: less load there costs little and is undone at once, more is held to one step",
    source: judgement,
  },
  lag: {
    value: 10,
    unit: "s",
    farm: "10 s",
    meaning:
      "time the down-force system takes to follow a new target, where the user names neither it nor the kind of system",
    source: judgement,
  },
  lagAir: {
    value: 40,
    unit: "s",
    farm: "40 s",
    meaning: "the same for air bags, the slow end of 15 to 40 s",
    source: "trade pages, weak",
  },
  lagHydraulic: {
    value: 5,
    unit: "s",
    farm: "5 s",
    meaning: "the same for hydraulic cylinders, the slow end of 1 to 5 s",
    source: "trade pages, weak",
  },
  uncovered: {
    value: 0.05,
    unit: "share",
    farm: "5 %",
    meaning: "share of the planted ground outside boundary or soil map from which no rate file is written",
    source: judgement,
  },
  smallestArea: {
    value: 0.6,
    unit: "ha",
    farm: "1.5 ac",
    meaning: "smallest zone of a prescription, where the user names none",
    source: judgement,
  },
  smallestWidth: {
    value: 2,
    unit: "bar widths",
    farm: "2 bar widths",
    meaning: "narrowest zone of a prescription, where the user names none",
    source: judgement,
  },
  mostRates: {
    value: 8,
    unit: "loads",
    farm: "8 loads",
    meaning: "distinct loads in a prescription, where the user names no number; at most 16",
    source: "common practice, no source (from memory)",
  },
  mostPolygons: {
    value: 200,
    unit: "zones",
    farm: "200 zones",
    meaning: "zones in a file, where the user names no number",
    source: "common practice, no source (from memory)",
  },
  mostVertices: {
    value: 10_000,
    unit: "corners",
    farm: "10,000 corners",
    meaning: "corners of all zones in a file, where the user names no number",
    source: judgement,
  },
  gridCell: {
    value: 10,
    unit: "m",
    farm: "33 ft",
    meaning: "side of a cell of the grid task files, where the user names none",
    source: judgement,
  },
  lagsInZone: {
    value: 3,
    unit: "1",
    farm: "3 lags",
    meaning: "a zone is at least as long as this many lags at planting speed",
    source: judgement,
  },
  usualSpeed: {
    value: 2.235,
    unit: "m/s",
    farm: "5 mph",
    meaning: "planting speed where neither log nor manifest tells it",
    source: "common practice, no source",
  },
  digWithin: {
    value: 90,
    unit: "m",
    farm: "295 ft",
    meaning: "stretch after the start on which the setting is dug and checked",
    source: judgement,
  },
  plainSpotSd: {
    value: 0.03,
    unit: "share",
    farm: "3 plants in 100",
    meaning: "SD of the stand from spot to spot beyond counting, where the field's own cannot be worked out",
    source: judgement,
  },
  fieldOffset: {
    value: 30 * LBF,
    unit: "N",
    farm: "30 lb",
    meaning: "SD of what all knees of a field may be off the prior together",
    source: judgement,
  },
  caution: {
    value: 1.5,
    unit: "1",
    farm: "1.5 times",
    meaning:
      "the counts' variance is widened by this, since the response is not exactly of the assumed shape",
    source: `${judgement}, chosen on simulated fields of the tuning seeds`,
  },
} as const satisfies Record<string, Threshold>;

export interface NormalPrior {
  mean: number;
  sd: number;
}

/**
 * What is known of a zone's response before its counts: E(m) = e - lowSlope (low - m)+ - highSlope (m - high)+.
 * Knees in N; slopes as natural logarithm of the share of stand per N.
 */
export interface ResponsePrior {
  lowKnee: NormalPrior;
  highKnee: NormalPrior;
  logLowSlope: NormalPrior;
  logHighSlope: NormalPrior;
}

/**
 * Middle of the prior knees, lb, by state of the ground: set so that the best load before any counts lies in the
 * middle of MARGIN_BANDS. Our judgement.
 */
const KNEES_LBF: Readonly<Record<Moisture, { low: number; high: number }>> = {
  damp: { low: 32, high: 112 },
  fit: { low: 45, high: 200 },
  dry: { low: 70, high: 280 },
};

/** Heavier ground asks for somewhat more load to keep depth, lb. Our judgement. */
const LOW_KNEE_BY_TEXTURE_LBF: Readonly<Record<Exclude<TextureClass, null>, number>> = {
  sand: -8,
  "sandy loam": -4,
  loam: 0,
  "silt loam": 0,
  "clay loam": 3,
  clay: 4,
};

/** SD of the knees, lb, and of the natural logarithm of the slopes. Our judgement. */
const KNEE_SD_LBF = { low: 20, high: 45 } as const;
const LOG_SLOPE_SD = 0.5;

/** Prior response of a zone by its texture and the state of its ground. */
export function responsePrior(texture: TextureClass, moisture: Moisture): ResponsePrior {
  const { low, high } = KNEES_LBF[moisture];
  const byTexture = texture === null ? 0 : LOW_KNEE_BY_TEXTURE_LBF[texture];
  return {
    lowKnee: { mean: (low + byTexture) * LBF, sd: KNEE_SD_LBF.low * LBF },
    highKnee: { mean: high * LBF, sd: KNEE_SD_LBF.high * LBF },
    logLowSlope: { mean: Math.log(0.0016 / LBF), sd: LOG_SLOPE_SD },
    logHighSlope: { mean: Math.log(0.0009 / LBF), sd: LOG_SLOPE_SD },
  };
}

/**
 * Load in the state `to` that serves as `load` does in the state `from`: what lies between the middles of their
 * bands is added. Our judgement.
 */
export function bandShiftN(from: Moisture, to: Moisture): number {
  const middle = ([low, high]: readonly [number, number]): number => (low + high) / 2;
  return middle(MARGIN_BANDS[to]) - middle(MARGIN_BANDS[from]);
}
