/**
 * Published tables of yield by stand and planting date, as printed (percent of the best yield, plants per acre).
 * They disagree: at 20,000 plants/ac and the best date the three corn tables here say 92, 81 and 89 %.
 * Whoever shows a number from one of them names the table.
 */

export type StandDateTableId =
  | "corn-illinois-1994"
  | "corn-iowa-older"
  | "corn-iowa-2010"
  | "soybean-extension";

export interface StandDateTable {
  id: StandDateTableId;
  crop: "corn" | "soybean";
  /** For people, beside every number taken from it. */
  title: string;
  source: string;
  /** What the table does not hold for, or what we did to it. */
  limits: string;
  /** Planting dates, MM-DD, ascending; one row of `percent` each. */
  dates: readonly string[];
  /** Stands in thousand plants per acre, ascending; one column of `percent` each. */
  thousandPlantsPerAcre: readonly number[];
  /** Percent of the best yield, [date][stand]; null where the source could not be read. */
  percent: readonly (readonly (number | null)[])[];
}

export const CORN_ILLINOIS_1994: StandDateTable = {
  id: "corn-illinois-1994",
  crop: "corn",
  title: "stand by planting date, Illinois 1994",
  source:
    "Nafziger 1994, J. Prod. Agric. 7:59-62, as printed by Purdue Univ., Pest & Crop 2012 issue 15, table 1; rows after May 25 extrapolated there with the author's agreement",
  limits:
    "for fields above about 125 bu/ac; below about 100 bu/ac the source sees no response above 24,000 plants/ac",
  dates: [
    "04-10",
    "04-15",
    "04-20",
    "04-25",
    "04-30",
    "05-05",
    "05-10",
    "05-15",
    "05-20",
    "05-25",
    "05-30",
    "06-04",
    "06-09",
  ],
  thousandPlantsPerAcre: [10, 12, 14, 16, 18, 20, 22, 24, 26, 28, 30, 32, 34, 36],
  percent: [
    [62, 68, 73, 78, 82, 85, 88, 91, 92, 93, 94, 94, 93, 91],
    [65, 71, 76, 81, 85, 88, 91, 94, 95, 96, 97, 96, 96, 94],
    [67, 73, 78, 83, 87, 90, 93, 96, 97, 98, 99, 98, 98, 96],
    [68, 74, 79, 84, 88, 92, 94, 97, 98, 99, 100, 100, 99, 97],
    [68, 74, 79, 84, 88, 92, 95, 97, 99, 100, 100, 100, 99, 97],
    [67, 73, 79, 83, 87, 91, 94, 96, 98, 99, 99, 99, 98, 97],
    [65, 71, 77, 82, 86, 89, 92, 94, 96, 97, 97, 97, 96, 95],
    [63, 69, 74, 79, 83, 87, 89, 92, 93, 94, 95, 95, 94, 92],
    [59, 65, 71, 75, 80, 83, 86, 88, 90, 91, 91, 91, 90, 89],
    [55, 61, 66, 71, 75, 79, 81, 84, 85, 86, 87, 87, 86, 84],
    [49, 55, 61, 65, 70, 73, 76, 78, 80, 81, 81, 81, 80, 79],
    [43, 49, 54, 59, 63, 67, 70, 72, 74, 75, 75, 75, 74, 73],
    [36, 42, 47, 52, 56, 60, 62, 65, 66, 67, 68, 68, 67, 65],
  ],
};

