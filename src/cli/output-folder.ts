/**
 * A folder for results that never destroys what is not ours and never stays half written: everything is written
 * into a folder of its own inside, and moved into place at the end. What a killed run left there is put right by
 * the next one: finished files are moved in, unfinished ones are taken away.
 */
import { randomUUID } from "node:crypto";
import {
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { CommandLineError } from "./failure.ts";
import { isRunning } from "./running-process.ts";

/** The file that marks a folder as written by Evenstand; it lists the files that are ours. */
export const MARKER_FILE = ".evenstand";

/** Folder of a run that writes: the process's number and a random part. */
const STAGING = /^\.evenstand-writing-(\d+)-[0-9a-f-]+$/;

export interface OutputFile {
  /** Name inside the folder, without folder parts. */
  name: string;
  content: string | Uint8Array;
}

/**
 * Says no before any work is done where the folder may not or cannot be written into, and puts right what a killed
 * run left in it.
 * @throws {CommandLineError} when the path is a file, a folder that is neither empty nor marked as ours, or a place
 * that cannot be written to.
 */
export function prepareOutputFolder(folder: string): void {
  const target = resolve(folder);
  try {
    refuseForeign(target, folder);
    tryToWrite(target);
    finishKilledRuns(target);
  } catch (cause) {
    throw asCommandLineError(folder, cause);
  }
}

/**
 * Writes the files into the folder, replacing earlier results and leaving every other file alone. On an error
 * nothing of it stays behind and earlier results stand as they were. The files are moved in by one call each, one
 * right after the other; a run killed between two of those calls is finished by the next run.
 * @throws {CommandLineError} as {@link prepareOutputFolder}
 */
export function writeOutputFolder(folder: string, files: readonly OutputFile[]): void {
  const target = resolve(folder);
  let made: string | undefined;
  let staging: string | undefined;
  try {
    prepareOutputFolder(folder);
    made = mkdirSync(target, { recursive: true });
    refuseFoldersOfName(target, files);
    staging = join(target, stagingName());
    mkdirSync(staging);
    for (const file of files) writeFileSync(join(staging, file.name), file.content);
    const marker = { writtenBy: "Evenstand", files: files.map((file) => file.name).sort() };
    // Last: a staging folder that has it is complete.
    writeFileSync(join(staging, `${MARKER_FILE}.part`), `${JSON.stringify(marker, null, 2)}\n`);
    renameSync(join(staging, `${MARKER_FILE}.part`), join(staging, MARKER_FILE));
    moveIn(staging, target);
  } catch (cause) {
    if (staging) rmSync(staging, { recursive: true, force: true });
    if (made) rmSync(made, { recursive: true, force: true });
    throw asCommandLineError(folder, cause);
  }
}

function stagingName(): string {
  return `.evenstand-writing-${process.pid}-${randomUUID()}`;
}

function refuseForeign(target: string, named: string): void {
  const found = statOrNull(target);
  if (!found) return;
  if (!found.isDirectory()) {
    throw new CommandLineError(`--out ${named}: is a file; name a folder`, { value: named });
  }
  const entries = readdirSync(target).filter((name) => !STAGING.test(name));
  // What a file system itself keeps at the top of a disk is nobody's.
  const others = entries.filter((name) => name !== "lost+found");
  if (others.length > 0 && !others.includes(MARKER_FILE)) {
    throw new CommandLineError(
      `--out ${named}: the folder holds other files; name a new or empty folder, or one Evenstand has written`,
      { value: named, accepted: "a new folder, an empty one, or one with earlier results" },
    );
  }
}

/** Makes and removes the folder, or one inside it where it is there: rights alone do not tell (read-only disks). */
function tryToWrite(target: string): void {
  if (existsSync(target)) {
    const probe = join(target, stagingName());
    mkdirSync(probe);
    rmdirSync(probe);
    return;
  }
  // Only the topmost one that is missing: Node.js tries for ever to make the parents of a folder under /proc.
  let missing = target;
  while (!existsSync(dirname(missing))) missing = dirname(missing);
  mkdirSync(missing);
  rmdirSync(missing);
}

/** A folder of a file's name would stop the moves half-way. */
function refuseFoldersOfName(target: string, files: readonly OutputFile[]): void {
  for (const { name } of [...files, { name: MARKER_FILE }]) {
    const there = lstatSync(join(target, name), { throwIfNoEntry: false });
    if (there?.isDirectory())
      throw new CommandLineError(`--out ${target}: holds a folder named ${name}, where a file has to go`, {
        value: join(target, name),
      });
  }
}

/** Moves a complete staging folder in; may be called again where it was broken off. */
function moveIn(staging: string, target: string): void {
  const earlier = filesOfMarker(target);
  const names = new Set(filesOfMarker(staging));
  // Without a pause for anything else between the moves.
  for (const name of readdirSync(staging))
    if (name !== MARKER_FILE) renameSync(join(staging, name), join(target, name));
  for (const name of earlier) if (!names.has(name)) rmSync(join(target, name), { force: true });
  renameSync(join(staging, MARKER_FILE), join(target, MARKER_FILE));
  rmSync(staging, { recursive: true, force: true });
}

/** Finishes or takes away what runs that are no more have left. */
function finishKilledRuns(target: string): void {
  if (!existsSync(target)) return;
  for (const name of readdirSync(target).sort()) {
    const owner = STAGING.exec(name)?.[1];
    if (owner === undefined || isRunning(Number(owner))) continue;
    const staging = join(target, name);
    if (existsSync(join(staging, MARKER_FILE))) moveIn(staging, target);
    else rmSync(staging, { recursive: true, force: true });
  }
}

/** Names an earlier run wrote; only plain names, so that a doctored marker reaches no other folder. */
function filesOfMarker(folder: string): string[] {
  try {
    const marker: unknown = JSON.parse(readFileSync(join(folder, MARKER_FILE), "utf8"));
    const files = (marker as { files?: unknown }).files;
    if (!Array.isArray(files)) return [];
    return files.filter((name) => typeof name === "string" && name === basename(name) && !/^\.*$/.test(name));
  } catch {
    return [];
  }
}

function asCommandLineError(folder: string, cause: unknown): unknown {
  const code = (cause as NodeJS.ErrnoException).code;
  if (!code) return cause;
  const message = cause instanceof Error ? cause.message : String(cause);
  return new CommandLineError(`--out ${folder}: cannot be written: ${message}`, { value: folder, cause });
}

function statOrNull(path: string) {
  return statSync(path, { throwIfNoEntry: false }) ?? null;
}
