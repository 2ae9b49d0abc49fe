/**
 * Keeps two runs from working on the same fields at once. Each run has a lock file of its own in the folder; parts of one
 * division (1/4 and 2/4) may run side by side, anything else may not. A lock is dead where its process is gone, or, on
 * another machine, where it has not been renewed for a while.
 */
import {
  closeSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  utimesSync,
  writeSync,
} from "node:fs";
import { hostname } from "node:os";
import { join } from "node:path";
import process from "node:process";
import { isRunning } from "../files/running-process.ts";
import { CommandLineError } from "../terminal/failure.ts";

const LOCK = /^\.run-(\d+)-of-(\d+)\.lock$/;
const RENEW_MS = 10_000;
/** Another machine's lock that has not been renewed for so long is dead; clocks of machines differ a little. */
const DEAD_MS = 180_000;

export interface SeasonLock {
  release(): void;
}

/** @throws {CommandLineError} where another run is at work in the folder. */
export function lockSeason(folder: string, shard: number, shards: number): SeasonLock {
  const path = join(folder, `.run-${shard}-of-${shards}.lock`);
  refuseOthers(folder, shard, shards, null);
  take(path);
  try {
    // Another one may have come in between.
    refuseOthers(folder, shard, shards, path);
  } catch (error) {
    rmSync(path, { force: true });
    throw error;
  }
  const renewing = setInterval(() => {
    try {
      utimesSync(path, new Date(), new Date());
    } catch {
      // Taken away by hand: the next run will not see it, which whoever took it away wanted.
    }
  }, RENEW_MS);
  renewing.unref();
  return {
    release: () => {
      clearInterval(renewing);
      rmSync(path, { force: true });
    },
  };
}

function take(path: string): void {
  const handle = openSync(path, "wx");
  writeSync(handle, JSON.stringify({ host: hostname(), process: process.pid }));
  closeSync(handle);
}

function refuseOthers(folder: string, shard: number, shards: number, own: string | null): void {
  for (const name of readdirSync(folder).sort()) {
    const [, otherShard, otherShards] = LOCK.exec(name) ?? [];
    const path = join(folder, name);
    if (otherShard === undefined || path === own) continue;
    const isSame = Number(otherShards) === shards && Number(otherShard) !== shard && shards > 1;
    if (isSame) continue;
    const holder = holderOf(path);
    if (holder === null) {
      rmSync(path, { force: true });
      continue;
    }
    const what = otherShards === "1" ? "another run" : `the run of part ${otherShard}/${otherShards}`;
    throw new CommandLineError(
      `${what} is at work in this folder (${holder}); wait until it ends, or take away ${path} where it surely does not run`,
      { value: path },
    );
  }
}

/** Who holds a lock, in words; null where it is dead. */
function holderOf(path: string): string | null {
  let held: { host?: unknown; process?: unknown };
  let age: number;
  try {
    held = JSON.parse(readFileSync(path, "utf8")) as typeof held;
    age = Date.now() - statSync(path).mtimeMs;
  } catch {
    // Just being written, or gone. A lock that stays empty is one of a run that was killed while it wrote it.
    const found = statSync(path, { throwIfNoEntry: false });
    return found && Date.now() - found.mtimeMs < RENEW_MS ? "just begun" : null;
  }
  const isHere = held.host === hostname();
  const lives = isHere ? isRunning(Number(held.process)) : age < DEAD_MS;
  return lives ? `process ${held.process} on ${held.host}` : null;
}
