/** The season a command names: its manifest, or a folder tree of fields, as a plan that is the same on every machine. */
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { basename, dirname, join, relative, resolve, sep } from "node:path";
import { FileUnusableError, ManifestError } from "../../errors.ts";
import { parseSeasonText } from "../../season/season-manifest.ts";
import { fieldIds, PLAN_SCHEMA, type PlannedField, type SeasonPlan } from "../../season/season-plan.ts";
import type { SeasonManifest } from "../../season/season-schema.ts";
import { MARKER_FILE } from "../files/output-marker.ts";
import type { Io } from "../terminal/io.ts";
import { SEASON_MARKER } from "./season-folder.ts";

export interface NamedSeason {
  plan: SeasonPlan;
  manifest: SeasonManifest;
  /** Absolute path of the folder that the fields' places start from. */
  folder: string;
  /** How the manifest is called in messages; where it would stand when there is none. */
  manifestName: string;
}

/** Files that the layers of a field come in. */
export const LAYER_FILE = /\.(?:csv|tsv|txt|geojson|geojsonl|ndjson|json|shp|zip)$/i;
/** Names that are never a layer. */
const OWN_FILES = new Set(["season.json", "field.json", "package.json", "extract.json", "field-run.json"]);

/**
 * @param named season.json, or a folder with it, or a folder tree of fields
 * @param allowOutside let the manifest name fields outside its own folder
 * @throws {FileUnusableError} where it is missing or holds no field, {ManifestError} where the manifest is wrong.
 */
export function readSeason(named: string, allowOutside: boolean, io: Io): NamedSeason {
  const path = resolve(io.workingFolder, named);
  if (!existsSync(path))
    throw new FileUnusableError(
      `${named}: no such file or folder; give a season manifest or a folder of fields`,
      { file: named },
    );
  const isFolder = statSync(path).isDirectory();
  const folder = isFolder ? path : dirname(path);
  const file = isFolder ? join(path, "season.json") : path;
  const manifestName = isFolder ? join(named, "season.json") : named;
  const manifest = existsSync(file) ? parseSeasonText(readFileSync(file, "utf8"), manifestName) : {};
  const fields = plannedFields(manifest, folder, manifestName, allowOutside);
  if (fields.length === 0)
    throw new FileUnusableError(
      `${named}: no folder of a field is in it; a field's folder holds a planting log, with or without field.json`,
      { file: named },
    );
  const name = manifest.name ?? basename(folder);
  const plan: SeasonPlan = { schema: PLAN_SCHEMA, name, season: manifest.season ?? null, fields };
  return { plan, manifest, folder, manifestName };
}

function plannedFields(
  manifest: SeasonManifest,
  folder: string,
  manifestName: string,
  allowOutside: boolean,
): PlannedField[] {
  const planters = Object.keys(manifest.planters ?? {});
  const only = planters.length === 1 ? planters[0]! : null;
  const entries =
    manifest.fields?.map((entry) => (typeof entry === "string" ? { path: entry } : entry)) ??
    fieldFoldersBelow(folder).map((found) => ({ path: relative(folder, found).split(sep).join("/") || "." }));
  const paths = entries.map(({ path }) => path.replace(/\/+$/, ""));
  const seen = new Set<string>();
  for (const path of paths) {
    if (seen.has(path))
      throw new ManifestError(`${manifestName}: fields names "${path}" twice; name each field once`, {
        file: manifestName,
        field: "fields",
        value: path,
      });
    const fromFolder = relative(folder, resolve(folder, path));
    if (!allowOutside && (fromFolder === ".." || fromFolder.startsWith(`..${sep}`)))
      throw new ManifestError(
        `${manifestName}: the field "${path}" lies outside the season's folder; move it there, or pass --allow-outside`,
        { file: manifestName, field: "fields", value: path },
      );
    seen.add(path);
  }
  const ids = fieldIds(paths);
  const fields = entries.map((entry, index): PlannedField => {
    const said = entry as Partial<Record<"name" | "planter" | "grower" | "operator", string>>;
    if (said.planter !== undefined && planters.length > 0 && !planters.includes(said.planter))
      throw new ManifestError(
        `${manifestName}: the field "${paths[index]}" names the planter "${said.planter}", which planters does not have; write one of ${planters.join(", ")}`,
        { file: manifestName, field: "planter", value: said.planter, accepted: planters.join(", ") },
      );
    return {
      id: ids[index]!,
      path: paths[index]!,
      name: said.name ?? null,
      planter: said.planter ?? only,
      grower: said.grower ?? null,
      operator: said.operator ?? null,
    };
  });
  return fields.sort((a, b) => (a.id < b.id ? -1 : 1));
}

/** Folders of fields: those with field.json, and the topmost ones that hold layers. Results and hidden folders are passed over. */
function fieldFoldersBelow(folder: string): string[] {
  const entries = readdirSync(folder, { withFileTypes: true }).sort((a, b) => (a.name < b.name ? -1 : 1));
  const names = entries.map(({ name }) => name);
  if (names.includes(SEASON_MARKER) || names.includes(MARKER_FILE)) return [];
  if (names.includes("field.json") || names.some(isLayer)) return [folder];
  return entries
    .filter((entry) => entry.isDirectory() && !entry.name.startsWith(".") && entry.name !== "node_modules")
    .flatMap(({ name }) => fieldFoldersBelow(join(folder, name)));
}

function isLayer(name: string): boolean {
  return LAYER_FILE.test(name) && !OWN_FILES.has(name) && !name.startsWith(".");
}

/** Names of the files in a field's folder that may be its layers, sorted. */
export function layerFilesIn(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isFile() && isLayer(entry.name))
    .map(({ name }) => name)
    .sort();
}
