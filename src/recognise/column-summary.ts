/** What the numbers of a column look like, and the marks for "no value" taken out of them. */
import { quantileSorted } from "../numerics/quantile.ts";

/** Numbers that devices write for "no value": all-ones integers (also scaled by 0.1), runs of nines, float limits. */
const MARKS_FOR_NO_VALUE = Float64Array.of(
  -9999,
  -999,
  -99999,
  9999,
  99999,
  999999,
  65535,
  65534,
  6553.5,
  6553.4,
  32767,
  3276.7,
  -32768,
  -3276.8,
  2147483647,
  -2147483648,
  4294967295,
  4294967294,
).sort();

/** No measured quantity of a planter is anywhere near this. */
const LARGEST_REAL_VALUE = 1e15;

/** A mark counts as one only when it stands this much beyond all other values of the column, or that far from any. */
const BEYOND_THE_REST = 1.5;

/** Quantiles are taken from at most about this many values, evenly spread. */
const SAMPLE_SIZE = 20_000;

export interface ColumnSummary {
  /** Values that are numbers, marks for "no value" not counted. */
  count: number;
  minimum: number;
  maximum: number;
  /** Quantiles (type 7) over an even sample of the values; NaN where there are none. */
  p5: number;
  median: number;
  p95: number;
  /** Median of the values that are not zero. */
  medianNonZero: number;
  /** Number of distinct values, counted up to 50. */
  distinct: number;
}

const DISTINCT_LIMIT = 50;
const SMALL_NUMBERS = 1024;

export interface CleanColumn {
  /** The values with marks for "no value" as NaN; the same array where there were none. */
  values: Float64Array;
  summary: ColumnSummary;
  /** Marks taken out: value, how often, 1-based number of the first record. */
  marks: { value: number; count: number; firstRecord: number }[];
}

/** Takes the marks for "no value" out of a column and sums up the rest. The input is not changed. */
export function cleanColumn(values: Float64Array): CleanColumn {
  const marks = findMarks(values);
  let cleaned = values;
  if (marks.length > 0) {
    const unwanted = new Set(marks.map((mark) => mark.value));
    cleaned = values.map((value) => (unwanted.has(value) || isUnreal(value) ? Number.NaN : value));
  }
  return { values: cleaned, summary: summarise(cleaned), marks };
}

function isUnreal(value: number): boolean {
  return Math.abs(value) > LARGEST_REAL_VALUE;
}

/** No mark lies between these; most values do, and need no look into the set. */
const [LARGEST_NEGATIVE_MARK, SMALLEST_POSITIVE_MARK] = [-999, 3276.7];

function isMark(value: number): boolean {
  if (value > LARGEST_NEGATIVE_MARK && value < SMALLEST_POSITIVE_MARK) return false;
  if (isUnreal(value)) return true;
  let [from, to] = [0, MARKS_FOR_NO_VALUE.length];
  while (from < to) {
    const middle = (from + to) >> 1;
    if (MARKS_FOR_NO_VALUE[middle]! < value) from = middle + 1;
    else to = middle;
  }
  return MARKS_FOR_NO_VALUE[from] === value;
}

function findMarks(values: Float64Array): CleanColumn["marks"] {
  const seen = new Map<number, { count: number; firstRecord: number }>();
  let restMinimum = Number.POSITIVE_INFINITY;
  let restMaximum = Number.NEGATIVE_INFINITY;
  for (let index = 0; index < values.length; index++) {
    const value = values[index]!;
    if (Number.isNaN(value)) continue;
    if (isMark(value)) {
      const known = seen.get(value);
      if (known) known.count += 1;
      else seen.set(value, { count: 1, firstRecord: index + 1 });
    } else {
      if (value < restMinimum) restMinimum = value;
      if (value > restMaximum) restMaximum = value;
    }
  }
  return [...seen]
    .filter(
      ([value]) =>
        isUnreal(value) || standsApart(value, restMinimum, restMaximum) || standsAlone(value, values),
    )
    .map(([value, found]) => ({ value, ...found }))
    .sort((a, b) => a.firstRecord - b.firstRecord);
}

function standsApart(value: number, minimum: number, maximum: number): boolean {
  if (minimum > maximum) return Math.abs(value) >= 999;
  const reach = Math.max(Math.abs(minimum), Math.abs(maximum));
  return Math.abs(value) > BEYOND_THE_REST * reach;
}

/** No other value that is no mark itself comes near. */
function standsAlone(mark: number, values: Float64Array): boolean {
  return !values.some((value) => {
    const ratio = value / mark;
    return ratio > 1 / BEYOND_THE_REST && ratio < BEYOND_THE_REST && value !== mark && !isMark(value);
  });
}

/** Spread of the middle nine tenths of the values over their median; 0 where there are none. */
export function relativeSpread(values: Float64Array): number {
  const sample = evenSample(values);
  const median = quantileSorted(sample, 0.5);
  return median === 0 || sample.length === 0
    ? 0
    : (quantileSorted(sample, 0.95) - quantileSorted(sample, 0.05)) / Math.abs(median);
}

/** Sums up a column; NaN entries are left out. */
export function summarise(values: Float64Array): ColumnSummary {
  let count = 0;
  let minimum = Number.POSITIVE_INFINITY;
  let maximum = Number.NEGATIVE_INFINITY;
  const distinct = new Set<number>();
  // Numbers of row units and passes are told apart by a look into a list.
  const met = new Uint8Array(SMALL_NUMBERS);
  let last = Number.NaN;
  for (let index = 0; index < values.length; index++) {
    const value = values[index]!;
    if (Number.isNaN(value)) continue;
    count += 1;
    if (value < minimum) minimum = value;
    if (value > maximum) maximum = value;
    // Of a column with few values most are the one before: the set is slow beside that.
    if (value !== last && distinct.size < DISTINCT_LIMIT) {
      const isSmall = value >= 0 && value < SMALL_NUMBERS && Math.floor(value) === value;
      if (!isSmall || met[value] === 0) distinct.add(value);
      if (isSmall) met[value] = 1;
    }
    last = value;
  }
  const sample = evenSample(values);
  const nonZero = sample.filter((value) => value !== 0);
  return {
    count,
    minimum: count === 0 ? Number.NaN : minimum,
    maximum: count === 0 ? Number.NaN : maximum,
    p5: quantileSorted(sample, 0.05),
    median: quantileSorted(sample, 0.5),
    p95: quantileSorted(sample, 0.95),
    medianNonZero: quantileSorted(nonZero, 0.5),
    distinct: distinct.size,
  };
}

function evenSample(values: Float64Array): Float64Array {
  const stride = Math.max(1, Math.floor(values.length / SAMPLE_SIZE));
  const sample: number[] = [];
  for (let index = 0; index < values.length; index += stride) {
    const value = values[index]!;
    if (!Number.isNaN(value)) sample.push(value);
  }
  return Float64Array.from(sample).sort();
}
