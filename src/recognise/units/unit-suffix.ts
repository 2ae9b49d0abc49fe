/** The unit a column's name ends with, in brackets or as its last words: "Depth (in)", "SPEED_MPH", "Distance_f". */
import { type Dimension, UNITS } from "../../quantities/units.ts";
import { mayBeCut, splitName } from "../column-words.ts";

/** Ways to write a unit in a column's name -> names in `UNITS`, one a dimension. */
const WRITTEN_UNITS: Readonly<Record<string, readonly string[]>> = {
  in: ["in"],
  inch: ["in"],
  inches: ["in"],
  mm: ["mm"],
  cm: ["cm"],
  m: ["m"],
  meter: ["m"],
  meters: ["m"],
  metre: ["m"],
  metres: ["m"],
  ft: ["ft"],
  feet: ["ft"],
  foot: ["ft"],
  mph: ["mi/h"],
  "mi/h": ["mi/h"],
  "mi/hr": ["mi/h"],
  kph: ["km/h"],
  kmh: ["km/h"],
  kmph: ["km/h"],
  "km/h": ["km/h"],
  "km/hr": ["km/h"],
  "m/s": ["m/s"],
  mps: ["m/s"],
  "m/sec": ["m/s"],
  lbf: ["lbf"],
  lb: ["lbf"],
  lbs: ["lbf"],
  pounds: ["lbf"],
  n: ["N"],
  newton: ["N"],
  newtons: ["N"],
  dan: ["daN"],
  "da/n": ["daN"],
  kgf: ["kgf"],
  kg: ["kgf"],
  "%": ["%"],
  pct: ["%"],
  perc: ["%"],
  percent: ["%"],
  prcnt: ["%"],
  share: ["share"],
  frac: ["share"],
  fraction: ["share"],
  deg: ["deg"],
  degree: ["deg"],
  degrees: ["deg"],
  "°": ["deg"],
  rad: ["rad"],
  rads: ["rad"],
  radian: ["rad"],
  radians: ["rad"],
  s: ["s"],
  sec: ["s"],
  secs: ["s"],
  seconds: ["s"],
  ac: ["seeds/ac"],
  acre: ["seeds/ac"],
  "per/ac": ["seeds/ac"],
  ha: ["seeds/ha"],
  "per/ha": ["seeds/ha"],
  "1/ha": ["seeds/ha"],
  "1/ac": ["seeds/ac"],
  "seed/ac": ["seeds/ac"],
  "seeds/ac": ["seeds/ac"],
  "seeds/acre": ["seeds/ac"],
  "seeds/per/acre": ["seeds/ac"],
  "sds/ac": ["seeds/ac"],
  "sds/acre": ["seeds/ac"],
  "seeds/ha": ["seeds/ha"],
  "sds/ha": ["seeds/ha"],
  "plants/ac": ["plants/ac"],
  "plants/acre": ["plants/ac"],
  "plants/ha": ["plants/ha"],
  k: ["1000 seeds/ac"],
  "k/ac": ["1000 seeds/ac"],
  "k/acre": ["1000 seeds/ac"],
  "ksds/ac": ["1000 seeds/ac"],
  "kseeds/ac": ["1000 seeds/ac"],
  "k/seeds/ac": ["1000 seeds/ac"],
  "1000/ac": ["1000 seeds/ac"],
  "1000/seeds/ac": ["1000 seeds/ac"],
  "k/ha": ["1000 seeds/ha"],
  "1000/ha": ["1000 seeds/ha"],
  "1000/seeds/ha": ["1000 seeds/ha"],
  "lb/ac": ["lb/ac"],
  "lbs/ac": ["lb/ac"],
  "lb/acre": ["lb/ac"],
  "lbs/acre": ["lb/ac"],
  "kg/ha": ["kg/ha"],
  "t/ha": ["t/ha"],
  "gal/ac": ["gal/ac"],
  "gal/acre": ["gal/ac"],
  gpa: ["gal/ac"],
  "l/ha": ["l/ha"],
  psi: ["psi"],
  kpa: ["kPa"],
  c: ["C"],
  celsius: ["C"],
  degc: ["C"],
  "deg/c": ["C"],
  f: ["F"],
  fahrenheit: ["F"],
  degf: ["F"],
  "deg/f": ["F"],
};

/** Endings that a ten-letter cut leaves of a unit. */
const CUT_UNITS: Readonly<Record<string, readonly string[]>> = {
  f: ["ft", "F"],
  i: ["in"],
  l: ["lbf"],
  mp: ["mi/h"],
  km: ["km/h"],
  p: ["%"],
  pc: ["%"],
  d: ["deg"],
  de: ["deg"],
  se: ["s"],
  k: ["1000 seeds/ac"],
  ks: ["1000 seeds/ac"],
};

/** A name taken apart: its words before the unit, and the units its ending may mean. */
export interface SplitName {
  parts: string[];
  /** Names in `UNITS`, at most one a dimension; empty where the name ends with no unit. */
  units: readonly string[];
  /** The ending as written, for messages. */
  ending: string | null;
}

/** Takes the unit off the end of a column's name. */
export function splitUnit(name: string): SplitName {
  const bracket = /^(.*?)\s*[([{]\s*([^)\]}]+?)\s*[)\]}]?\s*$/.exec(name);
  if (bracket) {
    const units = writtenUnits(bracket[2]!);
    if (units.length > 0) return { parts: splitName(bracket[1]!), units, ending: bracket[2]! };
  }
  const parts = splitName(name);
  for (const length of [3, 2, 1]) {
    if (length >= parts.length) continue;
    const ending = parts.slice(-length).join("/");
    const cut = length === 1 && mayBeCut(name) ? CUT_UNITS[ending] : undefined;
    const units = cut ?? writtenUnits(ending);
    if (units.length > 0)
      return { parts: parts.slice(0, -length), units, ending: parts.slice(-length).join(" ") };
  }
  return { parts, units: [], ending: null };
}

/** The units a text such as "seeds / ac" or "lbs" may mean, at most one a dimension; empty where it is no unit. */
export function writtenUnits(text: string): readonly string[] {
  const written = text
    .toLowerCase()
    .split(/[\s/_.]+/)
    .filter(Boolean)
    .join("/");
  return Object.hasOwn(WRITTEN_UNITS, written) ? WRITTEN_UNITS[written]! : [];
}

/** The unit of the ending that has the wanted dimension, null where it has none. */
export function unitOfDimension(split: SplitName, dimension: Dimension): string | null {
  return split.units.find((unit) => UNITS[unit]?.dimension === dimension) ?? null;
}
