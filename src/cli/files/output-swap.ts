/**
 * An output folder exchanged as a whole, by renaming: the earlier results stand in place whole until the new ones do.
 * A run killed between the two renames leaves nothing in place, and both whole beside it; the next run puts the new one
 * in. Other people's files in the folder are in both, as further names of the same file.
 */
import {
  chmodSync,
  existsSync,
  linkSync,
  lstatSync,
  readdirSync,
  readlinkSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
} from "node:fs";
import { basename, dirname, join, resolve, sep } from "node:path";
import process from "node:process";
import { filesOfMarker, MARKER_FILE, RUN, STAGING, stagingOf } from "./output-marker.ts";
import { NOTICE_FILE } from "./output-moves.ts";
import { isRunning } from "./running-process.ts";

/** Beside the output folder: complete new results, and earlier ones on their way out, by the run. */
const readyName = (name: string, run: string): string => `.${name}.evenstand-ready-${run}`;
const earlierName = (name: string, run: string): string => `${name}.earlier-results-${run}`;

/** More entries of others than this are not linked one by one. */
const MOST_OTHERS = 1000;

/**
 * Puts a complete staging folder in the place of the folder it lies in.
 * @returns false where that cannot be done, and then everything is as it was
 */
export function swapIn(staging: string, target: string): boolean {
  const place = realpathSync(target);
  const others = othersToKeep(place, basename(staging));
  if (others === null || !mayBeRenamed(place)) return false;
  const [parent, name] = [dirname(place), basename(place)];
  const run = basename(staging).slice(stagingOf("").length);
  const ready = join(parent, readyName(name, run));
  const earlier = join(parent, earlierName(name, run));
  const undo: (() => void)[] = [];
  try {
    undo.push(() => {
      for (const other of others) rmSync(join(staging, other), { force: true });
    });
    for (const other of others) linkSync(join(place, other), join(staging, other));
    chmodSync(staging, statSync(place).mode & 0o7777);
    renameSync(join(place, basename(staging)), ready);
    undo.push(() => renameSync(ready, join(place, basename(staging))));
    renameSync(place, earlier);
    undo.push(() => renameSync(earlier, place));
    renameSync(ready, place);
  } catch {
    for (const step of undo.reverse()) step();
    return false;
  }
  try {
    takeAway(earlier, place);
  } catch {
    // The new results stand; the next run tries again.
  }
  return true;
}

/** Names in the folder that are not ours and have to stay; null where there are more than plain files among them. */
function othersToKeep(place: string, staging: string): string[] | null {
  const ours = new Set([...filesOfMarker(place), MARKER_FILE, NOTICE_FILE, staging]);
  const others = readdirSync(place, { withFileTypes: true }).filter(({ name }) => !ours.has(name));
  if (others.length > MOST_OTHERS || others.some((entry) => !entry.isFile())) return null;
  const taken = new Set(readdirSync(join(place, staging)));
  return others.some(({ name }) => taken.has(name)) ? null : others.map(({ name }) => name);
}

/** Not the top of a disk, not another user's, and nobody known works inside: their place would be gone. */
function mayBeRenamed(place: string): boolean {
  const [own, above] = [statSync(place), statSync(dirname(place))];
  if (own.dev !== above.dev || own.ino === above.ino) return false;
  if (process.getuid && own.uid !== process.getuid()) return false;
  return !foldersWorkedIn().some((folder) => folder === place || folder.startsWith(place + sep));
}

/** Folders that processes work in, as far as the system tells (Linux: all of this user's; else our own). */
function foldersWorkedIn(): string[] {
  const folders = [process.cwd()];
  if (process.platform !== "linux") return folders;
  for (const number of readdirSync("/proc")) {
    if (!/^\d+$/.test(number)) continue;
    try {
      folders.push(readlinkSync(`/proc/${number}/cwd`));
    } catch {
      // Another user's, or gone by now.
    }
  }
  return folders;
}

/**
 * Removes earlier results; what somebody put there in between goes to the new ones. Their marker goes last: a run killed
 * on the way leaves what the next one knows as ours.
 */
function takeAway(earlier: string, place: string): void {
  const ours = new Set([...filesOfMarker(earlier), MARKER_FILE, NOTICE_FILE]);
  const others = readdirSync(earlier).filter((name) => !ours.has(name) && !STAGING.test(name));
  for (const name of others) {
    const [here, there] = [join(earlier, name), join(place, name)];
    if (!existsSync(there)) renameSync(here, there);
    else if (lstatSync(here).ino !== lstatSync(there).ino) return;
  }
  const names = readdirSync(earlier).filter((name) => name !== MARKER_FILE);
  for (const name of names) rmSync(join(earlier, name), { recursive: true, force: true });
  rmSync(earlier, { recursive: true, force: true });
}

/**
 * Goes on with exchanges that killed runs began: complete new results take their place, or lie inside it again as a
 * run that has to be finished; earlier ones whose successors stand go.
 */
export function finishKilledSwaps(target: string): void {
  const place = placeOf(target);
  const [parent, name] = [dirname(place), basename(place)];
  if (!existsSync(parent)) return;
  const left = killedRuns(parent, (run) => readyName(name, run));
  for (const run of left) {
    const ready = join(parent, readyName(name, run));
    if (existsSync(place)) renameSync(ready, join(place, stagingOf(run)));
    else renameSync(ready, place);
  }
  if (!existsSync(place)) return;
  for (const run of killedRuns(parent, (run) => earlierName(name, run)))
    takeAway(join(parent, earlierName(name, run)), place);
}

/** Where a folder lies, or lay: also that of a link whose folder is on its way. */
function placeOf(target: string): string {
  if (existsSync(target)) return realpathSync(target);
  const isLink = lstatSync(target, { throwIfNoEntry: false })?.isSymbolicLink() ?? false;
  return isLink ? resolve(dirname(target), readlinkSync(target)) : target;
}

/** Runs that are no more and have left an entry of a name. */
function killedRuns(parent: string, nameOf: (run: string) => string): string[] {
  const [before, behind] = nameOf("\n").split("\n") as [string, string];
  const pattern = new RegExp(`^${RUN}$`);
  return readdirSync(parent)
    .filter((entry) => entry.startsWith(before) && entry.endsWith(behind))
    .map((entry) => entry.slice(before.length, entry.length - behind.length))
    .filter((run) => pattern.test(run) && !isRunning(Number(pattern.exec(run)![1])))
    .sort();
}
