/**
 * What each variable is called in files and how large it usually is: the table that recognition reads.
 * Typical ranges are those of the middle of a column and choose a unit; possible ranges bound single values.
 * Both are our judgement of ordinary corn and soybean planting unless a source stands beside them.
 */
import type { Dimension } from "../units.ts";

/** One way to name a variable: canonical words (see `column-words.ts`) that must all be there. */
export interface NamePattern {
  words: readonly string[];
  /** 0..1: how sure the name is when nothing else stands in it. */
  weight: number;
  /** The name must also end with a unit of this dimension. */
  needs?: Dimension;
}

export type ValueKind = "quantity" | "number" | "label" | "time" | "flag" | "category" | "list";

export interface VariableDescription {
  kind: ValueKind;
  /** Dimension of a quantity. */
  dimension?: Dimension;
  /** Unit inside the library. */
  insideUnit?: string;
  patterns: readonly NamePattern[];
  /** Words that rule the variable out. */
  not?: readonly string[];
  /** Units considered when the name has none; else those of the dimension would be too many. */
  candidateUnits?: readonly string[];
  /** Low and high end of the usual middle of the column (see `middle`), inside unit. */
  typical?: readonly [number, number];
  /** Which figure of the column `typical` speaks of. Default the median of the values that are not zero. */
  middle?: "median" | "p95";
  /** Single values beyond these are not possible and are left out, inside unit. */
  possible?: readonly [number, number];
  /** A column that is zero throughout is a sensor that is not there. */
  zeroMeansAbsent?: boolean;
}

const pattern = (words: string, weight: number, needs?: Dimension): NamePattern => ({
  words: words.split(" "),
  weight,
  ...(needs === undefined ? {} : { needs }),
});

const SHARE_UNITS = ["%", "share"] as const;
const FORCE_UNITS = ["lbf", "N", "daN", "kgf"] as const;
const OTHER_STATISTIC = ["deviation", "variation"] as const;
const ASKED_FOR = ["target", "control"] as const;
const UNRELATED = ["temperature", "moisture", "elevation"] as const;

const DEPTH = {
  kind: "quantity",
  dimension: "length",
  insideUnit: "mm",
  candidateUnits: ["in", "mm", "cm"],
  typical: [25, 90],
  possible: [0, 250],
} as const;

const SHARE = {
  kind: "quantity",
  dimension: "share",
  insideUnit: "share",
  candidateUnits: SHARE_UNITS,
  possible: [0, 1],
} as const;

const POPULATION = {
  kind: "quantity",
  dimension: "density",
  insideUnit: "seeds/ha",
  candidateUnits: ["seeds/ac", "1000 seeds/ac", "seeds/ha", "1000 seeds/ha"],
  typical: [37_000, 111_000],
  possible: [0, 2_500_000],
} as const;

/** Usual middle of a population column by crop, seeds/ha: corn 15,000 to 45,000, soybean 70,000 to 220,000 seeds/ac. */
export const TYPICAL_POPULATION: Readonly<Record<"corn" | "soybean" | "other", readonly [number, number]>> = {
  corn: [37_000, 111_000],
  soybean: [170_000, 550_000],
  other: [20_000, 1_000_000],
};

