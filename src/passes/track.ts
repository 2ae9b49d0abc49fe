/** The way of the bar through the field: moment after moment, its centre, step and heading. */
import { headingOf, meanHeading } from "../numerics/angles.ts";
import { median } from "../numerics/descriptive.ts";
import type { PlantingLog } from "../vocabulary/field.ts";
import type { Moments } from "./moments.ts";

/** One entry a moment at which something was planted, in order of planting. */
export interface Track {
  length: number;
  /** Number of the moment. */
  moment: Int32Array;
  /** Way from the moment before, m east and north; 0 for the first. */
  stepX: Float64Array;
  stepY: Float64Array;
  /** Middle of the records of the moment, local metres. */
  x: Float64Array;
  y: Float64Array;
  /** Degrees clockwise from north. */
  headingDeg: Float64Array;
  /** Places where a stretch without lifting begins; the first is 0. */
  stretchStart: number[];
}

/** A heading is read over at least this way on either side, m: several times the error of a satellite position. */
const HEADING_REACH_M = 4;
/** A way shorter than this says nothing about the heading, m. */
const SHORTEST_WAY_M = 0.5;
/** A way this long is no error of position, m. */
const REAL_WAY_M = 1.5;
/** A step is a gap when it is longer than twice the way expected plus this, m (our judgement). */
const GAP_SLACK_M = 2;
/** A logged way whose middle is so many times the usual step, or its part, is not the way of a record (our judgement). */
const WAY_AGREES = 2;

/** Follows the bar; moments with `working` 0 on all records or without a position are left out. */
export function followTrack(log: PlantingLog, moments: Moments): Track {
  const track = placeMoments(log, moments);
  markStretches(track, expectedSteps(log, moments, track));
  readHeadings(track, log, moments);
  return track;
}

/** True for a record that counts: not marked as lifted, and with a position. */
export function isPlanted(log: PlantingLog, record: number): boolean {
  return log.values.working?.[record] !== 0 && !Number.isNaN(log.x[record]!) && !Number.isNaN(log.y[record]!);
}

/**
 * Centres and steps. A step is the mean way of the row units (or sections) that plant at both moments, so that
 * units switched on or off do not look like a move sideways.
 */
function placeMoments(log: PlantingLog, moments: Moments): Track {
  const { start, records } = moments.groups;
  const part = moments.part;
  const lastRecord = new Int32Array(part ? 1 + part.reduce((most, code) => Math.max(most, code), 0) : 1);
  const lastPlace = new Int32Array(lastRecord.length).fill(-2);
  const moment = new Int32Array(moments.count);
  const x = new Float64Array(moments.count);
  const y = new Float64Array(moments.count);
  const stepX = new Float64Array(moments.count);
  const stepY = new Float64Array(moments.count);
  let length = 0;
  for (let at = 0; at < moments.count; at++) {
    let sumX = 0;
    let sumY = 0;
    let wayX = 0;
    let wayY = 0;
    let planted = 0;
    let shared = 0;
    for (let index = start[at]!; index < start[at + 1]!; index++) {
      const record = records[index]!;
      if (!isPlanted(log, record)) continue;
      sumX += log.x[record]!;
      sumY += log.y[record]!;
      planted++;
      const code = part ? part[record]! : -1;
      if (code < 0) continue;
      if (lastPlace[code] === length - 1) {
        wayX += log.x[record]! - log.x[lastRecord[code]!]!;
        wayY += log.y[record]! - log.y[lastRecord[code]!]!;
        shared++;
      }
      lastPlace[code] = length;
      lastRecord[code] = record;
    }
    if (planted === 0) continue;
    moment[length] = at;
    x[length] = sumX / planted;
    y[length] = sumY / planted;
    if (length > 0) {
      stepX[length] = shared > 0 ? wayX / shared : x[length]! - x[length - 1]!;
      stepY[length] = shared > 0 ? wayY / shared : y[length]! - y[length - 1]!;
    }
    length++;
  }
  return {
    length,
    moment: moment.subarray(0, length),
    stepX: stepX.subarray(0, length),
    stepY: stepY.subarray(0, length),
    x: x.subarray(0, length),
    y: y.subarray(0, length),
    headingDeg: new Float64Array(length),
    stretchStart: [],
  };
}

/** Way one would expect between a moment and the one before, m: from distance, else speed, else the usual step. */
function expectedSteps(log: PlantingLog, moments: Moments, track: Track): Float64Array {
  const steps = Float64Array.from(track.stepX, (step, place) => Math.hypot(step, track.stepY[place]!));
  const usual = track.length > 1 ? median(steps, 1) : 0;
  const { distance, speed, time } = log.values;
  const expected = new Float64Array(track.length).fill(usual);
  const perRecord = distance ?? speed;
  let factor = 1;
  if (!distance && speed && log.hasClockTime && time && track.length > 1) {
    const first = track.moment.subarray(0, -1);
    const steps = Float64Array.from(first, (_, place) => {
      const later = time[moments.groups.records[moments.groups.start[track.moment[place + 1]!]!]!]!;
      return later - time[moments.groups.records[moments.groups.start[track.moment[place]!]!]!]!;
    }).filter((seconds) => seconds > 0);
    factor = median(steps);
  } else if (!distance) return expected;
  for (let place = 0; place < track.length; place++) {
    const at = track.moment[place]!;
    let sum = 0;
    let count = 0;
    for (let index = moments.groups.start[at]!; index < moments.groups.start[at + 1]!; index++) {
      const value = perRecord![moments.groups.records[index]!]! * factor;
      if (Number.isNaN(value)) continue;
      sum += value;
      count++;
    }
    if (count > 0) expected[place] = sum / count;
  }
  // In a wrong unit it would make a gap of every step, or of none.
  const ratio = median(expected) / usual;
  return ratio >= 1 / WAY_AGREES && ratio <= WAY_AGREES ? expected : expected.fill(usual);
}

