/**
 * The folder of a season's results. Each field has a folder of its own in it, with `field-run.json` that says what it was
 * made from; a field's results are written beside it under another name and put in its place whole, so that a run that is
 * killed leaves the earlier results or the new ones, and what is half done is swept away by the next.
 */
import { randomUUID } from "node:crypto";
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import type { FieldExtract } from "../../season/field/field-extract.ts";
import { EXTRACT_SCHEMA } from "../../season/field/field-extract.ts";
import { FIELD_RUN_SCHEMA, type FieldRun } from "../../season/field-result.ts";
import { PLAN_SCHEMA, type SeasonPlan } from "../../season/season-plan.ts";
import { CommandLineError } from "../terminal/failure.ts";

/** Marks the folder as a season's results. */
export const SEASON_MARKER = ".evenstand-season";
export const PLAN_FILE = "season-plan.json";
export const RUN_FILE = "field-run.json";
export const EXTRACT_FILE = "extract.json";
const FIELDS = "fields";

/** Results of a field on their way in or out: its id, and the number of the process. */
const STAGING = /^\.(?:writing|leaving)~(.+)~\d+~[0-9a-f]{8}$/;

/** What a file system itself keeps at the top of a disk is nobody's. */
const PASSED_OVER = new Set(["lost+found"]);

/**
 * Makes the folder where it is missing, and marks it.
 * @throws {CommandLineError} where it is a file, holds what is not ours, or cannot be written to.
 */
export function prepareSeasonFolder(folder: string, named: string): void {
  try {
    if (existsSync(folder)) {
      if (!statSync(folder).isDirectory())
        throw new CommandLineError(`--out ${named}: is a file; name a folder`, { value: named });
      const entries = readdirSync(folder).filter((name) => !PASSED_OVER.has(name));
      if (entries.length > 0 && !entries.includes(SEASON_MARKER))
        throw new CommandLineError(
          `--out ${named}: the folder holds other files; name a new or empty folder, or one with a season's results`,
          { value: named, accepted: "a new folder, an empty one, or one with a season's earlier results" },
        );
    }
    mkdirSync(join(folder, FIELDS), { recursive: true });
    writeWhole(join(folder, SEASON_MARKER), `${JSON.stringify({ writtenBy: "Evenstand" })}\n`);
  } catch (cause) {
    throw cannotWrite(named, cause);
  }
}

/** An error of the file system as one of the command line; others as they are. */
export function cannotWrite(named: string, cause: unknown): unknown {
  if (!(cause as NodeJS.ErrnoException).code) return cause;
  const message = cause instanceof Error ? cause.message : String(cause);
  return new CommandLineError(`--out ${named}: cannot be written: ${message}`, { value: named, cause });
}

export function fieldFolder(folder: string, id: string): string {
  return join(folder, FIELDS, id);
}

/** A new folder for a field's results on their way in. */
export function stagingFolder(folder: string, id: string): string {
  return join(folder, FIELDS, `.writing~${id}~${process.pid}~${randomUUID().slice(0, 8)}`);
}

/** Writes a file under another name first, so that it is there whole or not at all. */
export function writeWhole(path: string, content: string | Uint8Array): void {
  const part = `${path}.${process.pid}-${randomUUID().slice(0, 8)}.part`;
  try {
    writeFileSync(part, content);
    renameSync(part, path);
  } catch (cause) {
    rmSync(part, { force: true });
    throw cause;
  }
}

/** Puts a complete folder in the place of a field's earlier results. */
export function putInPlace(folder: string, id: string, staging: string): void {
  const target = fieldFolder(folder, id);
  const leaving = join(folder, FIELDS, `.leaving~${id}~${process.pid}~${randomUUID().slice(0, 8)}`);
  if (existsSync(target)) renameSync(target, leaving);
  renameSync(staging, target);
  rmSync(leaving, { recursive: true, force: true });
}

/**
 * Clears what killed runs have left of these fields. A complete folder whose field has none goes into its place; the rest
 * goes away.
 */
export function sweep(folder: string, ids: ReadonlySet<string>): void {
  const all = join(folder, FIELDS);
  const names = readdirSync(all).sort();
  for (const name of names) {
    const id = STAGING.exec(name)?.[1];
    if (id === undefined || !ids.has(id)) continue;
    const isComplete = existsSync(join(all, name, RUN_FILE));
    if (isComplete && !existsSync(join(all, id))) renameSync(join(all, name), join(all, id));
    else rmSync(join(all, name), { recursive: true, force: true });
  }
  for (const name of readdirSync(folder)) {
    if (name.endsWith(".part") && olderThan(join(folder, name), 60_000))
      rmSync(join(folder, name), { force: true });
  }
}

function olderThan(path: string, ms: number): boolean {
  const found = statSync(path, { throwIfNoEntry: false });
  return found !== undefined && Date.now() - found.mtimeMs > ms;
}

/** What a field's results were made from; null where there are none, or not whole ones. */
export function readRun(folder: string, id: string): FieldRun | null {
  return readJson<FieldRun>(join(fieldFolder(folder, id), RUN_FILE), FIELD_RUN_SCHEMA);
}

/** Null where there is none or it is damaged. */
export function readExtract(folder: string, id: string): FieldExtract | null {
  return readJson<FieldExtract>(join(fieldFolder(folder, id), EXTRACT_FILE), EXTRACT_SCHEMA);
}

export function readPlan(folder: string): SeasonPlan | null {
  return readJson<SeasonPlan>(join(folder, PLAN_FILE), PLAN_SCHEMA);
}

function readJson<Value extends { schema: string }>(path: string, schema: string): Value | null {
  try {
    const value = JSON.parse(readFileSync(path, "utf8")) as Value;
    return value.schema === schema ? value : null;
  } catch {
    return null;
  }
}
