/**
 * Stretches of ground, of single row units where the log has them: what is said of a whole field is said of at least half
 * of them, so that neither one bad row unit nor one bad place makes it a matter of the whole field.
 */
import { median } from "../numerics/descriptive.ts";
import type { Passes } from "../passes/passes.ts";

/** Readings of one row unit on one stretch of a pass that are looked at together, and fewest that say something. */
const STRETCH_READINGS = 20;
const FEWEST_READINGS = 5;

export interface Stretches {
  /** Stretch of each record, from 0; -1 for records on no pass. */
  of: Int32Array;
  count: number;
}

export function stretchesOf(passes: Passes): Stretches {
  const { passOf, momentOf, rowUnitOf } = passes;
  const of = new Int32Array(passOf.length).fill(-1);
  const known = new Map<number, number>();
  const firstMoment = new Int32Array(passes.passes.length + 1).fill(-1);
  // Stretches are counted from each pass's first record on; one that stands before it in time comes below.
  const perPass = 2 * (Math.floor(passes.momentCount / STRETCH_READINGS) + 1);
  const units = passes.rowUnitCount + 1;
  for (let record = 0; record < of.length; record++) {
    const pass = passOf[record]!;
    if (pass === 0) continue;
    const moment = momentOf[record]!;
    if (firstMoment[pass] === -1) firstMoment[pass] = moment;
    const along = Math.floor((moment - firstMoment[pass]!) / STRETCH_READINGS) + perPass / 2;
    const key = (pass * perPass + along) * units + rowUnitOf[record]!;
    let stretch = known.get(key);
    if (stretch === undefined) {
      stretch = known.size;
      known.set(key, stretch);
    }
    of[record] = stretch;
  }
  return { of, count: known.size };
}

/** Median over the stretches of the mean of a value on them; NaN where no stretch has enough readings. */
export function usualMean(readingOf: (record: number) => number, { of, count }: Stretches): number {
  const sum = new Float64Array(count);
  const readings = new Int32Array(count);
  for (let record = 0; record < of.length; record++) {
    const value = of[record]! < 0 ? Number.NaN : readingOf(record);
    if (Number.isNaN(value)) continue;
    sum[of[record]!]! += value;
    readings[of[record]!]!++;
  }
  const means = sum.map((total, k) => total / readings[k]!).filter((_, k) => readings[k]! >= FEWEST_READINGS);
  return means.length > 0 ? median(means) : Number.NaN;
}
