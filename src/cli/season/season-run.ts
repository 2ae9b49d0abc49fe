/** `evenstand season run`: every field of a season that is not done yet, in a pool of processes, then what they say together. */
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { availableParallelism } from "node:os";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { FIELD_RUN_SCHEMA, type FieldRun } from "../../season/field-result.ts";
import { type PlannedField, shardOf } from "../../season/season-plan.ts";
import { CommandLineError, EXIT } from "../terminal/failure.ts";
import type { Io } from "../terminal/io.ts";
import type { FieldAnswer, FieldTask } from "./field-task.ts";
import { stageFailure } from "./field-task.ts";
import { programVersion } from "./program-version.ts";
import { readSeason } from "./read-season.ts";
import {
  cannotWrite,
  PLAN_FILE,
  prepareSeasonFolder,
  putInPlace,
  sweep,
  writeWhole,
} from "./season-folder.ts";
import { lockSeason } from "./season-lock.ts";
import { writeSeason } from "./season-merge.ts";
import { SeasonProgress } from "./season-progress.ts";
import { type Outcome, runPool } from "./worker-pool.ts";

export interface SeasonFlags {
  out: string;
  workers?: number;
  shard?: { shard: number; shards: number };
  /** Seconds, MiB. */
  timeLimit?: number;
  memoryLimit?: number;
  reports: boolean;
  allowOutside?: boolean;
  json?: boolean;
}

/** @returns the exit code: done, or fields left out */
export async function runSeason(named: string, options: SeasonFlags, io: Io): Promise<number> {
  const { plan, manifest, folder: seasonFolder } = readSeason(named, options.allowOutside ?? false, io);
  const out = resolve(io.workingFolder, options.out);
  const { shard, shards } = options.shard ?? { shard: 1, shards: 1 };
  prepareSeasonFolder(out, options.out);
  const lock = lockSeason(out, shard, shards);
  try {
    const fields = shardOf(plan.fields, shard, shards);
    writePlan(out, `${JSON.stringify(plan, null, 1)}\n`, options.out);
    const ids = new Set(fields.map(({ id }) => id));
    sweep(out, ids);
    const program = await programVersion(options.reports);
    const tasks = fields.map((field): FieldTask & { bytes: number } => ({
      field,
      seasonFolder,
      out,
      defaults: manifest.defaults ?? {},
      planter: (field.planter !== null && manifest.planters?.[field.planter]) || null,
      allowOutside: options.allowOutside ?? false,
      withReport: options.reports,
      program,
      bytes: bytesOf(field, seasonFolder),
    }));
    const isWhole = await work(tasks, options, io);
    // A killed run's processes may have ended after this one began.
    sweep(out, ids);
    if (!isWhole) {
      io.err("Stopped. What is done is kept; the same command goes on from here.\n");
      return EXIT.fieldsLeftOut;
    }
    if (options.shard) {
      io.err(
        `Part ${shard} of ${shards} is done; "evenstand season merge ${options.out}" joins the parts.\n`,
      );
      return EXIT.done;
    }
    return await writeSeason(plan, out, options.out, options, io);
  } finally {
    lock.release();
  }
}

/** Parts of one season write the same list; where it is there already it is left alone. */
function writePlan(out: string, text: string, named: string): void {
  const path = join(out, PLAN_FILE);
  try {
    if (!existsSync(path) || readFileSync(path, "utf8") !== text) writeWhole(path, text);
  } catch (cause) {
    throw cannotWrite(named, cause);
  }
}

/** @returns false where it was interrupted */
async function work(
  tasks: readonly (FieldTask & { bytes: number })[],
  options: SeasonFlags,
  io: Io,
): Promise<boolean> {
  const { stop } = io;
  const progress = new SeasonProgress(
    io,
    tasks.length,
    tasks.reduce((sum, { bytes }) => sum + bytes, 0),
  );
  const cores = availableParallelism();
  const workers = options.workers ?? cores;
  // The largest first, so that no process works alone at the end.
  const sorted = [...tasks].sort((a, b) => b.bytes - a.bytes || (a.field.id < b.field.id ? -1 : 1));
  try {
    await runPool<FieldTask & { bytes: number }, FieldAnswer>(
      sorted,
      {
        entry: fileURLToPath(new URL("./worker.js", import.meta.url)),
        workers,
        singleThreaded: workers >= cores,
        timeLimitMs: options.timeLimit === undefined ? null : options.timeLimit * 1000,
        memoryLimitBytes: options.memoryLimit === undefined ? null : options.memoryLimit * (1 << 20),
      },
      (task, outcome) => {
        const { run, what } = settled(task, outcome, options);
        progress.ended(run.name ?? task.field.path, what, task.bytes, what !== UNCHANGED);
      },
      stop,
    );
  } finally {
    progress.end();
  }
  return !stop.aborted;
}

const UNCHANGED = "as it was";

/** Puts what came of a field in its place. */
function settled(
  task: FieldTask,
  outcome: Outcome<FieldAnswer>,
  options: SeasonFlags,
): { run: FieldRun; what: string } {
  try {
    if (outcome.kind === "ended") {
      const run = endedRun(task.field, outcome, options);
      putInPlace(task.out, task.field.id, stageFailure(task, run));
      return { run, what: `left out: ${run.reason}` };
    }
    const { answer } = outcome;
    if (answer.kind === "disk")
      throw new CommandLineError(
        `--out ${options.out}: cannot be written: ${answer.message}; what is done is kept, the same command goes on from here`,
        { value: options.out },
      );
    const { kind, run, staging } = answer;
    if (staging !== null) putInPlace(task.out, task.field.id, staging);
    const said = run.status === "failed" ? `left out: ${run.reason}` : "done";
    return { run, what: kind === "unchanged" && run.status === "done" ? UNCHANGED : said };
  } catch (cause) {
    throw cannotWrite(options.out, cause);
  }
}

/** A field whose process was ended; without a key, so that the next run tries it again. */
function endedRun(
  field: PlannedField,
  { why, detail }: Extract<Outcome<never>, { kind: "ended" }>,
  { timeLimit, memoryLimit }: SeasonFlags,
): FieldRun {
  const reasons = {
    time: `took longer than the limit of ${timeLimit} s (--time-limit)`,
    memory:
      memoryLimit === undefined
        ? `ran out of memory (${detail})`
        : `took more memory than the limit of ${memoryLimit} MiB (--memory-limit)`,
    crash: `its process broke down (${detail})`,
  };
  return {
    schema: FIELD_RUN_SCHEMA,
    key: "",
    status: "failed",
    name: field.name,
    logSha256: null,
    reason: reasons[why],
    choices: [],
  };
}

/** Size of what lies in a field's folder, to tell the time by. */
function bytesOf({ path }: PlannedField, seasonFolder: string): number {
  try {
    const place = resolve(seasonFolder, path);
    const folder = statSync(place).isDirectory() ? place : dirname(place);
    const files = readdirSync(folder, { withFileTypes: true }).filter((entry) => entry.isFile());
    return files.reduce((sum, { name }) => sum + statSync(join(folder, name)).size, 0);
  } catch {
    // Missing: the task itself says so.
    return 0;
  }
}
