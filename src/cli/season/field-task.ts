/** One field of a season, from its files to a folder that only has to be put in its place. */
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { FileUnusableError, isEvenstandError } from "../../errors.ts";
import { loadField } from "../../field/load.ts";
import type { LayerFile } from "../../ingest/layer.ts";
import { analyseField } from "../../jobs/analyse.ts";
import { resultFiles, resultReport } from "../../jobs/results.ts";
import { type LayerRole, parseManifest, parseManifestText } from "../../manifest/manifest.ts";
import type { Manifest } from "../../manifest/manifest-schema.ts";
import { startingManifest } from "../../roles/starting-manifest.ts";
import { extractField } from "../../season/field/extract-field.ts";
import { FIELD_RUN_SCHEMA, type FieldRun } from "../../season/field-result.ts";
import { withDefaults } from "../../season/season-manifest.ts";
import type { PlannedField } from "../../season/season-plan.ts";
import type { FieldDefaults } from "../../season/season-schema.ts";
import { FieldFiles } from "../files/field-files.ts";
import { pathsOf } from "../files/field-of-command.ts";
import { reportTemplate } from "../files/report-file.ts";
import { layerFilesIn } from "./read-season.ts";
import { EXTRACT_FILE, RUN_FILE, readRun, stagingFolder } from "./season-folder.ts";

export interface FieldTask {
  field: PlannedField;
  /** Folder that the field's place starts from, and the season's results. */
  seasonFolder: string;
  out: string;
  defaults: FieldDefaults;
  /** Setup of the field's planter in the season's manifest. */
  planter: Readonly<Record<string, unknown>> | null;
  allowOutside: boolean;
  withReport: boolean;
  program: string;
}

export type FieldAnswer =
  | { kind: "unchanged" | "failed" | "done"; run: FieldRun; staging: string | null }
  /** The disk, not the field: there is no use in going on. */
  | { kind: "disk"; message: string };

/** Trouble of the results' disk: full, over quota, read-only, gone. */
const DISK_TROUBLE = new Set(["ENOSPC", "EDQUOT", "EROFS", "EIO", "EFBIG"]);

/**
 * Works on one field; leaves a complete folder beside its place, or nothing where its results stand as they are.
 * @param untilWanted resolves once somebody still waits for the results; else never
 */
export async function workOnField(
  task: FieldTask,
  untilWanted: () => Promise<void> = async () => {},
): Promise<FieldAnswer> {
  const base = { schema: FIELD_RUN_SCHEMA, name: task.field.name, logSha256: null } as const;
  let known: Opened | null = null;
  try {
    const opened = await openField(task);
    known = opened;
    const earlier = readRun(task.out, task.field.id);
    if (earlier && earlier.key === opened.key) return { kind: "unchanged", run: earlier, staging: null };
    return await analysed(task, opened, untilWanted);
  } catch (error) {
    if (DISK_TROUBLE.has((error as NodeJS.ErrnoException).code ?? ""))
      return { kind: "disk", message: (error as Error).message };
    const mend = isEvenstandError(error);
    const run: FieldRun = {
      ...base,
      // A fault of ours may be gone the next time: no key, so it is tried again.
      key: mend && known ? known.key : "",
      name: known?.name ?? task.field.name,
      logSha256: known?.logSha256 ?? null,
      status: "failed",
      reason: mend
        ? error.message
        : `a fault of ours: ${error instanceof Error ? error.message : String(error)}`,
      choices: mend ? (error.details.choices ?? []) : [],
    };
    const staging = stageFailure(task, run);
    return { kind: "failed", run, staging };
  }
}

interface Opened {
  manifest: Manifest;
  files: FieldFiles;
  key: string;
  name: string;
  logSha256: string | null;
}

