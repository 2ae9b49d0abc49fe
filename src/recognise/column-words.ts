/**
 * The words in a column's name: split at case changes, digits and signs, then read as full words, usual
 * abbreviations, words cut at ten letters (the dBASE limit), words without their vowels, or words run together.
 */

/** Canonical word -> other ways to write it. Some spellings stand for several words ("df": down force). */
const SPELLINGS: Readonly<Record<string, string>> = {
  target: "tgt trgt targ goal planned prescribed prescription rx setpoint set desired",
  control: "ctrl commanded cmd",
  applied: "apd appld apl",
  actual: "act real obs observed",
  sensed: "sensor measured meas",
  mean: "avg average ave",
  minimum: "min lowest least",
  maximum: "max highest",
  deviation: "sd std stdev stddev",
  depth: "dep dpt depths",
  seed: "seeds seeding sds",
  plant: "plants planting planted plt",
  planter: "pltr",
  down: "dn dwn",
  force: "frc pressure",
  "down force": "downforce df dwnfrc downfrc",
  margin: "mrg",
  load: "ld",
  gauge: "gage gg",
  "gauge wheel": "gaugewheel gw",
  wheel: "whl wheels",
  contact: "",
  ground: "gnd grd",
  singulation: "sing singul singles",
  multiples: "multiple multi mult mults doubles double dbl dbls",
  misses: "miss skips skip missed",
  population: "pop popn ppn",
  rate: "rt rates",
  count: "cnt ct counts counted",
  area: "",
  density: "",
  per: "",
  swath: "",
  width: "wid",
  working: "work worked",
  bar: "implement",
  vehicle: "machine tractor veh gps gnss",
  offset: "offs ofst",
  lateral: "cross transverse sideways",
  y: "",
  x: "",
  heading: "hdg head",
  track: "trk course cog",
  bearing: "azimuth",
  direction: "dir",
  distance: "dist dst travelled",
  duration: "dur",
  elapsed: "",
  interval: "",
  time: "tim timestamp datetime utc tm",
  date: "day dates",
  pass: "passes",
  number: "num no nbr nr id index idx",
  row: "rw",
  rows: "",
  unit: "units",
  "row unit": "rowunit ru",
  section: "sect",
  speed: "spd",
  velocity: "vel",
  spacing: "spac spc",
  spacings: "",
  variation: "cv cov variability",
  state: "status",
  active: "on engaged",
  lot: "batch",
  variety: "hybrid cultivar",
  elevation: "elev altitude alt height",
  stand: "",
  length: "len lngth",
  hoop: "ring",
  diameter: "diam dia",
  late: "later delayed",
  share: "fraction",
  leaf: "leaves",
  stage: "stages",
  behind: "",
  method: "",
  mesocotyl: "meso",
  smear: "smearing smeared",
  sidewall: "",
  furrow: "trench slot",
  moisture: "moist wetness",
  soil: "",
  condition: "cond",
  rain: "rainfall precipitation precip prcp",
  temperature: "temp",
  "minimum temperature": "tmin mintemp",
  "maximum temperature": "tmax maxtemp",
  air: "",
  texture: "textur",
  drainage: "drain drained drainagecl drclass drclassdcd drclasswettest",
  zone: "zones mz",
  class: "",
  name: "muname",
  symbol: "musym mukey",
  type: "",
  yield: "yld",
  bu: "bushel bushels",
  t: "tonne tonnes",
  kg: "",
  value: "val reading",
  volume: "vol",
  dry: "",
  nitrogen: "n28 n32 uan urea ammonia nh3 anhydrous",
  fertilizer: "fert fertiliser npk starter",
  spray: "sprayed herbicide fungicide pesticide chemical",
  manure: "slurry",
  grain: "crop combine harvest",
  fuel: "",
};

/** Spelling -> the canonical words it may stand for, each a list of words. */
const DICTIONARY: ReadonlyMap<string, readonly (readonly string[])[]> = buildDictionary();

/** Single words long enough to be found inside a name run together. */
const FULL_WORDS: readonly string[] = [...DICTIONARY.keys()].filter((word) => word.length >= 3);

function buildDictionary(): Map<string, string[][]> {
  const dictionary = new Map<string, string[][]>();
  for (const [canonical, spellings] of Object.entries(SPELLINGS)) {
    const words = canonical.split(" ");
    const own = words.length === 1 ? [canonical] : [];
    for (const spelling of [...own, ...spellings.split(" ").filter(Boolean)]) {
      dictionary.set(spelling, [...(dictionary.get(spelling) ?? []), words]);
    }
  }
  return dictionary;
}

/** One place in a name: the canonical words it may stand for; empty where the word is not known. */
export interface NamePlace {
  text: string;
  words: ReadonlySet<string>;
}

/** Lengths at which formats cut names: ten letters in dBASE. */
const CUT_LENGTH = 10;

/** True where the name may have been cut by the file format, or squeezed: vowels gone, signs turned into "_". */
export function mayBeCut(name: string): boolean {
  return name.length === CUT_LENGTH || (name.length < CUT_LENGTH && isSqueezed(name));
}

