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
  const stride = passes.rowUnitCount + 1;
  const last = new Int32Array((passes.passes.length + 1) * stride).fill(-1);
  for (let i = 0; i < depth.length; i++) {
    if (Number.isNaN(depth[i]!) || passes.passOf[i] === 0) continue;
    const key = passes.passOf[i]! * stride + passes.rowUnitOf[i]!;
    const before = last[key]!;
    last[key] = i;
    const label = labelOf[i]!;
    if (before < 0 || label < 0) continue;
    halfSquares[label]! += 0.5 * (depth[i]! - depth[before]!) ** 2;
    steps[label]!++;
  }
  return { halfSquares, steps };
}
