/** The variables a log, a count or a dig may carry, with the unit each one has inside the library. */

/** Variables of the planting log. `time` is seconds since 1970-01-01 UTC, `pass`, `machine`, `section`, `seedLot` are labels. */
export const LOG_VARIABLES = {
  time: { unit: "s", title: "time" },
  pass: { unit: "1", title: "pass number of the log" },
  machine: { unit: "1", title: "machine" },
  rowUnit: { unit: "1", title: "row unit" },
  section: { unit: "1", title: "section" },
  heading: { unit: "deg", title: "heading" },
  speed: { unit: "m/s", title: "speed" },
  distance: { unit: "m", title: "distance" },
  duration: { unit: "s", title: "duration of the record" },
  swathWidth: { unit: "m", title: "swath width" },
  lateralOffset: { unit: "m", title: "lateral offset" },
  seedingDepth: { unit: "mm", title: "seeding depth" },
  targetDepth: { unit: "mm", title: "target depth" },
  downForce: { unit: "N", title: "down force" },
  downForceMargin: { unit: "N", title: "down-force margin" },
  groundContact: { unit: "share", title: "ground contact" },
  singulation: { unit: "share", title: "singulation" },
  multiples: { unit: "share", title: "multiples" },
  misses: { unit: "share", title: "misses" },
  population: { unit: "seeds/ha", title: "population" },
  targetPopulation: { unit: "seeds/ha", title: "target population" },
  spacingVariation: { unit: "share", title: "spacing variation" },
  elevation: { unit: "m", title: "elevation" },
  working: { unit: "1", title: "working" },
  seedLot: { unit: "1", title: "seed lot" },
} as const;

export type LogVariable = keyof typeof LOG_VARIABLES;

/** The variables that say something about how well it was planted; a log without any of them is refused. */
export const PLANTING_VARIABLES = [
  "seedingDepth",
  "downForceMargin",
  "downForce",
  "groundContact",
  "singulation",
  "multiples",
  "misses",
  "population",
  "spacingVariation",
  "speed",
] as const satisfies readonly LogVariable[];

export type PlantingVariable = (typeof PLANTING_VARIABLES)[number];

/** What a map can colour the passes by: the same, and what is worked out from them. */
export type ShownVariable = PlantingVariable | "acceleration" | "depthSd" | "marginP10" | "noLoad";

/** Variables of a stand count. `rowSpacing` and lengths in m, stand in plants/ha. */
export const COUNT_VARIABLES = {
  plants: { unit: "1", title: "plants counted" },
  rowLength: { unit: "m", title: "length of row counted" },
  rowsCounted: { unit: "1", title: "rows counted side by side" },
  hoopDiameter: { unit: "m", title: "hoop diameter" },
  rowSpacing: { unit: "m", title: "row spacing" },
  stand: { unit: "plants/ha", title: "stand" },
  latePlants: { unit: "1", title: "late plants" },
  lateShare: { unit: "share", title: "share of plants late" },
  leafStages: { unit: "1", title: "leaf stages behind" },
  spacingSd: { unit: "mm", title: "SD of plant spacing" },
  spacings: { unit: "mm", title: "plant spacings" },
  flagTest: { unit: "1", title: "flag test: plants newly up at each visit" },
  date: { unit: "1", title: "date" },
  rowUnit: { unit: "1", title: "row unit" },
  method: { unit: "1", title: "method of counting" },
} as const;

export type CountVariable = keyof typeof COUNT_VARIABLES;

export const DIG_VARIABLES = {
  rowUnit: { unit: "1", title: "row unit" },
  seedDepth: { unit: "mm", title: "seed depth" },
  mesocotylLength: { unit: "mm", title: "mesocotyl length" },
  smear: { unit: "1", title: "sidewall smear" },
  furrow: { unit: "1", title: "furrow" },
  moisture: { unit: "1", title: "moisture" },
  seedState: { unit: "1", title: "state of the seed" },
} as const;

export type DigVariable = keyof typeof DIG_VARIABLES;

/** Weather by day or hour. */
export const WEATHER_VARIABLES = {
  date: { unit: "1", title: "date or time" },
  rain: { unit: "mm", title: "rain" },
  minimumTemperature: { unit: "C", title: "lowest air temperature" },
  maximumTemperature: { unit: "C", title: "highest air temperature" },
  soilTemperature: { unit: "C", title: "soil temperature" },
} as const;

export const YIELD_VARIABLES = {
  yield: { unit: "1", title: "yield" },
} as const;

export const SOIL_VARIABLES = {
  zone: { unit: "1", title: "name of the zone" },
  drainage: { unit: "1", title: "natural drainage class" },
} as const;

export const SEED_LOT_VARIABLES = {
  zone: { unit: "1", title: "name of the lot" },
} as const;