/** "spd_mp_", "dstnc_f": no vowel is left behind the first letter of any word. */
function isSqueezed(name: string): boolean {
  const parts = splitName(name);
  return parts.length > 1 && parts[0]!.length >= 3 && parts.every((part) => !/[aeiou]/.test(part.slice(1)));
}

/** Splits a name at case changes, digits and signs; lower case. */
export function splitName(name: string): string[] {
  return name
    .replaceAll(/([a-z])([A-Z])/g, "$1 $2")
    .replaceAll(/([A-Z]+)([A-Z][a-z])/g, "$1 $2")
    .replaceAll(/(\d+)/g, " $1 ")
    .toLowerCase()
    .split(/[^\p{L}\p{N}%]+/u)
    .filter(Boolean);
}

/** Reads each part of a name as canonical words. `name` is the whole name, to know whether its end may be cut. */
export function readWords(parts: readonly string[], name: string): NamePlace[] {
  return parts.flatMap((part, place) => readPart(part, place === parts.length - 1 && mayBeCut(name)));
}

function readPart(part: string, cut: boolean): NamePlace[] {
  if (/^\d+$/.test(part)) return [{ text: part, words: new Set(["number"]) }];
  const known = DICTIONARY.get(part);
  if (known) return placesOf(part, known);
  const cutWords = cut && part.length >= 2 ? FULL_WORDS.filter((word) => word.startsWith(part)) : [];
  if (cutWords.length > 0)
    return placesOf(
      part,
      cutWords.flatMap((word) => DICTIONARY.get(word)!),
    );
  const joined = breakWord(part, cut);
  if (joined) return joined.flatMap((word) => readPart(word, cut));
  const skeletons = part.length >= 3 ? FULL_WORDS.filter((word) => skeletonOf(word) === part) : [];
  if (skeletons.length > 0)
    return placesOf(
      part,
      skeletons.flatMap((word) => DICTIONARY.get(word)!),
    );
  const near = nearWords(part);
  if (near.length > 0)
    return placesOf(
      part,
      near.flatMap((word) => DICTIONARY.get(word)!),
    );
  const split = breakCutWord(part);
  if (split) return split.flatMap((word) => readPart(word, true));
  return [{ text: part, words: new Set() }];
}

/** Shorter parts are near too many words (our judgement). */
const SHORTEST_NEAR = 5;

/** Words that the part begins, that lack one letter in it, or two of whose letters changed places. */
function nearWords(part: string): string[] {
  if (part.length < SHORTEST_NEAR) return [];
  return FULL_WORDS.filter(
    (word) => word.startsWith(part) || lacksOneLetter(part, word) || hasTwoSwapped(part, word),
  );
}

function lacksOneLetter(part: string, word: string): boolean {
  if (word.length !== part.length + 1 || word[0] !== part[0]) return false;
  let at = 0;
  while (at < part.length && part[at] === word[at]) at++;
  return part.slice(at) === word.slice(at + 1);
}

function hasTwoSwapped(part: string, word: string): boolean {
  if (word.length !== part.length) return false;
  let at = 0;
  while (at < part.length && part[at] === word[at]) at++;
  const swapped = part.slice(0, at) + part[at + 1] + part[at] + part.slice(at + 2);
  return at + 1 < part.length && swapped === word;
}

/** "swathwi", "targtrt": a word, whole or near one, and the begin of another; null where it does not split so. */
function breakCutWord(part: string): [string, string] | null {
  for (let length = part.length - 2; length >= SHORTEST_NEAR; length--) {
    const [head, tail] = [part.slice(0, length), part.slice(length)];
    if (!DICTIONARY.has(head) && nearWords(head).length === 0) continue;
    if (DICTIONARY.has(tail) || FULL_WORDS.some((word) => word.startsWith(tail))) return [head, tail];
  }
  return null;
}

function placesOf(part: string, readings: readonly (readonly string[])[]): NamePlace[] {
  const longest = readings.reduce(
    (best, reading) => (reading.length > best.length ? reading : best),
    [] as readonly string[],
  );
  if (longest.length > 1) return longest.map((word) => ({ text: part, words: new Set([word]) }));
  return [{ text: part, words: new Set(readings.flat()) }];
}

/** Splits a part into known words of three letters or more, the last one possibly cut; null when it does not split. */
function breakWord(part: string, cut: boolean): string[] | null {
  for (let length = part.length - 1; length >= 3; length--) {
    const head = part.slice(0, length);
    if (!DICTIONARY.has(head)) continue;
    const tail = part.slice(length);
    if (tail.length >= 2 && DICTIONARY.has(tail)) return [head, tail];
    if (cut && tail.length >= 2 && FULL_WORDS.some((word) => word.startsWith(tail))) return [head, tail];
    const rest = breakWord(tail, cut);
    if (rest) return [head, ...rest];
  }
  return null;
}

/** The first letter and the consonants after it. */
function skeletonOf(word: string): string {
  return word[0] + word.slice(1).replaceAll(/[aeiou]/g, "");
}
