/** Acceleration along the pass, from the speed of successive records of a row unit (or of the bar). */
import type { Passes } from "../passes/passes.ts";
import type { Field } from "../vocabulary/field.ts";

/** Records further apart than this say nothing of what happened between them, s (our judgement). */
const LONGEST_STEP_S = 10;

/**
 * Change of speed since the record before on the same pass and row unit, over the time between them, m/s2; NaN for
 * the first one, after a gap, and without a speed. Null for a log without speed or clock times.
 */
export function accelerations(field: Field, passes: Passes): Float64Array | null {
  const { speed, time } = field.log.values;
  if (!speed || !time || !field.log.hasClockTime) return null;
  const { passOf, rowUnitOf } = passes;
  const stride = passes.rowUnitCount + 1;
  const before = new Int32Array((passes.passes.length + 1) * stride).fill(-1);
  const result = new Float64Array(speed.length).fill(Number.NaN);
  for (let i = 0; i < speed.length; i++) {
    if (passOf[i] === 0 || Number.isNaN(speed[i]!)) continue;
    const key = passOf[i]! * stride + rowUnitOf[i]!;
    const last = before[key]!;
    before[key] = i;
    if (last < 0) continue;
    const step = time[i]! - time[last]!;
    if (step > 0 && step <= LONGEST_STEP_S) result[i] = (speed[i]! - speed[last]!) / step;
  }
  return result;
}
