/**
 * Order statistics of many groups of one column at once. The values are put into bins in their order, so that a
 * group costs little more than counting; a bin that holds several different values is looked into, so that the
 * results are those of sorting, to the last digit.
 */
import { MAD_TO_SD, medianAbsoluteDeviation } from "./descriptive.ts";
import { quantilesInPlace } from "./quantile.ts";

const BINS = 2048;
/** Code of a missing value. */
const MISSING = BINS;
/** Values looked at to place the bins; the extreme thousandths share the first and the last bin. */
const SAMPLED = 4096;
const TAIL = 0.001;
/** Groups up to this size are sorted outright. */
const FEW = 64;

/** Quantiles asked for; definition 7 of Hyndman & Fan 1996. */
const PROBABILITIES = [0.1, 0.5, 0.9] as const;

export interface OrderFigures {
  p10: number;
  p50: number;
  p90: number;
  /** 1.4826 times the median absolute deviation from the median. */
  robustSd: number;
}

/** Bins of a column: it is coded once, then any stretches of it, or of a rearrangement of it, are asked for. */
export class ValueBins {
  /** Bin of each value. */
  readonly codes: Uint16Array;
  private readonly low: number;
  private readonly high: number;
  private readonly perUnit: number;
  private readonly lowest = new Float64Array(BINS).fill(Number.POSITIVE_INFINITY);
  private readonly highest = new Float64Array(BINS).fill(Number.NEGATIVE_INFINITY);
  private readonly counts = new Int32Array(BINS + 1);
  private readonly wanted = new Uint8Array(BINS + 1);
  /** Bins of the group at hand that hold values, ascending, and the number of its values before each. */
  private readonly used = new Int32Array(BINS);
  private readonly before = new Int32Array(BINS + 1);
  private usedCount = 0;
  /** Bounds of the distances from the middle in each of those bins. */
  private readonly least = new Float64Array(BINS);
  private readonly most = new Float64Array(BINS);
  private work = new Float64Array(SAMPLED);

  /** @param values finite numbers, NaN where missing */
  constructor(values: Float64Array) {
    const step = Math.max(1, Math.floor(values.length / SAMPLED));
    const sample = Float64Array.from({ length: Math.ceil(values.length / step) }, (_, k) => values[k * step]!)
      .filter((value) => !Number.isNaN(value))
      .sort();
    this.low = sample[Math.floor(TAIL * sample.length)] ?? 0;
    this.high = sample[Math.ceil((1 - TAIL) * sample.length) - 1] ?? 0;
    const perUnit = (BINS - 3) / (this.high - this.low);
    this.perUnit = Number.isFinite(perUnit) ? perUnit : 0;
    this.codes = new Uint16Array(values.length);
    const { lowest, highest } = this;
    for (let i = 0; i < values.length; i++) {
      const value = values[i]!;
      const bin = this.binOf(value);
      this.codes[i] = bin;
      if (bin === MISSING) continue;
      if (value < lowest[bin]!) lowest[bin] = value;
      if (value > highest[bin]!) highest[bin] = value;
    }
  }

  private binOf(value: number): number {
    if (value < this.low) return 0;
    if (value > this.high) return BINS - 1;
    if (value >= this.low) return 1 + Math.floor((value - this.low) * this.perUnit);
    return MISSING;
  }

  /**
   * Figures of the values in some stretches.
   * @param values the column, or its values in another order
   * @param codes their {@link codes} in the same order
   * @param stretches start and end (not included) of each stretch, one after the other
   * @returns null when no value is present
   */
  figures(
    values: Float64Array,
    codes: Uint16Array,
    stretches: Int32Array | readonly number[],
  ): OrderFigures | null {
    let places = 0;
    for (let k = 0; k < stretches.length; k += 2) places += stretches[k + 1]! - stretches[k]!;
    if (places <= FEW) return this.figuresOfFew(values, stretches);
    const count = this.countBins(codes, stretches);
    if (count === 0) return null;
    const group = { values, codes, stretches };
    const [p10, p50, p90] = this.quantiles(group, count) as [number, number, number];
    return { p10, p50, p90, robustSd: MAD_TO_SD * this.medianDeviation(group, count, p50) };
  }

  private figuresOfFew(values: Float64Array, stretches: Int32Array | readonly number[]): OrderFigures | null {
    const { work } = this;
    let count = 0;
    for (let k = 0; k < stretches.length; k += 2) {
      for (let i = stretches[k]!; i < stretches[k + 1]!; i++) {
        if (!Number.isNaN(values[i]!)) work[count++] = values[i]!;
      }
    }
    if (count === 0) return null;
    const [p10, p50, p90] = quantilesInPlace(work, PROBABILITIES, 0, count) as [number, number, number];
    return { p10, p50, p90, robustSd: medianAbsoluteDeviation(work, 0, count) };
  }

  private countBins(codes: Uint16Array, stretches: Int32Array | readonly number[]): number {
    const { counts, used, before } = this;
    counts.fill(0);
    for (let k = 0; k < stretches.length; k += 2) {
      const end = stretches[k + 1]!;
      for (let i = stretches[k]!; i < end; i++) counts[codes[i]!]!++;
    }
    let place = 0;
    let sum = 0;
    for (let bin = 0; bin < BINS; bin++) {
      if (counts[bin] === 0) continue;
      used[place] = bin;
      before[place++] = sum;
      sum += counts[bin]!;
    }
    before[place] = sum;
    this.usedCount = place;
    return sum;
  }