export const LOG_CATALOGUE: Readonly<Record<string, VariableDescription>> = {
  time: {
    kind: "time",
    patterns: [pattern("date time", 0.97), pattern("time", 0.95), pattern("date", 0.9)],
    not: ["interval", "elapsed", "duration"],
  },
  pass: { kind: "label", patterns: [pattern("pass number", 0.97), pattern("pass", 0.92)] },
  rowUnit: {
    kind: "number",
    patterns: [
      pattern("row unit", 0.97),
      pattern("row number", 0.95),
      pattern("row", 0.85),
      pattern("unit number", 0.7),
    ],
    not: ["spacing", "width", "force", "count", "depth", "length", "area"],
    possible: [1, 96],
  },
  section: {
    kind: "label",
    patterns: [pattern("section number", 0.97), pattern("section", 0.92)],
    not: ["width", "state", "count"],
  },
  heading: {
    kind: "quantity",
    dimension: "angle",
    insideUnit: "deg",
    candidateUnits: ["deg"],
    patterns: [
      pattern("heading", 0.96),
      pattern("track", 0.84),
      pattern("bearing", 0.84),
      pattern("direction", 0.72),
    ],
    not: ["spacing", "width"],
    typical: [-180, 360],
    possible: [-360, 720],
  },
  speed: {
    kind: "quantity",
    dimension: "speed",
    insideUnit: "m/s",
    candidateUnits: ["mi/h", "km/h", "m/s"],
    patterns: [pattern("ground speed", 0.96), pattern("speed", 0.95), pattern("velocity", 0.9)],
    not: [...ASKED_FOR, ...OTHER_STATISTIC],
    typical: [1, 5.5],
    possible: [0, 12],
    zeroMeansAbsent: true,
  },
  distance: {
    kind: "quantity",
    dimension: "length",
    insideUnit: "m",
    candidateUnits: ["ft", "m"],
    patterns: [pattern("distance", 0.95)],
    not: ["spacing"],
    typical: [0.1, 8],
    possible: [0, 100],
    zeroMeansAbsent: true,
  },
  duration: {
    kind: "quantity",
    dimension: "duration",
    insideUnit: "s",
    candidateUnits: ["s"],
    patterns: [pattern("duration", 0.95), pattern("elapsed time", 0.8), pattern("time interval", 0.8)],
    typical: [0.05, 10],
    possible: [0, 600],
    zeroMeansAbsent: true,
  },
  swathWidth: {
    kind: "quantity",
    dimension: "length",
    insideUnit: "m",
    candidateUnits: ["ft", "m"],
    patterns: [
      pattern("swath width", 0.97),
      pattern("working width", 0.9),
      pattern("swath", 0.85),
      pattern("width", 0.75),
    ],
    not: ["row"],
    typical: [0.35, 37],
    middle: "p95",
    possible: [0, 60],
    zeroMeansAbsent: true,
  },
  lateralOffset: {
    kind: "quantity",
    dimension: "length",
    insideUnit: "m",
    candidateUnits: ["ft", "m"],
    patterns: [pattern("lateral offset", 0.97), pattern("y offset", 0.95), pattern("offset", 0.65)],
    not: ["x", "track"],
    typical: [0, 20],
    middle: "p95",
    possible: [-40, 40],
  },
  seedingDepth: {
    ...DEPTH,
    patterns: [pattern("seed depth", 0.95), pattern("plant depth", 0.95), pattern("depth", 0.9)],
    not: [...ASKED_FOR, ...OTHER_STATISTIC, ...UNRELATED, "soil"],
    zeroMeansAbsent: true,
  },
  targetDepth: {
    ...DEPTH,
    patterns: [pattern("target depth", 0.96), pattern("control depth", 0.75)],
    not: [...OTHER_STATISTIC, ...UNRELATED],
    zeroMeansAbsent: true,
  },
  downForce: {
    kind: "quantity",
    dimension: "force",
    insideUnit: "N",
    candidateUnits: FORCE_UNITS,
    patterns: [pattern("down force", 0.95), pattern("force", 0.7)],
    not: ["margin", "gauge", "wheel", "contact", ...ASKED_FOR, ...OTHER_STATISTIC],
    typical: [100, 3000],
    possible: [-5000, 10_000],
    zeroMeansAbsent: true,
  },
  downForceMargin: {
    kind: "quantity",
    dimension: "force",
    insideUnit: "N",
    candidateUnits: FORCE_UNITS,
    patterns: [
      pattern("down force margin", 0.98),
      pattern("margin", 0.9),
      pattern("gauge wheel load", 0.96),
      pattern("gauge wheel force", 0.94),
      pattern("wheel load", 0.85),
      pattern("gauge load", 0.85),
      pattern("load", 0.62),
    ],
    not: [...ASKED_FOR, ...OTHER_STATISTIC],
    typical: [100, 1600],
    possible: [-3000, 10_000],
    zeroMeansAbsent: true,
  },
  groundContact: {
    ...SHARE,
    patterns: [pattern("ground contact", 0.97), pattern("contact", 0.85)],
    not: OTHER_STATISTIC,
    typical: [0.5, 1],
    zeroMeansAbsent: true,
  },
  singulation: {
    ...SHARE,
    patterns: [pattern("singulation", 0.96)],
    not: OTHER_STATISTIC,
    typical: [0.5, 1],
    zeroMeansAbsent: true,
  },
  multiples: {
    ...SHARE,
    patterns: [pattern("multiples", 0.95)],
    not: OTHER_STATISTIC,
    typical: [0.0001, 0.3],
    zeroMeansAbsent: true,
  },
  misses: {
    ...SHARE,
    patterns: [pattern("misses", 0.95)],
    not: OTHER_STATISTIC,
    typical: [0.0001, 0.3],
    zeroMeansAbsent: true,
  },
  population: {
    ...POPULATION,
    patterns: [
      pattern("applied population", 0.97),
      pattern("population", 0.94),
      pattern("applied rate", 0.95),
      pattern("actual rate", 0.93),
      pattern("seed rate", 0.92),
      pattern("plant rate", 0.92),
      pattern("rate count", 0.85),
      pattern("count area", 0.85),
      pattern("seed density", 0.85),
      pattern("seed", 0.7, "density"),
      pattern("rate", 0.72),
    ],
    not: [...ASKED_FOR, ...OTHER_STATISTIC],
    zeroMeansAbsent: true,
  },
  targetPopulation: {
    ...POPULATION,
    patterns: [
      pattern("target population", 0.97),
      pattern("target rate", 0.95),
      pattern("target count area", 0.9),
      pattern("target", 0.7, "density"),
      pattern("control population", 0.75),
      pattern("control rate", 0.75),
    ],
    not: OTHER_STATISTIC,
    zeroMeansAbsent: true,
  },
  spacingVariation: {
    kind: "quantity",
    dimension: "share",
    insideUnit: "share",
    candidateUnits: SHARE_UNITS,
    patterns: [pattern("spacing variation", 0.96), pattern("variation", 0.65)],
    not: ["depth", "force", "load", "speed"],
    typical: [0.03, 0.9],
    possible: [0, 5],
    zeroMeansAbsent: true,
  },
  working: {
    kind: "flag",
    patterns: [
      pattern("working state", 0.95),
      pattern("working", 0.92),
      pattern("plant state", 0.85),
      pattern("plant active", 0.85),
      pattern("section state", 0.7),
    ],
    not: ["width"],
  },
  seedLot: {
    kind: "label",
    patterns: [pattern("seed lot", 0.97), pattern("lot", 0.85), pattern("variety", 0.8)],
  },
};

