/** Departure of each row unit from the whole bar at the same moment, averaged by pass. */
import type { Passes } from "../passes/passes.ts";
import type { Field } from "../vocabulary/field.ts";

export const ROW_UNIT_VARIABLES = [
  "seedingDepth",
  "downForceMargin",
  "misses",
  "multiples",
  "singulation",
  "population",
] as const;

export type RowUnitVariable = (typeof ROW_UNIT_VARIABLES)[number];

/** Departures of one row unit over the passes where it was measured, in order of planting. */
export interface RowUnitSeries {
  rowUnit: number;
  /** Our pass numbers. */
  passes: number[];
  /** Mean departure from the bar's median: mm, N, share; for population the share of the bar's median. */
  departure: Float64Array;
  /** Weight of each pass, 0..1: moments seen against the usual number. */
  weight: Float64Array;
}

/** Fewer units than this have no median worth the name (our judgement). */
const FEWEST_UNITS = 4;
/** Fewer moments than this on a pass say nothing of it. */
const FEWEST_MOMENTS = 5;

/** Records by moment of the bar: `records[start[m]..start[m + 1])` are those of moment m. */
export interface Moments {
  start: Int32Array;
  records: Int32Array;
}

/** Row-unit records on a pass and at work, by moment. */
export function groupByMoment(field: Field, passes: Passes): Moments {
  const working = field.log.values.working;
  const used = (i: number): boolean =>
    passes.passOf[i]! > 0 && passes.rowUnitOf[i]! > 0 && working?.[i] !== 0;
  const start = new Int32Array(passes.momentCount + 1);
  for (let i = 0; i < field.log.recordCount; i++) if (used(i)) start[passes.momentOf[i]! + 1]!++;
  for (let moment = 0; moment < passes.momentCount; moment++) start[moment + 1]! += start[moment]!;
  const next = start.slice();
  const records = new Int32Array(start[passes.momentCount]!);
  for (let i = 0; i < field.log.recordCount; i++) {
    if (used(i)) records[next[passes.momentOf[i]!]!++] = i;
  }
  return { start, records };
}

/**
 * Series of every row unit in one variable. The median of the whole bar takes soil, speed and pass out; a few
 * faulty units, side by side or not, do not move it. Moments where fewer than four units (or fewer than half
 * of those that the variable is measured on) report are passed over.
 * @param largest departures are drawn in to +- this, so that one wild reading does not make a pass
 * @param relative departures as a share of the bar's median
 */
export function rowUnitSeries(
  values: Float64Array,
  moments: Moments,
  passes: Passes,
  largest: number,
  relative: boolean,
): RowUnitSeries[] {
  const units = passes.rowUnitCount;
  const stride = units + 1;
  const sum = new Float64Array((passes.passes.length + 1) * stride);
  const count = new Int32Array(sum.length);
  const sorted = new Float64Array(units);
  const fewest = Math.max(FEWEST_UNITS, measuredUnits(values, moments, passes) / 2);
  for (let moment = 0; moment + 1 < moments.start.length; moment++) {
    const from = moments.start[moment]!;
    const to = moments.start[moment + 1]!;
    const present = sortPresent(values, moments.records, from, to, sorted);
    if (present < fewest) continue;
    const middle = (sorted[(present - 1) >> 1]! + sorted[present >> 1]!) / 2;
    if (relative && !(middle > 0)) continue;
    const offset = passes.passOf[moments.records[from]!]! * stride;
    for (let k = from; k < to; k++) {
      const i = moments.records[k]!;
      if (Number.isNaN(values[i]!)) continue;
      const departure = relative ? values[i]! / middle - 1 : values[i]! - middle;
      const at = offset + passes.rowUnitOf[i]!;
      sum[at]! += Math.max(-largest, Math.min(largest, departure));
      count[at]!++;
    }
  }
  return seriesOf(sum, count, passes.passes.length, units);
}

function seriesOf(sum: Float64Array, count: Int32Array, passCount: number, units: number): RowUnitSeries[] {
  const seen = count.filter((n) => n >= FEWEST_MOMENTS).sort();
  if (seen.length === 0) return [];
  const usual = seen[seen.length >> 1]!;
  const series: RowUnitSeries[] = [];
  for (let rowUnit = 1; rowUnit <= units; rowUnit++) {
    const numbers: number[] = [];
    for (let pass = 1; pass <= passCount; pass++) {
      if (count[pass * (units + 1) + rowUnit]! >= FEWEST_MOMENTS) numbers.push(pass);
    }
    if (numbers.length < 2) continue;
    const at = (pass: number): number => pass * (units + 1) + rowUnit;
    series.push({
      rowUnit,
      passes: numbers,
      departure: Float64Array.from(numbers, (pass) => sum[at(pass)]! / count[at(pass)]!),
      weight: Float64Array.from(numbers, (pass) => Math.min(1, count[at(pass)]! / usual)),
    });
  }
  return series;
}

/** Number of row units that ever report the variable. */
function measuredUnits(values: Float64Array, moments: Moments, passes: Passes): number {
  const seen = new Uint8Array(passes.rowUnitCount + 1);
  for (let place = 0; place < moments.records.length; place++) {
    const i = moments.records[place]!;
    if (!Number.isNaN(values[i]!)) seen[passes.rowUnitOf[i]!] = 1;
  }
  return seen.reduce((total, one) => total + one, 0);
}

/** Copies the present values of a moment into `sorted`, ascending; returns how many. Few values: insertion sort. */
function sortPresent(
  values: Float64Array,
  records: Int32Array,
  from: number,
  to: number,
  sorted: Float64Array,
): number {
  let present = 0;
  for (let k = from; k < to && present < sorted.length; k++) {
    const value = values[records[k]!]!;
    if (Number.isNaN(value)) continue;
    let place = present++;
    while (place > 0 && sorted[place - 1]! > value) {
      sorted[place] = sorted[place - 1]!;
      place--;
    }
    sorted[place] = value;
  }
  return present;
}
