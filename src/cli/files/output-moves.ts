/**
 * Finished files into an output folder one by one, where the folder cannot be exchanged as a whole: all earlier files go
 * out of the way first, and only then the new ones in, so that files of two runs never stand beside each other.
 */
import { existsSync, lstatSync, mkdirSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { filesOfMarker, MARKER_FILE } from "./output-marker.ts";

/** Stands in the folder while files are moved, and so where a run was killed within that. */
export const NOTICE_FILE = "UNFINISHED-run-the-command-again.txt";
const NOTICE =
  "A run ended while it was replacing the results in this folder, so some files are missing here.\nNothing is lost: run the command again, it finishes what was begun.\n";

/** Inside the folder of a run: where earlier files go, and its name once all of them are there. */
const LEAVING = ".leaving";
const LEFT = ".left";

/** True where a killed run had begun to move files from or into a folder. */
export function hasBegunMoving(staging: string): boolean {
  return existsSync(join(staging, LEAVING)) || existsSync(join(staging, LEFT));
}

/** Moves a complete staging folder in; may be called again where it was broken off. Where a move fails all are taken back. */
export function moveIn(staging: string, target: string): void {
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
