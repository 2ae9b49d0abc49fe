/**
 * A folder for results that never destroys what is not ours and never shows files of two runs beside each other:
 * everything is written into a folder of its own inside; once that is complete the earlier files move out of the way,
 * all of them, and only then the new ones in. A run killed before that leaves the earlier results whole; one killed
 * within it leaves a part of one run's files, a notice that says so, and the rest in safety. The next run puts either
 * right: finished files are moved in, unfinished ones are taken away.
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

/** Stands in the folder while files are moved, and so where a run was killed within that. */
export const NOTICE_FILE = "UNFINISHED-run-the-command-again.txt";
const NOTICE =
  "A run ended while it was replacing the results in this folder, so some files are missing here.\nNothing is lost: run the command again, it finishes what was begun.\n";

/** Inside the folder of a run: where earlier files go, and its name once all of them are there. */
const LEAVING = ".leaving";
const LEFT = ".left";

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
 * nothing of it stays behind and earlier results stand as they were. At no moment do files of two runs stand beside
 * each other; a run killed while files are moved is finished by the next one.
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
  const entries = readdirSync(target);
  // A first run that was killed while it moved its files in has no marker here yet, but lists them in its own folder.
  const moving = entries
    .filter((name) => STAGING.test(name))
    .flatMap((name) => filesOfMarker(join(target, name)));
  // What a file system itself keeps at the top of a disk is nobody's.
  const passedOver = new Set([...moving, NOTICE_FILE, "lost+found"]);
  const others = entries.filter((name) => !STAGING.test(name) && !passedOver.has(name));
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

/** Moves a complete staging folder in; may be called again where it was broken off. Where a move fails all are taken back. */
function moveIn(staging: string, target: string): void {
  const done: [from: string, to: string][] = [];
  const move = (from: string, to: string): void => {
    renameSync(from, to);
    done.push([from, to]);
  };
  const notice = join(target, NOTICE_FILE);
  try {
    writeFileSync(notice, NOTICE);
    if (!existsSync(join(staging, LEFT))) {
      mkdirSync(join(staging, LEAVING), { recursive: true });
      for (const name of filesOfMarker(target)) {
        const there = lstatSync(join(target, name), { throwIfNoEntry: false });
        if (there && !there.isDirectory()) move(join(target, name), join(staging, LEAVING, name));
      }
      move(join(staging, LEAVING), join(staging, LEFT));
    }
    for (const name of filesOfMarker(staging))
      if (existsSync(join(staging, name))) move(join(staging, name), join(target, name));
    move(join(staging, MARKER_FILE), join(target, MARKER_FILE));
  } catch (cause) {
    for (const [from, to] of done.reverse()) renameSync(to, from);
    rmSync(notice, { force: true });
    throw cause;
  }
  rmSync(notice, { force: true });
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
  // A run may have been killed between its last move and this.
  if (!readdirSync(target).some((name) => STAGING.test(name)))
    rmSync(join(target, NOTICE_FILE), { force: true });
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
