/** The order in which the records of a log were planted: by its clock, its file, or its track, whichever follows the ground. */
import type { NoteBook } from "../../ingest/note-book.ts";
import { isListedByPart, longestStepM, roughSteps, usualStepM } from "../../numerics/roughness.ts";
import { chainedOrder } from "./chained-order.ts";
import {
  byMachine,
  type FiledLog,
  fallsBackOnTheWay,
  mendedClock,
  noteClockOrder,
  sortedByClock,
  withoutHoles,
} from "./clock.ts";
import { linkedOrder, longestLinkM } from "./linked-order.ts";

export interface PlantingOrder {
  /** Records in order of planting; null where they stand in it already. */
  order: Int32Array | null;
  /** Times in the order of the file, with a clock that was set back put right; null without a clock. */
  seconds: Float64Array | null;
  /** True where the records follow each other by their positions alone: hours and days of the clock stand, its order does not. */
  byPosition: boolean;
  /** True where the records stand in no order that a planter could have driven. */
  isScattered: boolean;
}

/** Steps off the track up to this share are those of turns and of switched rows (our judgement). */
const SMOOTH_SHARE = 0.25;
/** An order is better where it has this share of the steps off the track of the other, or less (our judgement). */
const CLEARLY_SMOOTHER = 0.6;
/** The clock's order is left for the file's only where it has so many more steps off the track (our judgement). */
const FEW_STEPS = 5;
const FEW_SHARE = 0.003;
/** Beyond this share of steps off the track the records stand in no order (our judgement). */
const SCATTERED_SHARE = 0.6;
/** Fewer records than this have no order to speak of. */
const FEWEST_RECORDS = 30;

/**
 * Decides the order. The records of each machine are taken together. The clock's order holds unless the file's follows
 * the track clearly better (a clock that was set back); where neither follows it, machines logged between each other
 * are told apart by where each was heading; without a clock that helps, whole-bar records are linked by position.
 */
export function plantingOrder(log: FiledLog, notes: NoteBook): PlantingOrder {
  if (!log.isSideBySide || log.part || !log.seconds) return orderOfMoments(log, notes);
  const { moments, heads } = momentsOfSections(log);
  const pickAt = (column: Float64Array): Float64Array => Float64Array.from(heads, (head) => column[head]!);
  const ordered = orderOfMoments(
    {
      ...log,
      x: pickAt(log.x),
      y: pickAt(log.y),
      seconds: pickAt(log.seconds),
      machine: log.machine ? heads.map((head) => log.machine![head]!) : null,
      headingDeg: log.headingDeg ? pickAt(log.headingDeg) : null,
      recordNumber: (moment) => log.recordNumber(heads[moment]!),
    },
    notes,
  );
  const order = Int32Array.from(
    Array.from(ordered.order ?? heads.keys(), (moment) => moments[moment]!).flatMap((records) => [
      ...records,
    ]),
  );
  let seconds = log.seconds;
  if (ordered.seconds) {
    seconds = log.seconds.slice();
    moments.forEach((records, moment) => {
      for (const record of records) seconds[record] = ordered.seconds![moment]!;
    });
  }
  return { ...ordered, order: order.every((record, place) => record === place) ? null : order, seconds };
}

/** Records of sections that nothing names, gathered by their time: those that stand together, else all of one time. */
function momentsOfSections(log: FiledLog): { moments: Int32Array[]; heads: Int32Array } {
  const clock = withoutHoles(log.seconds!);
  const filed = Int32Array.from({ length: clock.length }, (_, record) => record);
  let moments = runsOf(filed, clock);
  // A shuffled file has hardly two records of one time together.
  const times = new Set(clock).size;
  if (moments.length > 2 * times) moments = runsOf(sortedByClock(log, filed, clock), clock);
  return { moments, heads: Int32Array.from(moments, (records) => records[0]!) };
}

function runsOf(order: Int32Array, clock: Float64Array): Int32Array[] {
  const runs: Int32Array[] = [];
  for (let from = 0; from < order.length; ) {
    let to = from + 1;
    while (to < order.length && clock[order[to]!] === clock[order[from]!]) to++;
    runs.push(order.subarray(from, to));
    from = to;
  }
  return runs;
}

function orderOfMoments(log: FiledLog, notes: NoteBook): PlantingOrder {
  const count = log.x.length;
  const byFile = byMachine(log, notes);
  const isInFileOrder = byFile.every((record, place) => record === place);
  const clock = log.seconds ? withoutHoles(log.seconds) : null;
  const byClock = clock ? sortedByClock(log, byFile, clock) : byFile;
  const plain = (order: Int32Array): PlantingOrder => ({
    order: order === byFile && isInFileOrder ? null : order,
    seconds: log.seconds,
    byPosition: false,
    isScattered: false,
  });
  if (count < FEWEST_RECORDS) return plain(noteClockOrder(log, byFile, byClock, notes));
  const usual = Math.min(
    usualStepM(log, byFile),
    clock ? usualStepM(log, byClock) : Number.POSITIVE_INFINITY,
  );
  const longest = longestStepM(usual);
  const roughFile = roughSteps(log, byFile, longest);
  const roughClock = byClock === byFile ? roughFile : roughSteps(log, byClock, longest);
  const listedByPart = isListedByPart(log.part);
  if (
    byClock !== byFile &&
    !listedByPart &&
    roughFile <= SMOOTH_SHARE * count &&
    fallsBackOnTheWay(log, byFile, longest)
  ) {
    return { ...plain(byFile), seconds: mendedClock(log, byFile, notes) };
  }
  const few = FEW_STEPS + FEW_SHARE * count;
  const clockHolds = roughClock <= roughFile + few;
  const least = Math.min(roughClock, roughFile);
  if (clockHolds && roughClock <= SMOOTH_SHARE * count)
    return plain(noteClockOrder(log, byFile, byClock, notes));
  if (!clockHolds && roughFile <= SMOOTH_SHARE * count && !listedByPart) {
    return { ...plain(byFile), seconds: mendedClock(log, byFile, notes) };
  }
  const base = clockHolds ? byClock : byFile;
  const chained =
    listedByPart && !clock
      ? base
      : chainedOrder({ ...log, seconds: clockHolds ? clock : null }, base, usual, longest);
  const roughChained = roughSteps(log, chained, longest);
  if (roughChained <= CLEARLY_SMOOTHER * least && roughChained <= SMOOTH_SHARE * count) {
    notes.add({
      reason:
        "records of two or more machines, or of one place and another, stand between each other: they are told apart by where each was heading",
      effect: "assumed",
      count,
    });
    return plain(chained);
  }
  if (log.part === null) {
    const reach = longestLinkM(log.x, log.y);
    const linked = linkedOrder(log.x, log.y, log.headingDeg, reach);
    const roughLinked = roughSteps(log, linked, reach);
    if (roughLinked <= CLEARLY_SMOOTHER * least && roughLinked <= SMOOTH_SHARE * count) {
      notes.add({
        reason: `the records stand in no order that a planter could have driven: they are put in order by their positions${log.headingDeg ? "" : "; which way each pass was driven is not known"}`,
        effect: "assumed",
        count,
      });
      return { ...plain(linked), byPosition: true };
    }
  }
  return {
    ...plain(noteClockOrder(log, byFile, clockHolds ? byClock : byFile, notes)),
    isScattered: least > SCATTERED_SHARE * count,
  };
}