/** A stretch ends at a gap and where the way turns back on itself. */
function markStretches(track: Track, expected: Float64Array): void {
  let last = 0;
  let turn = -1;
  let opposed = 0;
  for (let place = 0; place < track.length; place++) {
    const step = Math.hypot(track.stepX[place]!, track.stepY[place]!);
    const usual = Math.max(expected[place]!, place > 0 ? expected[place - 1]! : 0);
    const gap = place === 0 || step > 2 * usual + GAP_SLACK_M;
    // Of neighbouring places that turn back, the one where the ways before and behind oppose most counts.
    const opposes = gap ? 0 : turnsBack(track, place, last);
    if (opposes > opposed) {
      turn = place;
      opposed = opposes;
    } else if (opposes === 0 && opposed > 0) {
      track.stretchStart.push(turn);
      last = turn;
      opposed = 0;
    }
    if (!gap) continue;
    track.stretchStart.push(place);
    last = place;
  }
}

/**
 * How much the three steps before and behind a place oppose each other, m; 0 unless both are real ways and
 * the turn between them is over 120 degrees: no bar turns so sharply while it plants. This tells two
 * neighbouring passes apart even where they end on neighbouring rows.
 */
function turnsBack(track: Track, place: number, last: number): number {
  const reach = 3;
  const way = (from: number, to: number): [number, number] => {
    let east = 0;
    let north = 0;
    for (let step = from; step < to; step++) {
      east += track.stepX[step]!;
      north += track.stepY[step]!;
    }
    return [east, north];
  };
  const [eastBefore, northBefore] = way(Math.max(last + 1, place - reach), place);
  const [eastBehind, northBehind] = way(place + 1, Math.min(track.length, place + 1 + reach));
  const before = Math.hypot(eastBefore, northBefore);
  const behind = Math.hypot(eastBehind, northBehind);
  const shorter = Math.min(before, behind);
  if (shorter < REAL_WAY_M) return 0;
  const cosine = (eastBefore * eastBehind + northBefore * northBehind) / (before * behind);
  return cosine < -0.5 ? -cosine * shorter : 0;
}

/** Headings from the way within each stretch; where it hardly moves, from the heading column, else from its neighbours. */
function readHeadings(track: Track, log: PlantingLog, moments: Moments): void {
  const { length, stepX, stepY, headingDeg, stretchStart } = track;
  for (let stretch = 0; stretch < stretchStart.length; stretch++) {
    const from = stretchStart[stretch]!;
    const to = stretchStart[stretch + 1] ?? length;
    const pathX = new Float64Array(to - from);
    const pathY = new Float64Array(to - from);
    const way = new Float64Array(to - from);
    for (let k = 1; k < to - from; k++) {
      pathX[k] = pathX[k - 1]! + stepX[from + k]!;
      pathY[k] = pathY[k - 1]! + stepY[from + k]!;
      way[k] = way[k - 1]! + Math.hypot(stepX[from + k]!, stepY[from + k]!);
    }
    let back = 0;
    let ahead = 0;
    for (let k = 0; k < to - from; k++) {
      while (back + 1 < k && way[k]! - way[back + 1]! >= HEADING_REACH_M) back++;
      while (ahead < to - from - 1 && (ahead <= k || way[ahead]! - way[k]! < HEADING_REACH_M)) ahead++;
      const east = pathX[ahead]! - pathX[back]!;
      const north = pathY[ahead]! - pathY[back]!;
      headingDeg[from + k] =
        Math.hypot(east, north) >= SHORTEST_WAY_M
          ? headingOf(east, north)
          : loggedHeading(log, moments, track.moment[from + k]!);
    }
  }
  for (let place = 1; place < length; place++) {
    if (Number.isNaN(headingDeg[place]!)) headingDeg[place] = headingDeg[place - 1]!;
  }
  for (let place = length - 2; place >= 0; place--) {
    if (Number.isNaN(headingDeg[place]!)) headingDeg[place] = headingDeg[place + 1]!;
  }
}

function loggedHeading(log: PlantingLog, moments: Moments, at: number): number {
  const heading = log.values.heading;
  if (!heading) return Number.NaN;
  const { start, records } = moments.groups;
  return meanHeading(Array.from(records.subarray(start[at]!, start[at + 1]!), (record) => heading[record]!));
}
