/** What an invented field of a case is made of, and the sound field that it departs from. Farm units, as the cases are told. */

/** A rectangle of ground with a name, m east and north of the field's south-west corner. */
export interface Zone {
  name: string;
  west: number;
  east: number;
  south: number;
  north: number;
}

/** One row at one place: what anything in a case may hang on. */
export interface Spot {
  /** m east and north of the field's south-west corner. */
  x: number;
  y: number;
  /** Name of the soil zone, "" where none. */
  zone: string;
  /** Name of the seed lot, "" where none. */
  lot: string;
  /** 1..rows, from the left in travel. */
  row: number;
  /** 1..n in order of planting, of all passes. */
  pass: number;
  passes: number;
  /** YYYY-MM-DD. */
  date: string;
  /** True where the pass runs north. */
  north: boolean;
  /** Way to the nearer end of the pass, m. */
  fromEndM: number;
}

/** One value, or one for each spot. */
export type By<Value> = Value | ((spot: Spot) => Value);

export type LogColumn = "time" | "speed" | "depth" | "load" | "rate" | "skips" | "doubles" | "swath";

export interface CountSetup {
  /** How many, spread evenly over the field; left out where `at` names them. */
  number: number;
  /** True places of the counts, m, instead of an even spread. */
  at: readonly (readonly [number, number])[] | null;
  /** Rows side by side. */
  rows: number;
  /** Length of each, ft; 1/1000 ac where left out. */
  rowLengthFt: number | null;
  /** SD of the written position each way, m. */
  gpsErrorM: number;
  /** The row number is written (of the first row counted). */
  namesRow: boolean;
  /** Late plants were looked for. */
  looksForLate: boolean;
  /** Plants are written as plants/ac, a row's plants times this, instead of with their row length. */
  standPerPlant: number | null;
  /** Counted in a hoop of this diameter, in. */
  hoopIn: number | null;
  /** The diameter of the hoop is written. */
  namesHoop: boolean;
}

export interface DigSetup {
  x: number;
  y: number;
  row?: number;
  depthIn?: number;
  smear?: "none" | "some" | "heavy";
  furrow?: "closed" | "open" | "residue";
  moisture?: "dry" | "fit" | "damp";
  seedState?: "fine" | "swollen" | "rotted" | "leafed out underground" | "hollow" | "none";
}

/** Mild, dry days (7 to 19 C, soil at 13) from two weeks before planting to four after, but for these. */
export interface WeatherSetup {
  rainMm?: Readonly<Record<string, number>>;
  soilC?: Readonly<Record<string, number>>;
  airC?: Readonly<Record<string, readonly [number, number]>>;
}

export interface CaseSetup {
  seed: number;
  crop: "corn" | "soybean" | "other";
  rows: number;
  rowSpacingIn: number;
  /** Ground from the field's corner, m; as many lanes as fit. */
  eastM: number;
  widthM: number;
  lengthM: number;
  /** Way between two moments of the log, m. */
  stepM: number;
  /** One record a moment for the bar, for each four rows, or for each row. */
  records: "bar" | "section" | "row";
  /** Lane of each pass, 0..n from the west; null for every lane once. */
  lanes: readonly number[] | null;
  /** Date of a pass; the log starts each date at 13:00 UTC. */
  dateOf: (pass: number, passes: number) => string;
  soil: readonly Zone[] | null;
  lots: readonly Zone[] | null;
  boundary: boolean;
  /** Population wanted, seeds/ac. */
  target: number;
  /** Seeds/ac of the meter before skips and doubles; the target where null. */
  rate: By<number> | null;
  /** What the log reads. */
  depthIn: By<number>;
  depthSpreadIn: number;
  loadLbf: By<number>;
  loadSpreadLbf: By<number>;
  speedMph: By<number>;
  /** Shares, 0..1. */
  skips: By<number>;
  doubles: By<number>;
  columns: readonly LogColumn[];
  /** Columns beside them, by name. */
  moreColumns: Readonly<Record<string, By<number | string>>>;
  /** Other names of columns, by the name they have otherwise. */
  rename: Readonly<Record<string, string>>;
  /** Share of the seeds that come up, and of the plants that come late, 0..1. */
  emerged: By<number>;
  late: By<number>;
  /** SD of the patchiness of the stand, share; its range. */
  patchiness: number;
  patchRangeM: number;
  counts: Partial<CountSetup> | null;
  digs: readonly DigSetup[] | null;
  weather: WeatherSetup | null;
  /** Changes to field.json, key by key; null takes a key out. */
  manifest: Readonly<Record<string, unknown>>;
}

export const WIDTH_M = 365.76;
export const LENGTH_M = 410;

/** Corn, 16 rows at 30 in, 37 ac, three strips of soil, nothing wrong. */
export const SOUND: CaseSetup = {
  seed: 1,
  crop: "corn",
  rows: 16,
  rowSpacingIn: 30,
  eastM: 0,
  widthM: WIDTH_M,
  lengthM: LENGTH_M,
  stepM: 7,
  records: "bar",
  lanes: null,
  dateOf: () => "2026-04-24",
  soil: ["silt loam", "silty clay", "sandy loam"].map((name, strip) => ({
    name,
    west: -10,
    east: WIDTH_M + 10,
    south: strip === 0 ? -10 : (LENGTH_M / 3) * strip,
    north: strip === 2 ? LENGTH_M + 10 : (LENGTH_M / 3) * (strip + 1),
  })),
  lots: null,
  boundary: true,
  target: 34_000,
  rate: null,
  depthIn: 2,
  depthSpreadIn: 0.1,
  loadLbf: 110,
  loadSpreadLbf: 22,
  speedMph: 5.3,
  skips: 0.015,
  doubles: 0.008,
  columns: ["time", "speed", "depth", "load", "rate", "skips", "doubles", "swath"],
  moreColumns: {},
  rename: {},
  emerged: 0.94,
  late: 0.04,
  patchiness: 0.03,
  patchRangeM: 25,
  counts: { number: 60 },
  digs: null,
  weather: null,
  manifest: {},
};

export const SOUND_COUNTS: CountSetup = {
  number: 60,
  at: null,
  rows: 4,
  rowLengthFt: null,
  gpsErrorM: 1.5,
  namesRow: false,
  looksForLate: true,
  standPerPlant: null,
  hoopIn: null,
  namesHoop: true,
};