async function openField(task: FieldTask): Promise<Opened> {
  const place = resolve(task.seasonFolder, task.field.path);
  if (!existsSync(place))
    throw new FileUnusableError(`${task.field.path}: no such file or folder`, { file: task.field.path });
  const isFolder = statSync(place).isDirectory();
  const file = isFolder ? join(place, "field.json") : place;
  const folder = isFolder ? place : dirname(place);
  const files = new FieldFiles(folder, task.allowOutside);
  const own = existsSync(file)
    ? JSON.parse(checkedText(file, task))
    : await recognisedManifest(folder, files, task);
  const merged = withDefaults(own, task.defaults, task.planter);
  if (task.field.name !== null) merged.name = task.field.name;
  const manifest = parseManifest(merged, {
    file: `${task.field.path}/${basename(file)}`,
    allowOutsidePaths: task.allowOutside,
  });
  const paths = pathsOf(manifest).sort();
  await files.requireAll(paths);
  for (const path of paths) await files.open(path);
  const hashes = paths.map((path) => [path, files.hashes.get(path)]);
  const { program, withReport } = task;
  const key = createHash("sha256")
    .update(JSON.stringify({ program, withReport, manifest: sorted(merged), hashes }))
    .digest("hex");
  return {
    manifest,
    files,
    key,
    name: manifest.name ?? basename(folder),
    logSha256: files.hashes.get(manifest.plantingLog.file) ?? null,
  };
}

/** The text of a field's own manifest, checked as every manifest is, with its own messages. */
function checkedText(file: string, { field, allowOutside }: FieldTask): string {
  const text = readFileSync(file, "utf8").replace(/^\uFEFF/, "");
  parseManifestText(text, { file: `${field.path}/${basename(file)}`, allowOutsidePaths: allowOutside });
  return text;
}

/** A manifest for a folder without one: which file is what by its content, as `inspect` takes it. */
async function recognisedManifest(
  folder: string,
  files: FieldFiles,
  { field }: FieldTask,
): Promise<Record<string, unknown>> {
  const found: LayerFile[] = [];
  for (const name of layerFilesIn(folder)) found.push(...(await files.open(name)));
  const { manifest, layers } = await startingManifest(found);
  if (!manifest.plantingLog) {
    const seen = layers.map(({ file, reason }) => `${file} (${reason})`).join("; ");
    throw new FileUnusableError(
      `${field.path}: none of its files is a planting log: ${seen || "it is empty"}`,
      {
        file: field.path,
        accepted: "a planting log as GeoJSON, CSV or shapefile",
      },
    );
  }
  return { ...manifest, name: basename(folder) };
}

async function analysed(
  task: FieldTask,
  opened: Opened,
  untilWanted: () => Promise<void>,
): Promise<FieldAnswer> {
  const { manifest, files, key, name, logSha256 } = opened;
  const before = new Map(files.hashes);
  const loaded = await loadField(manifest, files.open);
  for (const input of loaded.inputs) {
    const path = manifest[input.role as LayerRole]?.file ?? input.file;
    const hash = files.hashes.get(path) ?? null;
    if (hash !== before.get(path))
      throw new FileUnusableError(`${path}: changed while it was read; run the season again`, { file: path });
    input.sha256 = hash;
  }
  const analysis = await analyseField(loaded);
  const results = resultFiles(analysis, analysis.document);
  if (task.withReport) results.push(resultReport(await reportTemplate(), analysis, analysis.document));
  results.push({ name: EXTRACT_FILE, content: JSON.stringify(extractField(analysis)) });
  await untilWanted();
  const run: FieldRun = {
    schema: FIELD_RUN_SCHEMA,
    key,
    status: "done",
    name,
    logSha256,
    reason: null,
    choices: [],
  };
  return { kind: "done", run, staging: staged(task, results, run) };
}

/** Writes the files beside the field's place; `field-run.json` last, so that a folder that has it is complete. */
function staged(
  { out, field }: FieldTask,
  results: readonly { name: string; content: string }[],
  run: FieldRun,
): string {
  const staging = stagingFolder(out, field.id);
  try {
    mkdirSync(staging);
    for (const { name, content } of results) writeFileSync(join(staging, name), content);
    writeFileSync(join(staging, RUN_FILE), `${JSON.stringify(run, null, 1)}\n`);
    return staging;
  } catch (cause) {
    rmSync(staging, { recursive: true, force: true });
    throw cause;
  }
}

/** A complete folder for a field of which there are no results, only the reason. */
export function stageFailure(task: FieldTask, run: FieldRun): string {
  return staged(task, [], run);
}

/** The same value with the keys of every object in order, so that a manifest's layout does not count. */
function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== "object" || value === null) return value;
  const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(entries.map(([key, member]) => [key, sorted(member)]));
}
