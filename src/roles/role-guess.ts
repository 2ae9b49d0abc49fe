/** Which part of the job a layer plays, by its columns first, its geometry and the words of its file's name. */
import { frameOf } from "../field/frame-of-log.ts";
import { wayOfLog } from "../field/way-of-log.ts";
import { projectColumns } from "../ingest/crs/crs.ts";
import type { RawLayer } from "../ingest/layer.ts";
import type { LayerRole } from "../manifest/manifest.ts";
import { readWords, splitName } from "../recognise/column-words.ts";
import { foreignLog } from "../recognise/foreign-log.ts";
import { recogniseColumns } from "../recognise/recognise.ts";
import type { RecogniseOptions, RecognitionResult } from "../recognise/recognition.ts";
import { LOG_CATALOGUE } from "../vocabulary/catalogue-log.ts";
import {
  SEED_LOT_CATALOGUE,
  WEATHER_CATALOGUE,
  YIELD_CATALOGUE,
  ZONE_CATALOGUE,
} from "../vocabulary/catalogue-places.ts";
import { COUNT_CATALOGUE, DIG_CATALOGUE } from "../vocabulary/catalogue-spots.ts";
import type { VariableDescription } from "../vocabulary/variable-description.ts";
import {
  COUNT_VARIABLES,
  DIG_VARIABLES,
  LOG_VARIABLES,
  PLANTING_VARIABLES,
  WEATHER_VARIABLES,
} from "../vocabulary/variables.ts";

export interface RoleGuess {
  role: LayerRole;
  /** Higher is surer; comparable between files. */
  score: number;
  reason: string;
  recognition: RecognitionResult | null;
}

/** Words of a file's name that speak for a role. */
const FILE_WORDS: Readonly<Record<LayerRole, readonly string[]>> = {
  plantingLog: ["plant", "log"],
  soilZones: ["soil", "zone", "texture"],
  standCounts: ["stand", "count"],
  digs: ["dig", "digs"],
  boundary: ["boundary", "outline", "border", "field"],
  seedLots: ["lot", "lots", "variety"],
  weather: ["weather", "rain"],
  yield: ["yield", "harvest"],
};

const FILE_WORD_BONUS = 1.5;

/** The roles a layer could play, surest first. */
export function rolesOf(layer: RawLayer): RoleGuess[] {
  const named = fileWords(layer.file);
  const ofLog = log(layer);
  // A large log is not looked through five times more for what it cannot be.
  const guesses = ofLog?.isSure
    ? [ofLog]
    : [ofLog, counts(layer), digs(layer), weather(layer), harvest(layer), ...polygonRoles(layer)];
  return guesses
    .filter((guess) => guess !== null)
    .map((guess) => {
      const word = FILE_WORDS[guess.role].find((one) => named.has(one));
      if (word === undefined) return guess;
      return {
        ...guess,
        score: guess.score + FILE_WORD_BONUS,
        reason: `${guess.reason}; the file's name says "${word}"`,
      };
    })
    .sort((a, b) => b.score - a.score);
}

function fileWords(file: string): Set<string> {
  const base = file.split(/[\\/]/).at(-1) ?? file;
  const parts = splitName(base.replace(/(\.[a-z0-9]+)+$/i, ""));
  return new Set([...parts, ...readWords(parts, base).flatMap(({ words }) => [...words])]);
}

type Catalogue = Readonly<Record<string, VariableDescription>>;

function recognise(
  layer: RawLayer,
  role: LayerRole,
  catalogue: Catalogue,
  known: Omit<RecogniseOptions, "role"> = {},
): { result: RecognitionResult; has: (variable: string) => boolean } {
  const result = recogniseColumns(layer, catalogue, { ...known, role });
  const open = new Set(result.open.map(({ variable }) => variable));
  return { result, has: (variable) => result.found.has(variable) || open.has(variable) };
}

/** " with speed, time": variables in the words of their table. */
function listed<Name extends string>(
  table: Readonly<Record<Name, { title: string }>>,
  variables: readonly Name[],
): string {
  return variables.length === 0 ? "" : ` with ${variables.map((name) => table[name].title).join(", ")}`;
}

function shape(layer: RawLayer): string {
  return layer.geometry === "none" ? "a table" : `${layer.geometry}s`;
}

const MACHINE_MOTION = ["speed", "heading", "distance", "swathWidth"] as const;

/** So many planting variables and a machine's motion are in nothing but a log (our judgement). */
const SURE_LOG_VARIABLES = 3;

function log(layer: RawLayer): (RoleGuess & { isSure: boolean }) | null {
  if (layer.geometry === "none" || foreignLog(layer) !== null) return null;
  const { result, has } = recognise(layer, "plantingLog", LOG_CATALOGUE, wayOf(layer));
  const planting = PLANTING_VARIABLES.filter(has);
  // Speed alone is in any machine's log; a population alone may be a count or a plan.
  if (planting.length === 0 || (planting.length === 1 && layer.recordCount < 50)) return null;
  const motion = (["time", "heading", "distance", "swathWidth", "rowUnit", "pass"] as const).filter(has);
  const score = planting.length * 2 + motion.length;
  return {
    role: "plantingLog",
    score,
    reason: `${shape(layer)}${listed(LOG_VARIABLES, [...planting, ...motion])}`,
    recognition: result,
    isSure: planting.length >= SURE_LOG_VARIABLES && MACHINE_MOTION.some(has),
  };
}

