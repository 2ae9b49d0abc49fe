/**
 * A folder for results that never destroys what is not ours and never stays half written: everything is
 * written beside it and moved in at the end.
 */

import { randomUUID } from "node:crypto";
import { mkdir, readdir, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { CommandLineError } from "./failure.ts";

/** The file that marks a folder as written by Evenstand; it lists the files that are ours. */
export const MARKER_FILE = ".evenstand";

export interface OutputFile {
  /** Name inside the folder, without folder parts. */
  name: string;
  content: string | Uint8Array;
}

/**
 * Says no before any work is done where the folder may not be written into.
 * @throws {CommandLineError} when the path is a file, or a folder that is neither empty nor marked as ours.
 */
export async function refuseForeignFolder(folder: string): Promise<void> {
  const found = await statOrNull(folder);
  if (!found) return;
  if (!found.isDirectory()) {
    throw new CommandLineError(`--out ${folder}: is a file; name a folder`, { value: folder });
  }
  const entries = await readdir(folder);
  if (entries.length > 0 && !entries.includes(MARKER_FILE)) {
    throw new CommandLineError(
      `--out ${folder}: the folder holds other files; name a new or empty folder, or one Evenstand has written`,
      { value: folder, accepted: "a new folder, an empty one, or one with earlier results" },
    );
  }
}

/**
 * Writes the files into the folder, replacing earlier results and leaving every other file alone.
 * On an error nothing of it stays behind and earlier results stand as they were, unless the disk fails in
 * the middle of the final renames.
 * @throws {CommandLineError} as {@link refuseForeignFolder}, or when the place cannot be written to.
 */
export async function writeOutputFolder(folder: string, files: readonly OutputFile[]): Promise<void> {
  const target = resolve(folder);
  await refuseForeignFolder(folder);
  const madeParent = await mkdirReporting(dirname(target), folder);
  // Made like any folder, not as a private temporary one: it becomes the results folder.
  const staging = join(dirname(target), `.${basename(target)}.evenstand-${randomUUID()}`);
  try {
    await mkdir(staging);
    for (const file of files) await writeFile(join(staging, file.name), file.content);
    const names = files.map((file) => file.name).sort();
    const marker = { writtenBy: "Evenstand", files: names };
    await writeFile(join(staging, MARKER_FILE), `${JSON.stringify(marker, null, 2)}\n`);
    await moveIn(staging, target, names);
  } catch (cause) {
    await rm(staging, { recursive: true, force: true });
    if (madeParent) await rm(madeParent, { recursive: true, force: true });
    throw asCommandLineError(folder, cause);
  }
}

async function moveIn(staging: string, target: string, names: readonly string[]): Promise<void> {
  if (!(await statOrNull(target))) {
    await rename(staging, target);
    return;
  }
  const earlier = await filesOfMarker(target);
  for (const name of [...names, MARKER_FILE]) await rename(join(staging, name), join(target, name));
  for (const name of earlier) if (!names.includes(name)) await rm(join(target, name), { force: true });
  await rm(staging, { recursive: true });
}

/** Names an earlier run wrote; only plain names, so that a doctored marker reaches no other folder. */
async function filesOfMarker(folder: string): Promise<string[]> {
  try {
    const marker: unknown = JSON.parse(await readFile(join(folder, MARKER_FILE), "utf8"));
    const files = (marker as { files?: unknown }).files;
    if (!Array.isArray(files)) return [];
    return files.filter((name) => typeof name === "string" && name === basename(name) && !/^\.*$/.test(name));
  } catch {
    return [];
  }
}

/** Makes the parents of the folder; returns the topmost one that was made, for taking back, or undefined. */
async function mkdirReporting(parent: string, folder: string): Promise<string | undefined> {
  try {
    return await mkdir(parent, { recursive: true });
  } catch (cause) {
    throw asCommandLineError(folder, cause);
  }
}

function asCommandLineError(folder: string, cause: unknown): unknown {
  const code = (cause as NodeJS.ErrnoException).code;
  if (!code) return cause;
  const message = cause instanceof Error ? cause.message : String(cause);
  return new CommandLineError(`--out ${folder}: cannot be written: ${message}`, { value: folder, cause });
}

async function statOrNull(path: string) {
  try {
    return await stat(path);
  } catch {
    return null;
  }
}
