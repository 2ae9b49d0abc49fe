/** Which records belong to one moment of the bar, and the order of the moments. */
import { withoutHoles } from "../field/order/clock.ts";
import { isListedByPart } from "../numerics/roughness.ts";
import { partOf } from "../recognise/part-of-bar.ts";
import type { PlantingLog } from "../vocabulary/field.ts";
import { groupBy, type RecordGroups } from "./record-groups.ts";

export interface Moments {
  count: number;
  /** Moment of each record, increasing in order of planting. */
  of: Int32Array;
  /** Records of each moment, in file order. */
  groups: RecordGroups;
  /** What sits side by side in a moment: code 0..n-1 of the row unit or section of each record, -1 unknown; null for whole-bar records. */
  part: Int32Array | null;
}

/**
 * Groups records by moment. With clock times a moment is one time; where a time is too coarse and a row unit
 * (or section) shows up several times in it, its k-th record belongs to the k-th moment of that time. Without
 * clock times the order of the file counts: a moment ends where a row unit shows up again. A file that
 * lists one row unit after the other is matched record by record within each pass of the log.
 */
export function groupMoments(log: PlantingLog): Moments {
  const part = log.layout === "bar" ? null : partOf(log);
  const of = new Int32Array(log.recordCount);
  const time = log.hasClockTime ? log.values.time : undefined;
  let count: number;
  if (time) count = momentsByTime(time, part, log, of);
  else if (part && isListedByPart(part)) count = momentsByOccurrence(part, log, of);
  else count = momentsByFileOrder(part, log, of);
  return { count, of, groups: groupBy(of, count), part };
}

/** Counts how often each part was met since the last reset, without clearing an array each time. */
class Occurrences {
  private readonly stamp: Int32Array;
  private readonly met: Int32Array;
  private round = 1;
  constructor(part: Int32Array) {
    let largest = 0;
    for (let record = 0; record < part.length; record++) if (part[record]! > largest) largest = part[record]!;
    this.stamp = new Int32Array(largest + 1);
    this.met = new Int32Array(largest + 1);
  }
  reset(): void {
    this.round++;
  }
  /** Earlier meetings of this part; unknown parts are always new. */
  next(code: number): number {
    if (code < 0) return 0;
    if (this.stamp[code] !== this.round) {
      this.stamp[code] = this.round;
      this.met[code] = 0;
    }
    return this.met[code]!++;
  }
}

function momentsByTime(
  time: Float64Array,
  part: Int32Array | null,
  { layout, isInPlantingOrder }: PlantingLog,
  of: Int32Array,
): number {
  const bar = layout === "bar";
  const clock = withoutHoles(time);
  // Records in the order of planting stay in it: the times of several machines overlap.
  const order = orderByTime(clock, isInPlantingOrder ?? false);
  const met = part ? new Occurrences(part) : null;
  let base = 0;
  for (let from = 0; from < order.length; ) {
    let to = from + 1;
    while (to < order.length && clock[order[to]!] === clock[order[from]!]) to++;
    let moments = bar ? to - from : 1;
    met?.reset();
    for (let place = from; place < to; place++) {
      const record = order[place]!;
      const within = bar ? place - from : met ? met.next(part![record]!) : 0;
      of[record] = base + within;
      if (within >= moments) moments = within + 1;
    }
    base += moments;
    from = to;
  }
  return base;
}

function orderByTime(clock: Float64Array, isOrdered: boolean): Int32Array {
  const order = new Int32Array(clock.length);
  for (let record = 0; record < order.length; record++) order[record] = record;
  let sorted = true;
  for (let record = 1; record < clock.length && sorted && !isOrdered; record++) {
    sorted = clock[record]! >= clock[record - 1]!;
  }
  return sorted ? order : order.sort((a, b) => clock[a]! - clock[b]! || a - b);
}

function momentsByOccurrence(part: Int32Array, log: PlantingLog, of: Int32Array): number {
  const pass = log.labels.pass?.codes;
  const byPass = new Map<number, Map<number, number>>();
  for (let record = 0; record < part.length; record++) {
    const label = pass ? pass[record]! : -1;
    let met = byPass.get(label);
    if (!met) {
      met = new Map();
      byPass.set(label, met);
    }
    of[record] = met.get(part[record]!) ?? 0;
    met.set(part[record]!, of[record]! + 1);
  }
  let count = 0;
  const base = new Map<number, number>();
  for (const [label, met] of byPass) {
    base.set(label, count);
    count += Math.max(...met.values());
  }
  for (let record = 0; record < part.length; record++) of[record]! += base.get(pass ? pass[record]! : -1)!;
  return count;
}

/** No bar is wider than this, m: records further apart are not of one moment. */
const WIDEST_BAR_M = 40;

/**
 * A moment ends where a row unit shows up again. Where units are switched on and off that comes a record late,
 * so in a file that lists the units of a moment in order it ends where the order starts anew.
 */
function momentsByFileOrder(part: Int32Array | null, log: PlantingLog, of: Int32Array): number {
  if (!part) {
    for (let record = 0; record < of.length; record++) of[record] = record;
    return of.length;
  }
  const met = new Occurrences(part);
  const direction = listingDirection(part);
  const pass = log.labels.pass?.codes;
  let moment = -1;
  let first = -1;
  for (let record = 0; record < of.length; record++) {
    const code = part[record]!;
    const again =
      first < 0 ||
      (pass && pass[record] !== pass[first]) ||
      (direction !== 0 && code >= 0 && (code - part[record - 1]!) * direction <= 0) ||
      Math.hypot(log.x[record]! - log.x[first]!, log.y[record]! - log.y[first]!) > WIDEST_BAR_M;
    if (again || met.next(code) > 0) {
      moment++;
      first = record;
      met.reset();
      met.next(code);
    }
    of[record] = moment;
  }
  return moment + 1;
}

/** 1 or -1 where nearly all neighbouring records step to the next or the previous unit, 0 where neither. */
function listingDirection(part: Int32Array): -1 | 0 | 1 {
  let up = 0;
  let down = 0;
  for (let record = 1; record < part.length; record++) {
    const step = part[record]! - part[record - 1]!;
    if (step === 1) up++;
    else if (step === -1) down++;
  }
  if (up >= 9 * down && up > 0) return 1;
  return down >= 9 * up && down > 0 ? -1 : 0;
}