/** What the positions tell, as loading would know it; nothing where they cannot be placed. */
function wayOf(layer: RawLayer): Omit<RecogniseOptions, "role"> {
  if (layer.crs.definition === null || !layer.x.some(Number.isFinite)) return {};
  const frame = frameOf(layer);
  const { x, y } = projectColumns(layer.x, layer.y, layer.crs, frame);
  const { hints, wayOver } = wayOfLog(layer, x, y, frame);
  return { hints, wayOver };
}

/** A layer with a machine's motion in it was driven, not counted on foot. */
function isDriven(layer: RawLayer): boolean {
  const { has } = recognise(layer, "plantingLog", LOG_CATALOGUE);
  return MACHINE_MOTION.some(has);
}

function counts(layer: RawLayer): RoleGuess | null {
  if (layer.geometry === "none") return null;
  const { result, has } = recognise(layer, "standCounts", COUNT_CATALOGUE);
  const ground = (["rowLength", "hoopDiameter", "rowsCounted", "rowSpacing"] as const).filter(has);
  const seen = (["plants", "stand"] as const).filter(has);
  if (seen.length === 0 || isDriven(layer)) return null;
  const more = (["latePlants", "lateShare", "leafStages", "method"] as const).filter(has);
  const score = seen.length * 2 + ground.length + more.length;
  return {
    role: "standCounts",
    score,
    reason: `${shape(layer)}${listed(COUNT_VARIABLES, [...seen, ...ground, ...more])}`,
    recognition: result,
  };
}

function digs(layer: RawLayer): RoleGuess | null {
  if (layer.geometry === "none") return null;
  const { result, has } = recognise(layer, "digs", DIG_CATALOGUE);
  const looked = (["mesocotylLength", "smear", "furrow", "moisture", "seedState"] as const).filter(has);
  const depth = has("seedDepth") ? (["seedDepth"] as const) : [];
  // A moisture alone in the log of a machine is that of grain.
  if (looked.length === 0 || (looked.join() === "moisture" && isDriven(layer))) return null;
  const score = looked.length * 2 + depth.length;
  return {
    role: "digs",
    score,
    reason: `${shape(layer)}${listed(DIG_VARIABLES, [...depth, ...looked])}`,
    recognition: result,
  };
}

function weather(layer: RawLayer): RoleGuess | null {
  const { result, has } = recognise(layer, "weather", WEATHER_CATALOGUE);
  const measured = (["rain", "minimumTemperature", "maximumTemperature", "soilTemperature"] as const).filter(
    has,
  );
  if (!has("date") || measured.length === 0) return null;
  return {
    role: "weather",
    score: 1 + measured.length * 2,
    reason: `${shape(layer)}${listed(WEATHER_VARIABLES, ["date", ...measured])}`,
    recognition: result,
  };
}

function harvest(layer: RawLayer): RoleGuess | null {
  if (layer.geometry === "none") return null;
  const { result, has } = recognise(layer, "yield", YIELD_CATALOGUE);
  return has("yield")
    ? { role: "yield", score: 3, reason: `${shape(layer)} with yield`, recognition: result }
    : null;
}

/** More polygons than this are no boundary. */
const MOST_BOUNDARY_POLYGONS = 5;

function polygonRoles(layer: RawLayer): RoleGuess[] {
  if (layer.geometry !== "polygon") return [];
  const guesses: RoleGuess[] = [];
  const soil = recognise(layer, "soilZones", ZONE_CATALOGUE);
  if (soil.has("zone")) {
    const column = soil.result.found.get("zone")?.group.label;
    const named = column === undefined ? "" : ` with names in "${column}"`;
    const score = layer.recordCount > 1 ? 2.5 : 1;
    guesses.push({ role: "soilZones", score, reason: `polygons${named}`, recognition: soil.result });
  }
  const lots = recognise(layer, "seedLots", SEED_LOT_CATALOGUE);
  if (lots.has("zone")) {
    const sure = (lots.result.found.get("zone")?.confidence ?? 0) >= 0.8;
    guesses.push({
      role: "seedLots",
      score: sure ? 3 : 0.5,
      reason: "polygons with names of lots",
      recognition: lots.result,
    });
  }
  if (layer.recordCount <= MOST_BOUNDARY_POLYGONS) {
    const score = layer.recordCount === 1 ? 2 : 1;
    guesses.push({
      role: "boundary",
      score,
      reason: layer.recordCount === 1 ? "one polygon" : `${layer.recordCount} polygons`,
      recognition: null,
    });
  }
  return guesses;
}
