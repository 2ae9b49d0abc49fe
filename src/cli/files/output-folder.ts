/**
 * A folder for results that never destroys what is not ours and never shows files of two runs beside each other:
 * everything is written into a folder of its own inside; once that is complete it takes the place of the folder as a
 * whole (`output-swap.ts`), or where that cannot be its files take the place of the earlier ones (`output-moves.ts`). A
 * run killed before that leaves the earlier results whole. What a killed run has left the next one puts right: complete
 * results are put in, incomplete ones are taken away.
 */
import {
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  renameSync,
  rmdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { dirname, join, resolve } from "node:path";
import { CommandLineError } from "../terminal/failure.ts";
import { filesOfMarker, MARKER_FILE, STAGING, stagingName } from "./output-marker.ts";
import { hasBegunMoving, moveIn, NOTICE_FILE } from "./output-moves.ts";
import { finishKilledSwaps, swapIn } from "./output-swap.ts";
import { isRunning } from "./running-process.ts";

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
    finishKilledSwaps(target);
    tryToWrite(target);
    finishKilledRuns(target);
  } catch (cause) {
    throw asCommandLineError(folder, cause);
  }
}

/**
 * Writes the files into the folder, replacing earlier results and leaving every other file alone. On an error
 * nothing of it stays behind and earlier results stand as they were. At no moment do files of two runs stand beside
 * each other; a run killed while they are put in is finished by the next one.
 * @throws {CommandLineError} as {@link prepareOutputFolder}
 */
export function writeOutputFolder(folder: string, files: readonly OutputFile[]): void {
  const names = files.map(({ name }) => name);
  fillOutputFolder(folder, names, (staging) => {
    for (const { name, content } of files) writeFileSync(join(staging, name), content);
  });
}

/**
 * The same for files that are not in memory as a whole.
 * @param names of the files, all of which `fill` writes into the folder it is given
 * @throws {CommandLineError} as {@link prepareOutputFolder}
 */
export function fillOutputFolder(
  folder: string,
  names: readonly string[],
  fill: (staging: string) => void,
): void {
  const target = resolve(folder);
  let made: string | undefined;
  let staging: string | undefined;
  try {
    prepareOutputFolder(folder);
    made = mkdirSync(target, { recursive: true });
    refuseFoldersOfName(target, names);
    staging = join(target, stagingName());
    mkdirSync(staging);
    fill(staging);
    const marker = { writtenBy: "Evenstand", files: [...names].sort() };
    // Last: a staging folder that has it is complete.
    writeFileSync(join(staging, `${MARKER_FILE}.part`), `${JSON.stringify(marker, null, 2)}\n`);
    renameSync(join(staging, `${MARKER_FILE}.part`), join(staging, MARKER_FILE));
    putIn(staging, target);
  } catch (cause) {
    if (staging) rmSync(staging, { recursive: true, force: true });
    if (made) rmSync(made, { recursive: true, force: true });
    throw asCommandLineError(folder, cause);
  }
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
function refuseFoldersOfName(target: string, names: readonly string[]): void {
  for (const name of [...names, MARKER_FILE]) {
    const there = lstatSync(join(target, name), { throwIfNoEntry: false });
    if (there?.isDirectory())
      throw new CommandLineError(`--out ${target}: holds a folder named ${name}, where a file has to go`, {
        value: join(target, name),
      });
  }
}

/** Puts a complete staging folder in; one of which files were moved already goes on like that. */
function putIn(staging: string, target: string): void {
  if (hasBegunMoving(staging) || !swapIn(staging, target)) moveIn(staging, target);
}

/** Finishes or takes away what runs that are no more have left. */
function finishKilledRuns(target: string): void {
  if (!existsSync(target)) return;
  for (const name of readdirSync(target).sort()) {
    const owner = STAGING.exec(name)?.[1];
    if (owner === undefined || isRunning(Number(owner))) continue;
    const staging = join(target, name);
    if (existsSync(join(staging, MARKER_FILE))) putIn(staging, target);
    else rmSync(staging, { recursive: true, force: true });
  }
  // A run may have been killed between its last move and this.
  if (!readdirSync(target).some((name) => STAGING.test(name)))
    rmSync(join(target, NOTICE_FILE), { force: true });
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
