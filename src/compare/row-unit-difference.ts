/** How far a row unit departs from the others at the same moments, pass by pass. */
import { studentTQuantile } from "../numerics/distributions.ts";
import type { Passes } from "../passes/passes.ts";
import { type Difference, LEVEL, NO_DIFFERENCE } from "./pass-difference.ts";

/** Departures of each record: its value minus the mean of the other row units of its moment; NaN where there are none. */
export function departuresFromOthers(
  values: Float64Array,
  planted: Uint8Array,
  passes: Passes,
): Float64Array {
  const sum = new Float64Array(passes.instantCount);
  const count = new Int32Array(passes.instantCount);
  const counts = (record: number): boolean =>
    planted[record] === 1 && passes.rowUnitOf[record]! > 0 && !Number.isNaN(values[record]!);
  for (let record = 0; record < values.length; record++) {
    if (!counts(record)) continue;
    sum[passes.instantOf[record]!]! += values[record]!;
    count[passes.instantOf[record]!]!++;
  }
  const departures = new Float64Array(values.length).fill(Number.NaN);
  for (let record = 0; record < values.length; record++) {
    const at = passes.instantOf[record]!;
    if (!counts(record) || count[at]! < 2) continue;
    departures[record] = values[record]! - (sum[at]! - values[record]!) / (count[at]! - 1);
  }
  return departures;
}

/**
 * Mean departure of a group of records of one row unit, with the passes as replicates: d_p is the mean
 * departure in pass p, w_p its share of the records, d = sum w_p d_p, and the variance of d is
 * P/(P - 1) sum w_p^2 (d_p - d)^2 on 1/sum w_p^2 - 1 degrees of freedom (P - 1 when all passes are as long).
 * The interval is null with one pass only.
 */
export function differenceOfRowUnit(
  departures: Float64Array,
  records: Int32Array,
  passes: Passes,
): Difference {
  const sum = new Map<number, { sum: number; count: number }>();
  let total = 0;
  let count = 0;
  for (const record of records) {
    const departure = departures[record]!;
    if (Number.isNaN(departure)) continue;
    const pass = passes.passOf[record]!;
    const entry = sum.get(pass) ?? { sum: 0, count: 0 };
    entry.sum += departure;
    entry.count++;
    sum.set(pass, entry);
    total += departure;
    count++;
  }
  if (count === 0) return NO_DIFFERENCE;
  const difference = total / count;
  if (sum.size < 2) return { difference, low: null, high: null };
  let squares = 0;
  let concentration = 0;
  for (const entry of sum.values()) {
    const weight = entry.count / count;
    squares += weight ** 2 * (entry.sum / entry.count - difference) ** 2;
    concentration += weight ** 2;
  }
  const variance = (squares * sum.size) / (sum.size - 1);
  const df = Math.max(1, 1 / concentration - 1);
  const half = studentTQuantile(0.5 + LEVEL / 2, df) * Math.sqrt(variance);
  return { difference, low: difference - half, high: difference + half };
}
