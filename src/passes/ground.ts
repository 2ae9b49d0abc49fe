/** The ground each record stands for: way travelled, width, and its place beside and along the logged position. */
import type { Field } from "../field/field.ts";
import { median } from "../numerics/descriptive.ts";
import type { Moments } from "./moments.ts";
import type { Passes } from "./passes.ts";
import type { RowUnits } from "./row-units.ts";
import type { Track } from "./track.ts";

export interface Ground {
  distanceM: Float64Array;
  widthM: Float64Array;
  offsetM: Float64Array;
  pointAt: NonNullable<Passes["pointAt"]>;
  /** Width of the whole bar, m. */
  barWidthM: number;
  method: string;
}

/** Row spacing assumed where nothing tells the width: 30 in, the usual one for corn (common practice, no source). */
const ASSUMED_ROW_SPACING_M = 0.762;
/** Offsets closer than this are one, m. */
const SAME_OFFSET_M = 0.05;

/** Finds way, width and offset of each record; see the parts for the order in which sources are taken. */
export function groundOf(field: Field, moments: Moments, track: Track, rowUnits: RowUnits): Ground {
  const placeOf = new Int32Array(moments.count).fill(-1);
  for (let place = 0; place < track.length; place++) placeOf[track.moment[place]!] = place;
  const { widthM, barWidthM, method } = widths(field, moments, rowUnits);
  return {
    distanceM: distances(field, moments, track, placeOf),
    widthM,
    offsetM: offsets(field, moments, rowUnits, barWidthM),
    pointAt: pointOnStretch(field, moments, track),
    barWidthM,
    method,
  };
}

/** Way per record, m: the distance column, else speed times the step of time, else the step of the bar itself. */
function distances(field: Field, moments: Moments, track: Track, placeOf: Int32Array): Float64Array {
  const { distance, speed, time } = field.log.values;
  const starts = new Set(track.stretchStart);
  const steps = Float64Array.from(track.stepX, (step, place) =>
    starts.has(place) ? Number.NaN : Math.hypot(step, track.stepY[place]!),
  );
  // The first moment of a stretch has no step of its own: it is taken to cover as much as the next.
  for (const place of starts) steps[place] = steps[place + 1] ?? Number.NaN;
  const known = steps.filter((step) => !Number.isNaN(step));
  const usual = known.length > 0 ? median(known) : 0;
  const seconds = new Float64Array(track.length).fill(Number.NaN);
  if (speed && time && field.log.hasClockTime) {
    const { start, records } = moments.groups;
    const clock = (at: number): number => time[records[start[at]!]!]!;
    for (let place = 1; place < track.length; place++) {
      // Since the moment before, though nothing was planted then: a bar that stood still made no way.
      const at = track.moment[place]!;
      if (!starts.has(place)) seconds[place] = clock(at) - clock(at - 1);
    }
    for (const place of starts) seconds[place] = seconds[place + 1] ?? Number.NaN;
  }
  const wayOf = new Float64Array(field.log.recordCount);
  for (let record = 0; record < wayOf.length; record++) {
    const place = placeOf[moments.of[record]!]!;
    if (place < 0) continue;
    const logged = distance?.[record] ?? Number.NaN;
    const bySpeed = (speed?.[record] ?? Number.NaN) * seconds[place]!;
    const step = steps[place]!;
    wayOf[record] = logged >= 0 ? logged : bySpeed >= 0 ? bySpeed : Number.isNaN(step) ? usual : step;
  }
  return wayOf;
}

/**
 * Width per record, m: the swath column, unless it gives the whole bar for single row units; else the row
 * spacing times the row units (bar), shared by the sections of a moment; else the spacing that the positions show.
 */
