/**
 * The one table of limits and response curves: where planting begins to hurt the stand and by how much.
 * Values are in inside units (mm, N, m/s, shares); `farm` says them as people do. Every row names its
 * source or says what kind of judgement it is; the documents and the tests read this table.
 */
import {
  MM_PER_INCH as INCH,
  NEWTONS_PER_POUND_FORCE as LBF,
  METRES_PER_SECOND_PER_MILE_PER_HOUR as MPH,
} from "../quantities/units.ts";

export interface Threshold {
  value: number;
  unit: string;
  /** The same figure in farm units. */
  farm: string;
  /** What it decides. */
  meaning: string;
  source: string;
}

const judgement = "our judgement, not a published figure";

export const THRESHOLDS = {
  depthTolerance: {
    value: 6,
    unit: "mm",
    farm: "1/4 in",
    meaning: "a seed within this of the target depth counts as on target",
    source: "common practice, no source",
  },
  populationTolerance: {
    value: 0.05,
    unit: "share",
    farm: "5 %",
    meaning: "a rate within this share of the target counts as on target",
    source: judgement,
  },
  speedTolerance: {
    value: 0.1,
    unit: "share",
    farm: "10 %",
    meaning: "a speed above the target by more than this share counts as off target",
    source: judgement,
  },
  shallowKnee: {
    value: 1.5 * INCH,
    unit: "mm",
    farm: "1.5 in",
    meaning: "corn seed above this depth begins to cost stand",
    source: "extension advice: never below 1.5 in (Thomison, Ohio State, 2017; Nafziger, Illinois)",
  },
  shallowKneeSoybean: {
    value: 1.0 * INCH,
    unit: "mm",
    farm: "1.0 in",
    meaning: "soybean seed above this depth begins to cost stand",
    source:
      "extension advice for soybeans: 1 to 1.5 in (Iowa State; Michigan State); that loss begins at its shallow end is our judgement",
  },
  shallowSlope: {
    value: 0.22 / INCH,
    unit: "share of stand per mm",
    farm: "22 points an inch",
    meaning: "stand lost per mm shallower than the knee",
    source: `${judgement}; direction from Thomison (Ohio State 2011-12) and Nemergut et al. 2021, Agron. J. 113:3351`,
  },
  deepKnee: {
    value: 2.55 * INCH,
    unit: "mm",
    farm: "2.55 in",
    meaning: "seed below this depth may cost stand in cold or wet ground",
    source: `${judgement}; contested between studies (Stewart et al. 2021, AGE 4:e20186)`,
  },
  deepKneeSoybean: {
    value: 2.0 * INCH,
    unit: "mm",
    farm: "2.0 in",
    meaning: "soybean seed below this depth costs stand on any ground",
    source:
      "at most 2 in (Iowa State); never below 2.5 in, emergence may be cut altogether (Michigan State); the slope is that of corn, our judgement",
  },
  deepSlope: {
    value: 0.16 / INCH,
    unit: "share of stand per mm",
    farm: "16 points an inch",
    meaning: "stand lost per mm deeper than the knee, cold or wet ground only",
    source: `${judgement}; contested between studies`,
  },
  unevenKnee: {
    value: 0.28 * INCH,
    unit: "mm",
    farm: "0.28 in",
    meaning:
      "spread (SD) of depth along the row, of records about 6 m long, above which the stand suffers; follows the logging interval",
    source: `${judgement}; the ordinary spread dug seed by seed, 0.2 to 0.35 in (from memory), is another figure: a record is a mean over metres`,
  },
  unevenSlope: {
    value: 0.5 / INCH,
    unit: "share of stand per mm",
    farm: "5 points a tenth of an inch",
    meaning: "stand lost per mm of spread above the knee",
    source: judgement,
  },
  lightKnee: {
    value: 40 * LBF,
    unit: "N",
    farm: "40 lb",
    meaning: "gauge-wheel load below this risks lost contact",
    source: `${judgement}, from the lower limit of the light load class of Hanna, Steward & Aldinger 2010, Appl. Eng. Agric. 26(4):551-556`,
  },
  lightSlope: {
    value: 0.0016 / LBF,
    unit: "share of stand per N",
    farm: "0.16 points a pound",
    meaning: "stand lost per N of load short of the knee, reading by reading",
    source: judgement,
  },
  noLoad: {
    value: 5 * LBF,
    unit: "N",
    farm: "5 lb",
    meaning: "a reading at or below this counts as gauge wheels without load",
    source: judgement,
  },
  noLoadShare: {
    value: 0.05,
    unit: "share",
    farm: "5 % of the time",
    meaning:
      "share of readings without load, of records about 6 m long, from which the ground counts as run light; follows the logging interval",
    source: `${judgement}; at a CV of 0.4 about 0.6 % of readings are without load, at 0.7 about 8 % (normal law)`,
  },
  lowMeanMargin: {
    value: 45 * LBF,
    unit: "N",
    farm: "45 lb",
    meaning: "mean load below which shallow and uneven seed is put down to the load",
    source: judgement,
  },
  heavyKneeWet: {
    value: 170 * LBF,
    unit: "N",
    farm: "170 lb",
    meaning: "load above which damp ground is pressed too hard",
    source: `${judgement}; direction from Hanna (Iowa State 2008): in wet ground only enough to keep the wheels touching`,
  },
  heavyKneeDry: {
    value: 280 * LBF,
    unit: "N",
    farm: "280 lb",
    meaning: "load above which other ground is pressed too hard",
    source: judgement,
  },
  heavySlope: {
    value: 0.0009 / LBF,
    unit: "share of stand per N",
    farm: "0.09 points a pound",
    meaning: "stand lost per N of load above the knee",
    source: judgement,
  },
  fastKnee: {
    value: 6.2 * MPH,
    unit: "m/s",
    farm: "6.2 mph",
    meaning: "speed above which bounce, spread and skips are put down to speed",
    source: `${judgement}; Ohio State 2002 advises at most 6 mph, most older planters were built for about 5 (Nebraska 2007)`,
  },
  fastShare: {
    value: 0.15,
    unit: "share",
    farm: "15 %",
    meaning: "speed above the field's usual speed (or the target) by this share counts as driven faster",
    source: judgement,
  },
  bandTolerance: {
    value: 0.1,
    unit: "share",
    farm: "10 %",
    meaning:
      "a load past an end of its target band by less than this share of that end is not held against the whole field",
    source: judgement,
  },
  mostOfField: {
    value: 0.5,
    unit: "share",
    farm: "50 %",
    meaning: "share of the readings off target from which the whole field is",
    source: judgement,
  },
  seedsAmiss: {
    value: 0.05,
    unit: "share",
    farm: "5 %",
    meaning:
      "skips, or doubles, over half of the field and of its rows from which the meters as a whole are at fault",
    source: "common practice, no source: 95 % of seeds singled is where a meter goes to the test stand",
  },
  missLoss: {
    value: 1,
    unit: "share of stand per share of misses",
    farm: "one plant a skip",
    meaning: "every skipped seed is a missing plant",
    source: "by definition",
  },
  smallestRegion: {
    value: 2000,
    unit: "m2",
    farm: "0.5 ac",
    meaning: "smallest group of cells that is looked at",
    source: judgement,
  },
  predictedLoss: {
    value: 0.025,
    unit: "share of stand",
    farm: "2.5 points",
    meaning: "predicted loss from which ground is looked at as one place",
    source: judgement,
  },
  smallestDeficit: {
    value: 0.03,
    unit: "share of target plants",
    farm: "3 points",
    meaning: "smallest loss of plants that is reported as a place",
    source: `${judgement}, chosen on simulated fields with nothing wrong`,
  },
  coldSoil: {
    value: 10,
    unit: "C",
    farm: "50 F",
    meaning: "soil colder than this in the first 24 to 48 hours after planting may chill the seed",
    source: "extension advice, Purdue Univ.",
  },
  beatingRain: {
    value: 25,
    unit: "mm",
    farm: "1 in",
    meaning: "rain in a day between planting and emergence that may crust bare ground",
    source: judgement,
  },
  wetRain: {
    value: 5,
    unit: "mm",
    farm: "0.2 in",
    meaning:
      "rain in a day, or between two plantings, that wets the seed zone; how long the ground stays damp after it goes by texture, drainage and drying",
    source: judgement,
  },
} as const satisfies Record<string, Threshold>;

