/** `evenstand check`: the first passes of an unfinished log, on one screen. */
import { open, stat } from "node:fs/promises";
import { join, resolve } from "node:path";
import { checkPasses } from "../../check/check-passes.ts";
import type { LastYear } from "../../check/check-result.ts";
import { checkText } from "../../check/check-text.ts";
import { lastYearOf } from "../../check/last-year.ts";
import { logOnly } from "../../check/log-only.ts";
import { FileUnusableError } from "../../errors.ts";
import { assembleField, loadField } from "../../field/load.ts";
import { parseManifest, parseManifestText } from "../../manifest/manifest.ts";
import { FIELD_SCHEMA, type Manifest } from "../../manifest/manifest-schema.ts";
import { startingManifest } from "../../roles/starting-manifest.ts";
import type { Field } from "../../vocabulary/field.ts";
import { FieldFiles, readManifestFile, readTextFile } from "../files/field-files.ts";
import { openCommandField } from "../files/field-of-command.ts";
import { CommandLineError } from "../terminal/failure.ts";
import type { Io } from "../terminal/io.ts";
import { cleanedJson } from "../terminal/printed.ts";
import { textWidth } from "../terminal/text-width.ts";

export interface CheckFlags {
  manifest?: string;
  last?: string;
  json?: boolean;
  allowOutside?: boolean;
}

/** Checks the passes so far and prints what they show. */
export async function check(log: string, flags: CheckFlags, io: Io): Promise<void> {
  const lastYear = flags.last === undefined ? null : await readLastYear(flags.last, io);
  const field = await fieldSoFar(log, flags, io);
  const result = checkPasses(field, lastYear);
  io.out(flags.json ? cleanedJson(`${JSON.stringify(result, null, 1)}\n`) : checkText(result, textWidth(io)));
}

/** The field with its log alone: nothing else is read on the day. */
async function fieldSoFar(log: string, flags: CheckFlags, io: Io): Promise<Field> {
  if (await isManifest(log, io)) {
    if (flags.manifest !== undefined) {
      throw new CommandLineError(
        `--manifest ${flags.manifest}: ${log} is a field manifest itself; give one of them`,
        {
          value: flags.manifest,
        },
      );
    }
    const { manifest, files } = await openCommandField(log, flags.allowOutside ?? false, io);
    return loadField(logOnly(manifest), files.open);
  }
  const files = new FieldFiles(io.workingFolder, true);
  if (flags.manifest !== undefined) return loadField(await manifestFor(log, flags.manifest, io), files.open);
  const { manifest, layers } = await startingManifest(await files.open(log));
  const [own] = layers;
  if (own?.error) throw own.error;
  if (own?.role !== "plantingLog" || !own.layer) {
    throw new FileUnusableError(
      `${log}: is not taken for a planting log: it ${own?.reason ?? "holds nothing"}`,
      {
        file: log,
        accepted:
          'points or polygons with readings of the planter; "evenstand inspect" shows what is in a file',
      },
    );
  }
  return assembleField(parseManifest(manifest, { allowOutsidePaths: true }), { plantingLog: own.layer });
}

/** The manifest with the log of the command line in place of its own, whose columns hold for it too. */
async function manifestFor(log: string, path: string, io: Io): Promise<Manifest> {
  const { name, text } = await readManifestFile(path, io.workingFolder);
  const options = { file: name, allowOutsidePaths: true };
  let json: unknown;
  try {
    json = JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch {
    return parseManifestText(text, options);
  }
  if (typeof json !== "object" || json === null || Array.isArray(json)) return parseManifest(json, options);
  const { plantingLog, ...rest } = json as Record<string, unknown>;
  const own = typeof plantingLog === "object" && plantingLog !== null ? plantingLog : {};
  return logOnly(parseManifest({ ...rest, plantingLog: { ...own, file: log } }, options));
}

/** A manifest says so near its beginning; a log may be a .json as well, and long. */
const LOOKED_AT_BYTES = 4096;

async function isManifest(path: string, io: Io): Promise<boolean> {
  const full = resolve(io.workingFolder, path);
  const found = await stat(full).catch(() => null);
  if (found?.isDirectory()) return true;
  if (!found?.isFile() || !/\.json$/i.test(path)) return false;
  const file = await open(full);
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(LOOKED_AT_BYTES), 0, LOOKED_AT_BYTES, 0);
    return buffer.toString("utf8", 0, bytesRead).includes(FIELD_SCHEMA);
  } finally {
    await file.close();
  }
}

async function readLastYear(path: string, io: Io): Promise<LastYear> {
  const full = resolve(io.workingFolder, path);
  const isFolder = await stat(full).then(
    (found) => found.isDirectory(),
    () => false,
  );
  const file = isFolder ? join(path, "findings.json") : path;
  return lastYearOf(await readTextFile(file, io.workingFolder), file);
}
