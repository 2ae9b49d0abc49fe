/** The clock of a log: its order, and a clock that was set back. */
import type { NoteBook } from "../../ingest/note-book.ts";
import type { Placed } from "../../numerics/roughness.ts";

/** A log as it stands in the file. */
export interface FiledLog extends Placed {
  /** Code of the machine of each record, -1 unknown; null where the log names none. */
  machine: Int32Array | null;
  /** Degrees clockwise from north, null where not logged. */
  headingDeg: Float64Array | null;
  /** Whether the records of one time lie side by side (row units, sections). */
  isSideBySide: boolean;
  /** Number of a record in the file, 1-based, for notes. */
  recordNumber(record: number): number;
  /** Name of the column with the times. */
  timeColumn: string | null;
}

/** A record without a time stays with the one before it in the file (the first ones with the first that has one). */
export function withoutHoles(time: Float64Array): Float64Array {
  const firstKnown = time.find((value) => !Number.isNaN(value)) ?? 0;
  const filled = new Float64Array(time.length);
  let last = firstKnown;
  for (let record = 0; record < time.length; record++) {
    if (!Number.isNaN(time[record]!)) last = time[record]!;
    filled[record] = last;
  }
  return filled;
}

/** The records of each machine together, in the order of the file; noted where there are several. */
export function byMachine({ machine, x }: FiledLog, notes: NoteBook): Int32Array {
  const order = new Int32Array(x.length);
  for (let record = 0; record < order.length; record++) order[record] = record;
  if (!machine) return order;
  const machines = new Set(machine).size;
  if (machines < 2) return order;
  notes.add({
    reason: `${machines} machines planted; the passes of each are told apart on their own`,
    effect: "kept",
    count: x.length,
  });
  return order.sort((a, b) => machine[a]! - machine[b]! || a - b);
}

/** Records by machine, then by time, then as in the file; the given order itself where it is that already. */
export function sortedByClock({ machine }: FiledLog, byFile: Int32Array, clock: Float64Array): Int32Array {
  const comesAfter = (a: number, b: number): boolean =>
    (!machine || machine[a] === machine[b]) && clock[b]! < clock[a]!;
  let isSorted = true;
  for (let place = 1; place < byFile.length && isSorted; place++) {
    isSorted = !comesAfter(byFile[place - 1]!, byFile[place]!);
  }
  if (isSorted) return byFile;
  return byFile
    .slice()
    .sort((a, b) => (machine ? machine[a]! - machine[b]! : 0) || clock[a]! - clock[b]! || a - b);
}

/** Notes that the file does not stand in the order of its times, where it is taken in it; returns the order taken. */
export function noteClockOrder(
  log: FiledLog,
  byFile: Int32Array,
  byClock: Int32Array,
  notes: NoteBook,
): Int32Array {
  if (byClock === byFile || !log.seconds) return byClock;
  const { machine } = log;
  const clock = withoutHoles(log.seconds);
  let early = 0;
  let first = -1;
  let latest = Number.NEGATIVE_INFINITY;
  let before = -1;
  for (const record of byFile) {
    if (machine && before >= 0 && machine[record] !== machine[before]) latest = Number.NEGATIVE_INFINITY;
    before = record;
    if (clock[record]! >= latest) {
      latest = clock[record]!;
      continue;
    }
    early++;
    if (first < 0) first = record;
  }
  notes.add({
    reason:
      "stands in the file behind records of a later time; the records are taken in the order of their times",
    effect: "kept",
    field: log.timeColumn ?? undefined,
    record: log.recordNumber(first),
    count: early,
  });
  return byClock;
}

/** True where the planter goes on wherever the clock falls back: the clock was set, the file is in order. */
export function fallsBackOnTheWay(
  { x, y, machine, seconds }: FiledLog,
  byFile: Int32Array,
  longestM: number,
): boolean {
  let before = -1;
  for (const record of byFile) {
    if (Number.isNaN(seconds![record]!)) continue;
    const isSame = before >= 0 && (!machine || machine[record] === machine[before]);
    if (isSame && seconds![record]! < seconds![before]!) {
      const step = Math.hypot(x[record]! - x[before]!, y[record]! - y[before]!);
      if (step > longestM) return false;
    }
    before = record;
  }
  return true;
}

/** A clock falls back in the midst of the work where the next record lies this near, m (our judgement); else another piece of the work begins. */
const SAME_WORK_M = 60;

/**
 * Times with each fall back of the clock put right: what follows goes on a usual tick behind what came before, until
 * the next piece of the work. Where another piece begins its times stand. Both are noted.
 */
export function mendedClock(log: FiledLog, byFile: Int32Array, notes: NoteBook): Float64Array {
  const { x, y, machine } = log;
  const clock = log.seconds!;
  const mended = clock.slice();
  let shift = 0;
  let tick = 1;
  let before = -1;
  let jumps = 0;
  let pieces = 0;
  let firstJump = -1;
  let fellBackS = 0;
  for (const record of byFile) {
    if (Number.isNaN(clock[record]!)) continue;
    if (before >= 0) {
      const step = clock[record]! - clock[before]!;
      const isOther = machine !== null && machine[record] !== machine[before];
      const isNear = Math.hypot(x[record]! - x[before]!, y[record]! - y[before]!) <= SAME_WORK_M;
      if (isOther) shift = 0;
      else if (step < 0 && isNear) {
        shift += tick - step;
        jumps++;
        if (firstJump < 0) {
          firstJump = record;
          fellBackS = -step;
        }
      } else if (step < 0) {
        shift = 0;
        pieces++;
      } else if (step > 0 && step < 10) tick = step;
    }
    mended[record] = clock[record]! + shift;
    before = record;
  }
  const field = log.timeColumn ?? undefined;
  if (jumps > 0) {
    notes.add({
      reason: `falls back while the planter goes on, first by ${Math.round(fellBackS)} s; the records stay in the order of the file and the times behind are moved on`,
      effect: "assumed",
      field,
      record: log.recordNumber(firstJump),
      count: jumps,
    });
  }
  if (pieces > 0) {
    notes.add({
      reason:
        "overlaps between pieces of the file; each piece is taken on its own, one after the other as they stand in the file",
      effect: "assumed",
      field,
      count: pieces + 1,
    });
  }
  return mended;
}