type Band = readonly [number, number];

/**
 * Load on the gauge wheels to start digging from, by state of the ground, [low, high] N, as each origin has it: practice,
 * and what the published load classes make of it. Sand has no figure from practice of its own.
 */
export const START_LOADS = {
  damp: { practice: [50 * LBF, 80 * LBF], classes: [40 * LBF, 110 * LBF] },
  fit: { practice: [80 * LBF, 130 * LBF], classes: [110 * LBF, 200 * LBF] },
  dry: { practice: [130 * LBF, 200 * LBF], classes: [150 * LBF, 250 * LBF] },
  sand: { practice: null, classes: [40 * LBF, 150 * LBF] },
} as const satisfies Record<string, { practice: Band | null; classes: Band }>;

/** Where {@link START_LOADS} come from. */
export const START_LOADS_SOURCE = {
  practice: "from memory of practice; our judgement",
  classes:
    "derived by us from the load classes of Hanna, Steward & Aldinger 2010 (Appl. Eng. Agric. 26(4):551-556) and the direction in which wet and dry ground move them; no published table by soil",
} as const;

/** Load to aim for where nothing else is known, and what ground in another state is carried over by: that of practice. */
export const MARGIN_BANDS = {
  damp: START_LOADS.damp.practice,
  fit: START_LOADS.fit.practice,
  dry: START_LOADS.dry.practice,
} as const satisfies Record<string, Band>;

/** The wider interval of both origins, N: what is shown as a starting point. */
export function startLoads(state: keyof typeof MARGIN_BANDS, isSand: boolean): [number, number] {
  const { practice, classes } = START_LOADS[state];
  const bands: Band[] = isSand ? [practice, START_LOADS.sand.classes] : [practice, classes];
  return [Math.min(...bands.map(([low]) => low)), Math.max(...bands.map(([, high]) => high))];
}
