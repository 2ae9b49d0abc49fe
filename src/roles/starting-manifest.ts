/** A first manifest from files alone: which file is what, guessed from what is in it, with the reasons. */
import { type EvenstandError, isEvenstandError } from "../errors.ts";
import { readLayer } from "../ingest/index.ts";
import type { LayerFile, RawLayer } from "../ingest/layer.ts";
import type { ExpectedGeometry } from "../ingest/read-options.ts";
import { LAYER_ROLES, type LayerRole } from "../manifest/manifest.ts";
import { FIELD_SCHEMA, type Manifest } from "../manifest/manifest-schema.ts";
import { foreignLog } from "../recognise/foreign-log.ts";
import type { RecognitionResult } from "../recognise/recognition.ts";
import { type RoleGuess, rolesOf } from "./role-guess.ts";

/** One file (or shapefile) and what it is taken for. */
export interface GuessedLayer {
  file: string;
  /** Null where it fits no role, or a better file took it. */
  role: LayerRole | null;
  /** Why, in plain words. */
  reason: string;
  /** The layer; null where the file cannot be read. */
  layer: RawLayer | null;
  /** Its columns read in that role; null without a role. */
  recognition: RecognitionResult | null;
  /** Why the file cannot be read, null where it can. */
  error: EvenstandError | null;
}

export interface StartingManifest {
  /** Loads unchanged unless a layer's recognition leaves a choice open. Without a log it has no `plantingLog`. */
  manifest: Partial<Manifest>;
  /** In the order of the files. */
  layers: GuessedLayer[];
}

export interface StartingOptions {
  /** Write every recognised column and its unit into the manifest, for people to look over. Default false. */
  spellColumns?: boolean;
}

/** Guesses the role of each file and puts them into a manifest. Files that cannot be read are listed, not thrown. */
export async function startingManifest(
  files: readonly LayerFile[],
  options: StartingOptions = {},
): Promise<StartingManifest> {
  const read = [];
  for (const group of groupFiles(files)) read.push(await readGroup(group));
  const taken = assignRoles(read.map(({ guesses }) => guesses));
  const layers = read.map(({ file, layer, error, guesses }, index): GuessedLayer => {
    const guess = taken[index] ?? null;
    const second = guesses[0];
    const reason =
      guess?.reason ??
      error?.message ??
      (second
        ? `looks like ${second.role} (${second.reason}), but another file fits that better`
        : layer && foreignLog(layer)
          ? `looks like ${foreignLog(layer)!.kind}, which the job does not work on`
          : "fits no part of the job");
    return { file, role: guess?.role ?? null, reason, layer, recognition: guess?.recognition ?? null, error };
  });
  return { manifest: manifestOf(layers, options), layers };
}

interface FileGroup {
  main: string;
  files: LayerFile[];
}

const SHAPEFILE_PART = /\.(shp|shx|dbf|dbt|fpt|prj|cpg|sbn|sbx|qix|shp\.xml)$/i;

/** The loose parts of a shapefile belong together; every other file stands alone. */
function groupFiles(files: readonly LayerFile[]): FileGroup[] {
  const stem = (name: string) => name.replace(SHAPEFILE_PART, "").toLowerCase();
  const shapes = new Map(
    files.filter(({ name }) => /\.shp$/i.test(name)).map((file) => [stem(file.name), file]),
  );
  const groups: FileGroup[] = [];
  for (const file of files) {
    const shape = SHAPEFILE_PART.test(file.name) ? shapes.get(stem(file.name)) : undefined;
    if (!shape) groups.push({ main: file.name, files: [file] });
    else if (shape === file) {
      const parts = files.filter(({ name }) => SHAPEFILE_PART.test(name) && stem(name) === stem(file.name));
      groups.push({ main: file.name, files: parts });
    }
  }
  return groups;
}

interface ReadGroup {
  file: string;
  layer: RawLayer | null;
  error: EvenstandError | null;
  guesses: RoleGuess[];
}

/** Reads a file as a layer with positions, else as a table. */
async function readGroup({ main, files }: FileGroup): Promise<ReadGroup> {
  let error: EvenstandError | null = null;
  for (const expect of ["any", "table"] as ExpectedGeometry[]) {
    try {
      const layer = await readLayer(files, { role: "file", expect, reader: "fast" });
      const lines = expect === "table" ? await linesOf(files) : null;
      if (lines) return { file: main, layer: lines, error: null, guesses: [] };
      return { file: main, layer, error: null, guesses: rolesOf(layer) };
    } catch (cause) {
      if (!isEvenstandError(cause)) throw cause;
      error ??= cause;
    }
  }
  return { file: main, layer: null, error, guesses: [] };
}

/** Lines are shown as what they are; no part of the job works on them. */
async function linesOf(files: readonly LayerFile[]): Promise<RawLayer | null> {
  const layer = await readLayer(files, { role: "file", expect: "anything", reader: "fast" });
  return layer.geometry === "line" ? layer : null;
}

/** Gives each role to the file that fits it best, the surest guesses first; each file gets one role at most. */
function assignRoles(guesses: readonly RoleGuess[][]): (RoleGuess | undefined)[] {
  const taken: (RoleGuess | undefined)[] = guesses.map(() => undefined);
  const all = guesses.flatMap((list, index) => list.map((guess) => ({ guess, index })));
  all.sort((a, b) => b.guess.score - a.guess.score || a.index - b.index);
  const used = new Set<LayerRole>();
  for (const { guess, index } of all) {
    if (taken[index] || used.has(guess.role)) continue;
    taken[index] = guess;
    used.add(guess.role);
  }
  return taken;
}

function manifestOf(layers: readonly GuessedLayer[], options: StartingOptions): Partial<Manifest> {
  const manifest: Record<string, unknown> = { schema: FIELD_SCHEMA };
  const log = layers.find((layer) => layer.role === "plantingLog");
  const name = log?.file
    .split(/[\\/]/)
    .at(-1)
    ?.replace(/(\.[a-z0-9]+)+$/i, "");
  if (name) manifest.name = name;
  for (const role of LAYER_ROLES) {
    const guessed = layers.find((layer) => layer.role === role);
    if (guessed) manifest[role] = { file: guessed.file, ...columnsOf(guessed, options) };
  }
  return manifest as Partial<Manifest>;
}

function columnsOf({ role, recognition }: GuessedLayer, options: StartingOptions): Record<string, unknown> {
  const found = [...(recognition?.found.values() ?? [])];
  const zone = found.find(({ variable }) => variable === "zone");
  if (role === "soilZones" || role === "seedLots") return zone ? { zone: zone.group.columns[0]!.name } : {};
  if (!options.spellColumns || found.length === 0) return {};
  const columns = found
    // A time from two columns cannot be written down; it is recognised again.
    .filter(({ time, group }) => time === null || group.columns.length === 1)
    .map(({ variable, group, unit, time, source }) => {
      const names = group.columns.map((column) => column.name);
      const column = names.length === 1 ? names[0] : names;
      const plain = unit === "1" || time !== null;
      return [variable, plain ? column : { column, unit, ...(source === null ? {} : { source }) }];
    });
  return columns.length === 0 ? {} : { columns: Object.fromEntries(columns) };
}