/** Each printed date range is held flat from its first to its last day; so is the printed stand range 28-32. */
export const CORN_IOWA_OLDER: StandDateTable = {
  id: "corn-iowa-older",
  crop: "corn",
  title: "stand by planting date, Iowa (older table)",
  source: "Iowa State Univ. Extension, PM 1885, as printed in crop news of 2004-05-24 and 2006-05-23",
  limits: "date ranges; between two ranges we draw a straight line",
  dates: ["04-20", "05-05", "05-13", "05-19", "05-26", "06-01", "06-10", "06-16", "06-24", "06-28"],
  thousandPlantsPerAcre: [12, 16, 20, 24, 28, 32],
  percent: [
    [68, 74, 81, 94, 100, 100],
    [68, 74, 81, 94, 100, 100],
    [67, 73, 80, 93, 99, 99],
    [67, 73, 80, 93, 99, 99],
    [61, 67, 73, 85, 90, 90],
    [61, 67, 73, 85, 90, 90],
    [46, 50, 55, 64, 68, 68],
    [46, 50, 55, 64, 68, 68],
    [35, 38, 42, 49, 52, 52],
    [35, 38, 42, 49, 52, 52],
  ],
};

/**
 * Each printed date range is held flat from its first to its last day. The ranges touch: the day between two belongs to
 * the earlier, so the figure changes from that day to the next.
 */
export const CORN_IOWA_2010: StandDateTable = {
  id: "corn-iowa-2010",
  crop: "corn",
  title: "stand by planting date, Iowa 2010",
  source: "Iowa State Univ. Extension, crop news of 2010-05-03; the 20,000 figure from its text",
  limits:
    "date ranges; only the part that could be read: 30,000 and 35,000 plants/ac in full, thinner stands for early dates",
  dates: ["04-20", "05-05", "05-06", "05-15", "05-16", "05-25", "05-26", "06-05", "06-06", "06-15"],
  thousandPlantsPerAcre: [20, 25, 30, 35],
  percent: [
    [89, 95, 99, 100],
    [89, 95, 99, 100],
    [null, 91, 95, 96],
    [null, 91, 95, 96],
    [null, 83, 86, 87],
    [null, 83, 86, 87],
    [null, null, 69, 70],
    [null, null, 69, 70],
    [null, null, 53, 54],
    [null, null, 53, 54],
  ],
};

/** Percent of the best soybean yield by planting date (Pennsylvania State Univ. extension, field crop newsletter). */
export const SOYBEAN_DATE_PERCENT = {
  "05-10": 100,
  "05-20": 98,
  "05-30": 95,
  "06-10": 88,
  "06-20": 76,
} as const;

/**
 * Percent of the best soybean yield by even stand, thousand plants per acre. 46: 66 of 79 bu/ac (Purdue Univ. study,
 * 46,000 against 171,000); 70: the middle of 90 to 95 (Pennsylvania State Univ.; a multi-state extension group of
 * 2023 says 95 % at 70,000 to 75,000); 100 and more: no gain above 100,000 (Univ. of Minnesota).
 */
export const SOYBEAN_STAND_PERCENT: readonly (readonly [number, number])[] = [
  [46, (66 / 79) * 100],
  [70, 92.5],
  [100, 100],
  [171, 100],
];

export const SOYBEAN_EXTENSION: StandDateTable = {
  id: "soybean-extension",
  crop: "soybean",
  title: "soybean stand and planting date, extension figures",
  source:
    "Pennsylvania State Univ. (dates, 70,000 and 100,000 plants/ac), Purdue Univ. (46,000), Univ. of Minnesota (100,000)",
  limits:
    "even stands; two published series multiplied by us (our judgement); with 40 % of the row in gaps 70,000 plants/ac gave 83 % (Pennsylvania State Univ.)",
  dates: Object.keys(SOYBEAN_DATE_PERCENT),
  thousandPlantsPerAcre: SOYBEAN_STAND_PERCENT.map(([stand]) => stand),
  percent: Object.values(SOYBEAN_DATE_PERCENT).map((datePercent) =>
    SOYBEAN_STAND_PERCENT.map(([, standPercent]) => (datePercent * standPercent) / 100),
  ),
};

export const STAND_DATE_TABLES: readonly StandDateTable[] = [
  CORN_ILLINOIS_1994,
  CORN_IOWA_OLDER,
  CORN_IOWA_2010,
  SOYBEAN_EXTENSION,
];