function widths(
  field: Field,
  moments: Moments,
  rowUnits: RowUnits,
): Omit<Ground, "distanceM" | "offsetM" | "pointAt"> {
  const { log, planter } = field;
  const swath = log.values.swathWidth;
  const known = swath ? swath.filter((width) => width > 0) : new Float64Array(0);
  const spacing = planter.rowSpacingM ?? rowUnits.measuredSpacingM;
  const spacingOrAssumed = Number.isNaN(spacing) ? ASSUMED_ROW_SPACING_M : spacing;
  const assumed = Number.isNaN(spacing) ? "; row spacing not given, 0.762 m assumed" : "";
  let one: number;
  let bar: number;
  let useSwath = known.length > 0;
  let method = "";
  if (log.layout === "row-unit") {
    bar = spacingOrAssumed * Math.max(rowUnits.count, planter.rowUnits ?? 0);
    useSwath &&= median(known) < 2 * spacingOrAssumed;
    one = spacingOrAssumed;
    if (!useSwath) method = assumed;
  } else {
    const units = planter.rowUnits ?? Number.NaN;
    const given = spacingOrAssumed * units;
    const sections = log.layout === "section" ? largestMoment(moments) : 1;
    const widest = known.reduce((most, width) => Math.max(most, width), 0) * sections;
    bar = Number.isNaN(given) ? widest : Math.max(given, log.layout === "bar" ? widest : 0);
    if (bar === 0) {
      bar = ASSUMED_ROW_SPACING_M;
      method = "; width of the planter not given, one row of 0.762 m assumed";
    } else if (!useSwath) method = assumed;
    one = bar / sections;
  }
  const widthM = new Float64Array(log.recordCount).fill(one);
  if (useSwath) {
    for (let record = 0; record < widthM.length; record++) {
      if (swath![record]! >= 0) widthM[record] = swath![record]!;
    }
  }
  return { widthM, barWidthM: bar, method };
}

function largestMoment(moments: Moments): number {
  let largest = 1;
  for (let at = 0; at < moments.count; at++) {
    largest = Math.max(largest, moments.groups.start[at + 1]! - moments.groups.start[at]!);
  }
  return largest;
}

/**
 * Offset of the ground's middle to the right of the logged position, m. Where all row units carry the position of
 * the bar and the log gives no offset unit by unit, it is the unit's place on the bar; an offset that is the
 * same on all records (of the receiver from the middle of the bar) is added, one that comes and goes with
 * section control is not, because the bar itself stays where it is.
 */
function offsets(field: Field, moments: Moments, rowUnits: RowUnits, barWidthM: number): Float64Array {
  const logged = field.log.values.lateralOffset?.map((offset) => (Number.isNaN(offset) ? 0 : offset));
  const offsetM = logged ?? new Float64Array(field.log.recordCount);
  if (rowUnits.ownPositions || (logged && variesInMoments(logged, moments))) return offsetM;
  const constant = logged?.every((offset) => offset === logged[0]) ? logged[0]! : 0;
  const units = Math.max(rowUnits.count, field.planter.rowUnits ?? 0);
  const spacing = barWidthM / units;
  return offsetM.map((_, record) => constant + (rowUnits.of[record]! - (units + 1) / 2) * spacing);
}

function variesInMoments(values: Float64Array, moments: Moments): boolean {
  const { start, records } = moments.groups;
  for (let at = 0; at < moments.count; at++) {
    const first = values[records[start[at]!]!]!;
    for (let index = start[at]! + 1; index < start[at + 1]!; index++) {
      if (Math.abs(values[records[index]!]! - first) > SAME_OFFSET_M) return true;
    }
  }
  return false;
}

/**
 * Whether the logged position is the start, the middle or the end of the stretch that the logged distance
 * tells of: the step from one moment to the next then equals the earlier distance, the mean of both, or the
 * later one. The middle where the log does not tell, or no answer fits better than the middle by a tenth.
 */
function pointOnStretch(field: Field, moments: Moments, track: Track): Ground["pointAt"] {
  const distance = field.log.values.distance;
  if (!distance) return "middle";
  const starts = new Set(track.stretchStart);
  const errors = { start: 0, middle: 0, end: 0 };
  const at = (place: number): number =>
    distance[moments.groups.records[moments.groups.start[track.moment[place]!]!]!]!;
  for (let place = 1; place < track.length; place++) {
    const earlier = at(place - 1);
    const later = at(place);
    if (starts.has(place) || !(earlier >= 0) || !(later >= 0)) continue;
    const step = Math.hypot(track.stepX[place]!, track.stepY[place]!);
    errors.start += Math.abs(step - earlier);
    errors.middle += Math.abs(step - (earlier + later) / 2);
    errors.end += Math.abs(step - later);
  }
  const better = errors.end < errors.start ? "end" : "start";
  return errors[better] < 0.9 * errors.middle ? better : "middle";
}