export const COUNT_CATALOGUE: Readonly<Record<string, VariableDescription>> = {
  plants: {
    kind: "number",
    patterns: [
      pattern("plant count", 0.96),
      pattern("plant", 0.92),
      pattern("stand count", 0.85),
      pattern("count", 0.75),
    ],
    not: ["late", "population", "date", "row", "rows", "spacing", "target", "stage", "leaf", "method"],
    possible: [0, 10_000],
  },
  rowLength: {
    kind: "quantity",
    dimension: "length",
    insideUnit: "m",
    candidateUnits: ["ft", "m"],
    patterns: [pattern("row length", 0.97), pattern("length", 0.85)],
    not: ["leaf", "mesocotyl"],
    typical: [0.9, 60],
    possible: [0.01, 1000],
  },
  rowsCounted: {
    kind: "number",
    patterns: [pattern("rows count", 0.96), pattern("rows", 0.88), pattern("row count", 0.8)],
    not: ["length", "spacing"],
    possible: [1, 96],
  },
  hoopDiameter: {
    kind: "quantity",
    dimension: "length",
    insideUnit: "m",
    candidateUnits: ["in", "cm", "m"],
    patterns: [pattern("hoop diameter", 0.97), pattern("hoop", 0.85), pattern("diameter", 0.8)],
    typical: [0.3, 1.2],
    possible: [0.1, 5],
  },
  rowSpacing: {
    kind: "quantity",
    dimension: "length",
    insideUnit: "m",
    candidateUnits: ["in", "cm", "m", "mm"],
    patterns: [pattern("row spacing", 0.97), pattern("rows spacing", 0.95), pattern("row width", 0.9)],
    not: OTHER_STATISTIC,
    typical: [0.17, 1.05],
    possible: [0.05, 2],
  },
  stand: {
    kind: "quantity",
    dimension: "density",
    insideUnit: "plants/ha",
    candidateUnits: ["plants/ac", "1000 plants/ac", "plants/ha"],
    patterns: [
      pattern("plant stand", 0.95),
      pattern("stand", 0.9),
      pattern("plant population", 0.92),
      pattern("population", 0.85),
      pattern("plant density", 0.92),
      pattern("plant", 0.93, "density"),
      pattern("stand", 0.96, "density"),
    ],
    not: ["count", "target", "late"],
    possible: [0, 2_500_000],
  },
  latePlants: {
    kind: "number",
    patterns: [pattern("late plant", 0.97), pattern("late count", 0.92), pattern("late", 0.8)],
    not: ["share", "stage", "leaf"],
    possible: [0, 10_000],
  },
  lateShare: {
    ...SHARE,
    patterns: [
      pattern("late share", 0.97),
      pattern("late", 0.93, "share"),
      pattern("late plant", 0.98, "share"),
    ],
    typical: [0.0001, 1],
  },
  leafStages: {
    kind: "number",
    patterns: [
      pattern("leaf stage behind", 0.98),
      pattern("leaf stage", 0.95),
      pattern("stage behind", 0.95),
      pattern("leaf behind", 0.95),
    ],
    possible: [0, 20],
  },
  spacingSd: {
    kind: "quantity",
    dimension: "length",
    insideUnit: "mm",
    candidateUnits: ["in", "cm", "mm"],
    patterns: [pattern("spacing deviation", 0.97), pattern("plant spacing deviation", 0.98)],
    typical: [15, 150],
    possible: [0, 1000],
  },
  spacings: {
    kind: "list",
    dimension: "length",
    insideUnit: "mm",
    candidateUnits: ["in", "cm", "mm"],
    patterns: [pattern("spacings", 0.95)],
    typical: [50, 400],
  },
  date: {
    kind: "time",
    patterns: [pattern("date time", 0.95), pattern("date", 0.95), pattern("time", 0.85)],
  },
  rowUnit: {
    kind: "number",
    patterns: [pattern("row unit", 0.97), pattern("row number", 0.95), pattern("row", 0.75)],
    not: ["spacing", "width", "length", "count"],
    possible: [0, 96],
  },
  method: { kind: "label", patterns: [pattern("method", 0.92)] },
};

