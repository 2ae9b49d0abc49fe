/** What the positions of a log tell of its way: step, speed, direction; used to tell units apart. */
import { headingOf, turnBetween } from "../numerics/angles.ts";
import { median } from "../numerics/descriptive.ts";
import type { TimeReading } from "./times.ts";
import type { UnitHints } from "./unit-question.ts";

export interface WayHints {
  hints: Pick<UnitHints, "stepMetres" | "turnDeg" | "runsNorth">;
  /** Median speed between successive moments, m/s; null where the times are days only or too few. */
  speedOver: (time: TimeReading) => number | null;
}

/** Steps are taken from at most about this many records. */
const STEP_SAMPLE = 20_000;
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
      stepMetres: medianStep(x, y),
      runsNorth: runsNorth(x, y),
      turnDeg: (headings, toDegrees) => medianTurn(x, y, headings, toDegrees),
    },
    speedOver: ({ seconds, resolution }) => (resolution === "date" ? null : medianSpeed(x, y, seconds)),
  };
}

function strideOf(count: number): number {
  return Math.max(1, Math.floor(count / STEP_SAMPLE));
}

function medianOrNull(values: readonly number[]): number | null {
  return values.length < FEWEST_STEPS ? null : median(Float64Array.from(values));
}

function medianStep(x: Float64Array, y: Float64Array): number | null {
  const steps: number[] = [];
  for (let record = 1; record < x.length; record += strideOf(x.length)) {
    const step = Math.hypot(x[record]! - x[record - 1]!, y[record]! - y[record - 1]!);
    if (step > 0) steps.push(step);
  }
  return medianOrNull(steps);
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

/** From the first record of each moment to the first one of the next. */
function medianSpeed(x: Float64Array, y: Float64Array, seconds: Float64Array): number | null {
  const speeds: number[] = [];
  let first = 0;
  for (let record = 1; record < x.length; record++) {
    const lasted = seconds[record]! - seconds[first]!;
    if (lasted === 0) continue;
    const way = Math.hypot(x[record]! - x[first]!, y[record]! - y[first]!);
    if (lasted > 0 && lasted <= LONGEST_PAUSE_S && way > 0) speeds.push(way / lasted);
    first = record;
  }
  return medianOrNull(speeds);
}