  private quantiles(group: Group, count: number): number[] {
    const { used, before } = this;
    const ranks = PROBABILITIES.map((probability) => (count - 1) * probability);
    // Place in `used` of each rank and of the next one up.
    const places: number[] = [];
    let place = 0;
    for (const rank of ranks) {
      for (const whole of [Math.floor(rank), Math.min(count - 1, Math.floor(rank) + 1)]) {
        while (before[place + 1]! <= whole) place++;
        places.push(place);
      }
    }
    const mixed = [...new Set(places)].filter((at) => this.isMixed(used[at]!));
    const sorted = this.gather(
      group,
      mixed.map((at) => used[at]!),
    ).sort();
    const valueAt = (rank: number, at: number): number => {
      if (!this.isMixed(used[at]!)) return this.lowest[used[at]!]!;
      let offset = rank - before[at]!;
      for (const other of mixed) if (other < at) offset += before[other + 1]! - before[other]!;
      return sorted[offset]!;
    };
    return ranks.map((rank, k) => {
      const below = Math.floor(rank);
      const low = valueAt(below, places[2 * k]!);
      if (rank === below || below + 1 >= count) return low;
      return low + (rank - below) * (valueAt(below + 1, places[2 * k + 1]!) - low);
    });
  }

  /**
   * Median of the distances from `middle`. Each bin gives bounds of the distances in it; the bins that may hold
   * the ranks asked for are looked into.
   */
  private medianDeviation(group: Group, count: number, middle: number): number {
    const { used, before, usedCount } = this;
    const rank = (count - 1) / 2;
    const below = Math.floor(rank);
    const { least, most } = this;
    for (let place = 0; place < usedCount; place++) {
      const bin = used[place]!;
      const down = middle - this.highest[bin]!;
      const up = this.lowest[bin]! - middle;
      least[place] = down > up ? Math.max(0, down) : Math.max(0, up);
      most[place] = Math.max(middle - this.lowest[bin]!, this.highest[bin]! - middle);
    }
    const from = this.smallestBound(least, below + 1);
    const to = this.smallestBound(most, Math.min(count, below + 2));
    let under = 0;
    const open: number[] = [];
    for (let place = 0; place < usedCount; place++) {
      if (most[place]! < from) under += before[place + 1]! - before[place]!;
      else if (least[place]! <= to) open.push(place);
    }
    const pure = open.filter((place) => !this.isMixed(used[place]!));
    const bins = open.filter((place) => this.isMixed(used[place]!)).map((place) => used[place]!);
    const gathered = this.gather(group, bins);
    const distances = pure.map((place): [number, number] => [
      least[place]!,
      before[place + 1]! - before[place]!,
    ]);
    for (const value of gathered) distances.push([Math.abs(value - middle), 1]);
    distances.sort((a, b) => a[0] - b[0]);
    const at = (wanted: number): number => {
      let seen = under;
      for (const [distance, times] of distances) {
        seen += times;
        if (seen > wanted) return distance;
      }
      return Number.NaN;
    };
    const low = at(below);
    return rank === below ? low : low + (rank - below) * (at(below + 1) - low);
  }

  /**
   * Smallest bound for which the bins with a bound no larger hold at least `needed` values; over the bins in order
   * the bounds fall and then rise.
   */
  private smallestBound(bounds: Float64Array, needed: number): number {
    const { before, usedCount } = this;
    let turn = 0;
    while (turn + 1 < usedCount && bounds[turn + 1]! <= bounds[turn]!) turn++;
    let left = turn;
    let right = turn + 1;
    let held = 0;
    let reached = 0;
    while (held < needed) {
      const goesLeft = right >= usedCount || (left >= 0 && bounds[left]! <= bounds[right]!);
      const place = goesLeft ? left-- : right++;
      reached = bounds[place]!;
      held += before[place + 1]! - before[place]!;
    }
    return reached;
  }

  private isMixed(bin: number): boolean {
    return this.lowest[bin] !== this.highest[bin];
  }

  /** The group's values in some bins, in the order they stand. */
  private gather({ values, codes, stretches }: Group, bins: readonly number[]): Float64Array {
    if (bins.length === 0) return this.work.subarray(0, 0);
    const needed = bins.reduce((sum, bin) => sum + this.counts[bin]!, 0);
    if (needed > this.work.length) this.work = new Float64Array(2 * needed);
    const { wanted, work } = this;
    for (const bin of bins) wanted[bin] = 1;
    let count = 0;
    for (let k = 0; k < stretches.length; k += 2) {
      const end = stretches[k + 1]!;
      for (let i = stretches[k]!; i < end; i++) if (wanted[codes[i]!] === 1) work[count++] = values[i]!;
    }
    for (const bin of bins) wanted[bin] = 0;
    return work.subarray(0, count);
  }
}

interface Group {
  values: Float64Array;
  codes: Uint16Array;
  stretches: Int32Array | readonly number[];
}
