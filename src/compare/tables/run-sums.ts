/** Sums of runs of records, from which those of any group are put together. */
import { THRESHOLDS } from "../thresholds.ts";
import type { OrderedRecords } from "./ordered-records.ts";
import type { TargetLimits } from "./target-limits.ts";

/** One entry a run; records without a value count nowhere. */
export interface RunSums {
  count: Int32Array;
  mean: Float64Array;
  /** Sum of squared deviations from the run's mean. */
  squares: Float64Array;
  areaM2: Float64Array;
  judged: Int32Array;
  below: Int32Array;
  above: Int32Array;
  withoutLoad: Int32Array;
  /** Sum of half the squared steps of depth, and their number. */
  halfSquares: Float64Array;
  steps: Int32Array;
}

export type GroupSums = Record<keyof RunSums, number>;

/** What is summed, all of it as laid out: one entry a place. */
export interface LaidOutColumn {
  /** NaN where missing. */
  values: Float64Array;
  limits: TargetLimits | null;
  areaM2: Float64Array;
  /** Whether the values are a load, of which none may be left. */
  isLoad: boolean;
  /** Half the squared step of depth, NaN where none; null for other variables. */
  halfSquares: Float64Array | null;
}

export function sumRuns({ start, zone }: OrderedRecords, column: LaidOutColumn): RunSums {
  const runs = zone.length;
  const numbers = (): Float64Array => new Float64Array(runs);
  const counts = (): Int32Array => new Int32Array(runs);
  const sums: RunSums = {
    count: counts(),
    mean: numbers(),
    squares: numbers(),
    areaM2: numbers(),
    judged: counts(),
    below: counts(),
    above: counts(),
    withoutLoad: counts(),
    halfSquares: numbers(),
    steps: counts(),
  };
  for (let run = 0; run < runs; run++) {
    const [from, to] = [start[run]!, start[run + 1]!];
    sumMoments(sums, run, column.values, column.areaM2, from, to);
    if (column.limits) countVerdicts(sums, run, column.values, column.limits, from, to);
    if (column.isLoad) countWithoutLoad(sums, run, column.values, from, to);
    if (column.halfSquares) sumSteps(sums, run, column.halfSquares, from, to);
  }
  return sums;
}

/** Number, mean and squared deviations (corrected two-pass, see `numerics/descriptive.ts`) of one run, and its ground. */
function sumMoments(
  sums: RunSums,
  run: number,
  values: Float64Array,
  areaM2: Float64Array,
  from: number,
  to: number,
): void {
  let shift = Number.NaN;
  for (let place = from; place < to && Number.isNaN(shift); place++) shift = values[place]!;
  let count = 0;
  let sum = 0;
  let area = 0;
  for (let place = from; place < to; place++) {
    const value = values[place]!;
    if (Number.isNaN(value)) continue;
    count++;
    sum += value - shift;
    area += areaM2[place]!;
  }
  if (count === 0) return;
  const mean = shift + sum / count;
  let squares = 0;
  let rest = 0;
  for (let place = from; place < to; place++) {
    const value = values[place]!;
    if (Number.isNaN(value)) continue;
    const deviation = value - mean;
    squares += deviation * deviation;
    rest += deviation;
  }
  sums.count[run] = count;
  sums.mean[run] = mean;
  sums.squares[run] = squares - (rest * rest) / count;
  sums.areaM2[run] = area;
}

function countVerdicts(
  sums: RunSums,
  run: number,
  values: Float64Array,
  { low, high, step }: TargetLimits,
  from: number,
  to: number,
): void {
  let judged = 0;
  let below = 0;
  let above = 0;
  for (let place = from; place < to; place++) {
    const value = values[place]!;
    const least = low[place * step]!;
    if (Number.isNaN(value) || Number.isNaN(least)) continue;
    judged++;
    if (value < least) below++;
    else if (value > high[place * step]!) above++;
  }
  sums.judged[run] = judged;
  sums.below[run] = below;
  sums.above[run] = above;
}

function countWithoutLoad(sums: RunSums, run: number, values: Float64Array, from: number, to: number): void {
  const none = THRESHOLDS.noLoad.value;
  let without = 0;
  for (let place = from; place < to; place++) if (values[place]! <= none) without++;
  sums.withoutLoad[run] = without;
}

function sumSteps(sums: RunSums, run: number, halfSquares: Float64Array, from: number, to: number): void {
  for (let place = from; place < to; place++) {
    const halfSquare = halfSquares[place]!;
    if (Number.isNaN(halfSquare)) continue;
    sums.halfSquares[run]! += halfSquare;
    sums.steps[run]!++;
  }
}

/** Sums of several runs together; squares by the pairwise rule of Chan, Golub & LeVeque 1983, Am. Stat. 37:242-247. */
export function sumsOf(sums: RunSums, runs: readonly number[]): GroupSums {
  const total: GroupSums = {
    count: 0,
    mean: 0,
    squares: 0,
    areaM2: 0,
    judged: 0,
    below: 0,
    above: 0,
    withoutLoad: 0,
    halfSquares: 0,
    steps: 0,
  };
  for (const run of runs) {
    const count = sums.count[run]!;
    if (count > 0) {
      const together = total.count + count;
      const apart = sums.mean[run]! - total.mean;
      if (total.count === 0) total.mean = sums.mean[run]!;
      else {
        total.mean += (apart * count) / together;
        total.squares += (apart * apart * total.count * count) / together;
      }
      total.squares += sums.squares[run]!;
      total.count = together;
    }
    total.areaM2 += sums.areaM2[run]!;
    total.judged += sums.judged[run]!;
    total.below += sums.below[run]!;
    total.above += sums.above[run]!;
    total.withoutLoad += sums.withoutLoad[run]!;
    total.halfSquares += sums.halfSquares[run]!;
    total.steps += sums.steps[run]!;
  }
  return total;
}
