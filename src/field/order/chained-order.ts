/** Records of several machines (or of overlapping stretches) told apart by where each of them was heading. */
import type { Placed } from "../../numerics/roughness.ts";

interface Chain {
  number: number;
  /** Time of the last record, seconds, or its place where there is no clock. */
  time: number;
  /** Last position and its time by part of the bar. */
  last: Map<number, { x: number; y: number; time: number }>;
  /** Way a second (or a place), m. */
  east: number;
  north: number;
}

/** Chains kept open at a time: those used last (our judgement). */
const OPEN_CHAINS = 8;
/** A chain ends after so many usual steps of time without a record (our judgement). */
const LONGEST_SILENCE = 12;
/** A bar that is lifted over a waterway goes on in its line within so much way (our judgement), m. */
const LONGEST_LIFT_M = 45;
/** So far aside of it, m: the error of a satellite position, and a line that is not quite straight (our judgement). */
const OFF_LINE_M = 2;
/** Records of one moment this near to each other may be of one bar, m. */
const ONE_BAR_M = 25;

/**
 * Joins each record, in order of time, to the chain that was heading for its place; a record near none opens a chain.
 * @param inTime records in order of time
 * @param usualM usual step, m
 * @param longestM longest step that follows a track, m
 * @returns the records chain by chain, in order of the chains' first records
 */
export function chainedOrder(
  { x, y, part, seconds }: Placed,
  inTime: Int32Array,
  usualM: number,
  longestM: number,
): Int32Array {
  const chainOf = new Int32Array(inTime.length);
  const lengths: number[] = [];
  const tick = usualTick(seconds, inTime);
  const timeAt = (place: number): number => (seconds ? seconds[inTime[place]!]! : place);
  let open: Chain[] = [];
  for (let from = 0; from < inTime.length; ) {
    let to = from + 1;
    const now = timeAt(from);
    while (seconds && part && to < inTime.length && timeAt(to) === now) to++;
    if (open.length > 0) {
      const lifted = ({ east, north }: Chain): number =>
        east === 0 && north === 0 ? 0 : LONGEST_LIFT_M / Math.hypot(east, north);
      open = open.filter((chain) => now - chain.time <= Math.max(LONGEST_SILENCE * tick, lifted(chain)));
    }
    for (let place = from; place < to; place++) {
      const record = inTime[place]!;
      const code = part ? part[record]! : 0;
      let best: Chain | null = null;
      let least = Number.POSITIVE_INFINITY;
      for (const chain of open) {
        const distance = distanceTo(chain, code, x[record]!, y[record]!, now, part !== null);
        const since = Math.max(1, (now - chain.time) / tick);
        const ofOneBar = part !== null && chain.time === now;
        const reach = ofOneBar ? ONE_BAR_M : longestM + (since - 1) * usualM * 0.5;
        if (distance <= reach && distance < least) {
          least = distance;
          best = chain;
        }
      }
      best ??= resumed(open, x[record]!, y[record]!, now - 2 * tick, longestM);
      if (!best) {
        best = { number: lengths.length, time: now, last: new Map(), east: 0, north: 0 };
        lengths.push(0);
        open.push(best);
        if (open.length > OPEN_CHAINS) open.shift();
      }
      extend(best, code, x[record]!, y[record]!, now);
      chainOf[place] = best.number;
      lengths[best.number]!++;
    }
    from = to;
  }
  const next = new Int32Array(lengths.length);
  for (let chain = 1; chain < lengths.length; chain++) next[chain] = next[chain - 1]! + lengths[chain - 1]!;
  const order = new Int32Array(inTime.length);
  for (let place = 0; place < inTime.length; place++) order[next[chainOf[place]!]!++] = inTime[place]!;
  return order;
}

/** The chain, silent since before a time, in whose line ahead a record lies; null where there is none. */
function resumed(
  open: readonly Chain[],
  x: number,
  y: number,
  silentSince: number,
  longestM: number,
): Chain | null {
  let best: Chain | null = null;
  let least = OFF_LINE_M;
  // Where the usual step is as long as that, the records stand in no order.
  if (longestM > LONGEST_LIFT_M) return null;
  for (const chain of open) {
    const speed = Math.hypot(chain.east, chain.north);
    if (chain.time >= silentSince || speed === 0) continue;
    for (const last of chain.last.values()) {
      const [east, north] = [x - last.x, y - last.y];
      const along = (east * chain.east + north * chain.north) / speed;
      const aside = Math.abs(east * chain.north - north * chain.east) / speed;
      if (along <= 0 || along > LONGEST_LIFT_M || aside > least) continue;
      least = aside;
      best = chain;
    }
  }
  return best;
}

/** From where the part of the chain would be now; from its nearest other part where it had none; Infinity where it is taken. */
function distanceTo(chain: Chain, code: number, x: number, y: number, now: number, parts: boolean): number {
  const last = chain.last.get(code);
  if (last) {
    const since = now - last.time;
    if (parts && since === 0) return Number.POSITIVE_INFINITY;
    return Math.hypot(x - last.x - chain.east * since, y - last.y - chain.north * since);
  }
  let least = Number.POSITIVE_INFINITY;
  for (const other of chain.last.values()) {
    least = Math.min(least, Math.hypot(x - other.x, y - other.y));
  }
  return least;
}

function extend(chain: Chain, code: number, x: number, y: number, now: number): void {
  const last = chain.last.get(code);
  if (last && now > last.time) {
    chain.east = (x - last.x) / (now - last.time);
    chain.north = (y - last.y) / (now - last.time);
  }
  chain.time = now;
  chain.last.set(code, { x, y, time: now });
}

/** Median time between the distinct moments, seconds; 1 (a place) without a clock. */
function usualTick(seconds: Float64Array | null, inTime: Int32Array): number {
  if (!seconds) return 2;
  const ticks: number[] = [];
  for (let place = 1; place < inTime.length && ticks.length < 20_000; place++) {
    const tick = seconds[inTime[place]!]! - seconds[inTime[place - 1]!]!;
    if (tick > 0) ticks.push(tick);
  }
  ticks.sort((a, b) => a - b);
  return Math.max(1, ticks[ticks.length >> 1] ?? 1);
}
