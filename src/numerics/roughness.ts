/** How well an order of records follows a track: the share of its steps that lead off it. */

/** What orders are judged by; one entry a record, in the order of the file. */
export interface Placed {
  x: Float64Array;
  y: Float64Array;
  /** What sits side by side on the bar: code 0..n-1, -1 unknown; null where the log names nothing. */
  part: Int32Array | null;
  /** Seconds, NaN where missing; null where the log has no clock. */
  seconds: Float64Array | null;
}

/** Steps looked ahead for the nearest record: up to so many machines interleaved (our judgement). */
const LOOK_AHEAD = 6;
/** Records whose nearest follower is measured. */
const SAMPLE = 4000;
/** A step is off the track when it is longer than so many usual ones and this, m (our judgement). */
const OFF_TRACK = 2;
const OFF_TRACK_SLACK_M = 1.5;

/** Distance to the nearest of the next few records of the same part, m: the usual step, whoever is logged between. */
export function usualStepM({ x, y, part }: Placed, order: Int32Array): number {
  const stride = Math.max(1, Math.floor(order.length / SAMPLE));
  const nearest: number[] = [];
  const parts = part ? 1 + part.reduce((most, code) => Math.max(most, code), 0) : 1;
  for (let place = 0; place < order.length; place += stride) {
    const record = order[place]!;
    let least = Number.POSITIVE_INFINITY;
    let met = 0;
    for (let k = place + 1; k < order.length && k - place <= LOOK_AHEAD * parts && met < LOOK_AHEAD; k++) {
      const other = order[k]!;
      if (part && part[other] !== part[record]) continue;
      met++;
      const step = Math.hypot(x[other]! - x[record]!, y[other]! - y[record]!);
      if (step > 0 && step < least) least = step;
    }
    if (least < Number.POSITIVE_INFINITY) nearest.push(least);
  }
  if (nearest.length === 0) return 0;
  nearest.sort((a, b) => a - b);
  return nearest[nearest.length >> 1]!;
}

/** The longest step that still follows the track, m. */
export function longestStepM(usualM: number): number {
  return OFF_TRACK * usualM + OFF_TRACK_SLACK_M;
}

/** Number of steps from a record to the next of the same part that are longer than `longestM`. */
export function roughSteps({ x, y, part }: Placed, order: Int32Array, longestM: number): number {
  const last = new Int32Array(part ? 2 + part.reduce((most, code) => Math.max(most, code), 0) : 1).fill(-1);
  let rough = 0;
  for (let place = 0; place < order.length; place++) {
    const record = order[place]!;
    const slot = part ? part[record]! + 1 : 0;
    const before = last[slot]!;
    if (before >= 0 && (x[record]! - x[before]!) ** 2 + (y[record]! - y[before]!) ** 2 > longestM ** 2)
      rough++;
    last[slot] = record;
  }
  return rough;
}

/** True where the file lists the records of one row unit (or section) after the other. */
export function isListedByPart(part: Int32Array | null): boolean {
  if (!part) return false;
  let same = 0;
  for (let record = 1; record < part.length; record++) if (part[record] === part[record - 1]) same++;
  return part.length > 2 && same > part.length / 2;
}
