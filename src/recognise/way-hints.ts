/** What the positions of a log tell of its way: step, speed, direction; used to tell units apart. */
import type { TimeReading } from "../ingest/values/times.ts";
import { headingOf, turnBetween } from "../numerics/angles.ts";
import { median } from "../numerics/descriptive.ts";
import { recordsWhere } from "../numerics/present.ts";
import { usualStepM } from "../numerics/roughness.ts";
import type { UnitHints } from "./units/unit-question.ts";

export interface WayHints {
  hints: Pick<UnitHints, "turnDeg" | "runsNorth">;
  wayOver: WayOver;
}

/**
 * Median way from a record to the next of the same part of the bar, and the speed over it.
 * @param time times of the log; null where it has none
 * @param part row unit or section of each record, one name a number, NaN or below 0 where unknown; null for the whole bar
 * @returns metres, and m/s where the times tell more than the day; null where there are too few records
 */
export type WayOver = (
  time: TimeReading | null,
  part: ArrayLike<number> | null,
) => Pick<UnitHints, "stepMetres" | "metresPerSecond">;

/** Steps are taken from at most about this many records. */
const STEP_SAMPLE = 20_000;
/** The next moment of the same machine is among so many of all machines together (our judgement). */
const LOOK_AHEAD = 6;
/** Fewer steps than this say nothing. */
const FEWEST_STEPS = 10;
/** A longer step leads to another run, metres. */
const LONGEST_STEP_M = 30;
/** A shorter step has no direction, metres: the error of a satellite position. */
const SHORTEST_WAY_M = 0.3;
/** Moments further apart than this lie on either side of a turn, seconds. */
const LONGEST_PAUSE_S = 30;

/** Reads the way from positions in local metres, in the order of the file. */
export function wayHints(x: Float64Array, y: Float64Array): WayHints {
  return {
    hints: {
      runsNorth: runsNorth(x, y),
      turnDeg: (headings, toDegrees) => medianTurn(x, y, headings, toDegrees),
    },
    wayOver: (time, part) => {
      const seconds = time && time.resolution !== "date" ? time.seconds : null;
      const order = inOrderOfTime(x.length, seconds);
      const step = x.length > FEWEST_STEPS ? usualStepM({ x, y, part: ranksOf(part), seconds }, order) : 0;
      return {
        stepMetres: step > 0 ? step : null,
        metresPerSecond: seconds && medianSpeed(x, y, seconds, order),
      };
    },
  };
}

/** Numbers of the records in the order of their times, those of one time and those without in the order of the file. */
function inOrderOfTime(count: number, seconds: Float64Array | null): Int32Array {
  const order = new Int32Array(count);
  for (let record = 0; record < count; record++) order[record] = record;
  if (!seconds || !fallsBack(seconds)) return order;
  const known = recordsWhere(order, (record) => !Number.isNaN(seconds[record]!));
  return known.sort((a, b) => seconds[a]! - seconds[b]! || a - b);
}

function fallsBack(seconds: Float64Array): boolean {
  for (let record = 1; record < seconds.length; record++)
    if (seconds[record]! < seconds[record - 1]!) return true;
  return false;
}

/** Names of parts as 0..n-1, -1 where unknown. */
function ranksOf(part: ArrayLike<number> | null): Int32Array | null {
  if (!part) return null;
  const rank = new Map<number, number>();
  const ranks = new Int32Array(part.length).fill(-1);
  for (let record = 0; record < ranks.length; record++) {
    const name = part[record]!;
    if (!(name >= 0)) continue;
    let own = rank.get(name);
    if (own === undefined) {
      own = rank.size;
      rank.set(name, own);
    }
    ranks[record] = own;
  }
  return ranks;
}

function strideOf(count: number): number {
  return Math.max(1, Math.floor(count / STEP_SAMPLE));
}

function medianOrNull(values: readonly number[]): number | null {
  return values.length < FEWEST_STEPS ? null : median(Float64Array.from(values));
}

/** Infinite where no step has a direction to compare with. */
function medianTurn(x: Float64Array, y: Float64Array, headings: Float64Array, toDegrees: number): number {
  return medianOrNull(turnsOf(x, y, (record) => headings[record]! * toDegrees)) ?? Number.POSITIVE_INFINITY;
}

/** More steps than this share lead elsewhere, and the way does not run north (our judgement). */
const MOST_ASIDE = 0.2;

function runsNorth(x: Float64Array, y: Float64Array): boolean | null {
  const turns = turnsOf(x, y, () => 0);
  if (turns.length < FEWEST_STEPS) return null;
  return turns.filter((turn) => turn > 45).length <= MOST_ASIDE * turns.length;
}

/** Angles between headings and the direction to the next position, degrees. */
function turnsOf(x: Float64Array, y: Float64Array, headingDeg: (record: number) => number): number[] {
  const turns: number[] = [];
  for (let record = 0; record + 1 < x.length; record += strideOf(x.length)) {
    const [east, north] = [x[record + 1]! - x[record]!, y[record + 1]! - y[record]!];
    const step = Math.hypot(east, north);
    const heading = headingDeg(record);
    if (!(step >= SHORTEST_WAY_M && step <= LONGEST_STEP_M) || Number.isNaN(heading)) continue;
    turns.push(Math.abs(turnBetween(headingOf(east, north), heading % 360)));
  }
  return turns;
}

/** From the first record of each moment to the nearest of the first ones of the next few: another machine's lie elsewhere. */
function medianSpeed(
  x: Float64Array,
  y: Float64Array,
  seconds: Float64Array,
  order: Int32Array,
): number | null {
  let before = Number.NaN;
  const firsts = recordsWhere(order, (record) => {
    const isFirst = seconds[record] !== before;
    before = seconds[record]!;
    return isFirst;
  });
  const speeds: number[] = [];
  for (let place = 0; place < firsts.length; place += strideOf(firsts.length)) {
    const from = firsts[place]!;
    let way = Number.POSITIVE_INFINITY;
    let lasted = 0;
    for (const to of firsts.subarray(place + 1, place + 1 + LOOK_AHEAD)) {
      const pause = seconds[to]! - seconds[from]!;
      if (!(pause > 0 && pause <= LONGEST_PAUSE_S)) continue;
      const step = Math.hypot(x[to]! - x[from]!, y[to]! - y[from]!);
      if (!(step > 0 && step < way)) continue;
      way = step;
      lasted = pause;
    }
    if (lasted > 0) speeds.push(way / lasted);
  }
  return medianOrNull(speeds);
}
