/**
 * Spread of seeding depth along the row: root mean square of half the squared step between successive
 * records of one row unit (successive-difference SD, von Neumann et al. 1941, Ann. Math. Stat. 12:153-162).
 * It sees what varies along the row and neither the standing differences between units nor slow drift.
 */
import type { Passes } from "../passes/passes.ts";

/** Sums of half squared steps (mm2) and their number, by label. */
export interface DepthSteps {
  halfSquares: Float64Array;
  steps: Int32Array;
}

/**
 * Half the squared step of depth from the record before on the same pass and row unit, by the later record, mm2; NaN where
 * there is none before.
 * @param depth mm, NaN where missing
 */
export function halfSquaredSteps(depth: Float64Array, passes: Passes): Float64Array {
  const halfSquares = new Float64Array(depth.length).fill(Number.NaN);
  const stride = passes.rowUnitCount + 1;
  const last = new Float64Array((passes.passes.length + 1) * stride).fill(Number.NaN);
  const { passOf, rowUnitOf } = passes;
  for (let i = 0; i < depth.length; i++) {
    const value = depth[i]!;
    if (Number.isNaN(value) || passOf[i] === 0) continue;
    const key = passOf[i]! * stride + rowUnitOf[i]!;
    const step = value - last[key]!;
    halfSquares[i] = 0.5 * step * step;
    last[key] = value;
  }
  return halfSquares;
}

/**
 * Gathers the steps of depth by the label of the later record.
 * @param depth mm, NaN where missing
 * @param labelOf label 0..count-1 of each record, -1 where it is not to count
 */
export function depthSteps(
  depth: Float64Array,
  labelOf: Int32Array,
  passes: Passes,
  count: number,
): DepthSteps {
  const halfSquares = new Float64Array(count);
  const steps = new Int32Array(count);
  const ofRecord = halfSquaredSteps(depth, passes);
  for (let i = 0; i < depth.length; i++) {
    const label = labelOf[i]!;
    if (label < 0 || Number.isNaN(ofRecord[i]!)) continue;
    halfSquares[label]! += ofRecord[i]!;
    steps[label]!++;
  }
  return { halfSquares, steps };
}