export const DIG_CATALOGUE: Readonly<Record<string, VariableDescription>> = {
  rowUnit: {
    ...COUNT_CATALOGUE.rowUnit!,
    patterns: [...COUNT_CATALOGUE.rowUnit!.patterns, pattern("unit", 0.7)],
  },
  seedDepth: {
    ...DEPTH,
    patterns: [pattern("seed depth", 0.96), pattern("depth", 0.9)],
    not: ["target", "soil", ...OTHER_STATISTIC],
  },
  mesocotylLength: {
    kind: "quantity",
    dimension: "length",
    insideUnit: "mm",
    candidateUnits: ["in", "mm", "cm"],
    patterns: [pattern("mesocotyl length", 0.97), pattern("mesocotyl", 0.92)],
    typical: [10, 75],
    possible: [0, 230],
  },
  smear: {
    kind: "category",
    patterns: [pattern("sidewall smear", 0.97), pattern("smear", 0.95), pattern("sidewall", 0.8)],
  },
  furrow: { kind: "category", patterns: [pattern("furrow", 0.9)], not: ["residue", "moisture"] },
  moisture: { kind: "category", patterns: [pattern("soil moisture", 0.95), pattern("moisture", 0.92)] },
  seedState: {
    kind: "category",
    patterns: [pattern("seed state", 0.97), pattern("seed condition", 0.92), pattern("seed", 0.7)],
    not: ["depth", "lot"],
  },
};

export const WEATHER_CATALOGUE: Readonly<Record<string, VariableDescription>> = {
  date: {
    kind: "time",
    patterns: [pattern("date time", 0.96), pattern("date", 0.95), pattern("time", 0.85)],
  },
  rain: {
    kind: "quantity",
    dimension: "length",
    insideUnit: "mm",
    candidateUnits: ["mm", "in"],
    patterns: [pattern("rain", 0.95)],
    typical: [0.3, 30],
    possible: [0, 500],
  },
  minimumTemperature: { ...temperature("minimum", "soil"), possible: [-60, 45] },
  maximumTemperature: { ...temperature("maximum", "soil"), possible: [-60, 60] },
  soilTemperature: {
    ...temperature("soil"),
    patterns: [pattern("soil temperature", 0.97), pattern("soil", 0.7, "temperature")],
    not: ["moisture"],
    possible: [-30, 60],
  },
};

/** Kelvin aside, a spring day's Celsius stays below 31 and its Fahrenheit above 33 (0.6 C). */
function temperature(which: string, not?: string): VariableDescription {
  return {
    kind: "quantity",
    dimension: "temperature",
    insideUnit: "C",
    candidateUnits: ["C", "F"],
    patterns: [
      pattern(`${which} temperature`, 0.97),
      pattern(which, 0.75),
      pattern(`${which} air temperature`, 0.98),
    ],
    not: not === undefined ? [] : [not],
    typical: [0.6, 31],
  };
}

export const ZONE_CATALOGUE: Readonly<Record<string, VariableDescription>> = {
  zone: {
    kind: "label",
    patterns: [
      pattern("texture", 0.96),
      pattern("texture class", 0.96),
      pattern("soil texture", 0.97),
      pattern("zone", 0.95),
      pattern("soil zone", 0.96),
      pattern("zone name", 0.96),
      pattern("soil name", 0.92),
      pattern("soil type", 0.9),
      pattern("soil class", 0.9),
      pattern("soil", 0.85),
      pattern("symbol", 0.8),
      pattern("name", 0.8),
      pattern("class", 0.7),
      pattern("type", 0.65),
    ],
    not: ["depth", "moisture", "temperature", "area"],
  },
};

export const SEED_LOT_CATALOGUE: Readonly<Record<string, VariableDescription>> = {
  zone: {
    kind: "label",
    patterns: [...LOG_CATALOGUE.seedLot!.patterns, pattern("name", 0.7), pattern("zone", 0.7)],
  },
};

export const YIELD_CATALOGUE: Readonly<Record<string, VariableDescription>> = {
  yield: {
    kind: "number",
    patterns: [pattern("yield", 0.9), pattern("yield volume dry", 0.95), pattern("dry yield", 0.95)],
    not: ["target", "moisture"],
  },
};
