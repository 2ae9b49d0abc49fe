/** The way each record stands for. */
import type { Note } from "../errors.ts";
import { median } from "../numerics/descriptive.ts";
import type { Field } from "../vocabulary/field.ts";
import type { Moments } from "./moments.ts";
import type { Track } from "./track.ts";

/** A logged way agrees with the positions between these shares of their sum (our judgement). */
const AGREES: readonly [number, number] = [0.8, 1.25];
/** A single way is no way of this record when it is longer than so many steps and this, m (our judgement). */
const FAR_TOO_LONG = 3;
const FAR_TOO_LONG_SLACK_M = 5;

/**
 * Way per record, m: the distance column, else speed times the step of time, where their sum agrees with the way
 * between the positions; else the step of the bar itself.
 * @param notes takes what did not agree
 */
export function waysOfRecords(field: Field, moments: Moments, track: Track, notes: Note[]): Float64Array {
  const { distance, speed, time } = field.log.values;
  const starts = new Set(track.stretchStart);
  const steps = Float64Array.from(track.stepX, (step, place) =>
    starts.has(place) ? Number.NaN : Math.hypot(step, track.stepY[place]!),
  );
  const between = steps.slice();
  // The first moment of a stretch has no step of its own: it is taken to cover as much as the next.
  for (const place of starts) steps[place] = steps[place + 1] ?? Number.NaN;
  const known = steps.filter((step) => !Number.isNaN(step));
  const usual = known.length > 0 ? median(known) : 0;
  const placeOf = new Int32Array(moments.count).fill(-1);
  for (let place = 0; place < track.length; place++) placeOf[track.moment[place]!] = place;

  const clock = speed && time && field.log.hasClockTime ? secondsOf(time, moments, track, starts) : null;
  const bySpeed =
    clock && speed && !isCoarse(clock, between)
      ? (record: number, place: number) => speed[record]! * clock[place]!
      : null;
  const logged = distance ? (record: number) => distance[record]! : null;
  const sources = [
    { way: logged, name: "distance of the log", field: "distance" },
    { way: bySpeed, name: "speed of the log times its time", field: "speed" },
  ].filter(({ way, name, field: column }) => {
    if (!way) return false;
    const ratio = shareOfSteps(way, between, track, moments);
    if (ratio === null || (ratio >= AGREES[0] && ratio <= AGREES[1])) return true;
    notes.push({
      reason: `the ${name} comes to ${Number(ratio.toPrecision(2))} times the way between the positions; the way is taken from the positions`,
      effect: "assumed",
      count: field.log.recordCount,
      field: column,
      firstRecord: null,
      value: null,
    });
    return false;
  });

  const wayOf = new Float64Array(field.log.recordCount);
  let tooLong = 0;
  let firstTooLong = -1;
  for (let record = 0; record < wayOf.length; record++) {
    const place = placeOf[moments.of[record]!]!;
    if (place < 0) continue;
    const step = steps[place]!;
    const most = FAR_TOO_LONG * (Number.isNaN(step) ? usual : Math.max(step, usual)) + FAR_TOO_LONG_SLACK_M;
    let way = Number.isNaN(step) ? usual : step;
    for (const { way: source } of sources) {
      const candidate = source!(record, place);
      if (!(candidate >= 0)) continue;
      if (candidate <= most) {
        way = candidate;
        break;
      }
      tooLong++;
      if (firstTooLong < 0) firstTooLong = record;
    }
    wayOf[record] = way;
  }
  if (tooLong > 0) {
    notes.push({
      reason:
        "a distance, or a pause of the clock, is far longer than the way between the positions; the way is taken from the positions",
      effect: "assumed",
      count: tooLong,
      field: null,
      firstRecord: field.log.fileRecord[firstTooLong]!,
      value: null,
    });
  }
  return wayOf;
}

/** Seconds each place of the track lasted. */
function secondsOf(
  time: Float64Array,
  moments: Moments,
  track: Track,
  starts: ReadonlySet<number>,
): Float64Array {
  const { start, records } = moments.groups;
  const clock = (at: number): number => time[records[start[at]!]!]!;
  const seconds = new Float64Array(track.length).fill(Number.NaN);
  for (let place = 1; place < track.length; place++) {
    // Since the moment before, though nothing was planted then: a bar that stood still made no way.
    const at = track.moment[place]!;
    if (!starts.has(place)) seconds[place] = clock(at) - clock(at - 1);
  }
  for (const place of starts) seconds[place] = seconds[place + 1] ?? Number.NaN;
  return seconds;
}

/** Ticks of no length at so many places where the bar went on, and the clock is too coarse to tell a way (our judgement). */
const COARSE_SHARE = 0.1;

function isCoarse(seconds: Float64Array, between: Float64Array): boolean {
  let still = 0;
  for (let place = 0; place < seconds.length; place++) {
    if (seconds[place] === 0 && between[place]! > 0) still++;
  }
  return still > COARSE_SHARE * seconds.length;
}

/** Sum of a logged way over the sum of the steps between the positions; null where there is nothing to compare. */
function shareOfSteps(
  way: (record: number, place: number) => number,
  between: Float64Array,
  track: Track,
  moments: Moments,
): number | null {
  let logged = 0;
  let stepped = 0;
  for (let place = 0; place < track.length; place++) {
    const step = between[place]!;
    const value = way(moments.groups.records[moments.groups.start[track.moment[place]!]!]!, place);
    if (Number.isNaN(step) || !(value >= 0)) continue;
    logged += value;
    stepped += step;
  }
  return stepped > 0 ? logged / stepped : null;
}
