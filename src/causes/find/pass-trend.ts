/** A steady change of one variable from pass to pass: a disc that clogs or wears, a fill that runs low. */
import { mean } from "../../numerics/descriptive.ts";
import type { Passes } from "../../passes/passes.ts";
import type { PlantingVariable } from "../../vocabulary/variables.ts";

export interface PassTrend {
  variable: PlantingVariable;
  /** The line through the means of the passes, at the first and the last of them; inside units. */
  first: number;
  last: number;
  passes: number;
}

/** Least change from the first pass to the last that is worth a word, inside units: 2 points, 0.25 in, 22 lb (our judgement). */
const LEAST_CHANGE: Partial<Record<PlantingVariable, number>> = {
  misses: 0.02,
  multiples: 0.02,
  seedingDepth: 6.35,
  downForceMargin: 98,
};
/** Passes that show a trend at least, slope beside its error, and share of the change from pass to pass that the line explains (our judgement). */
export const FEWEST_TREND_PASSES = 8;
const CRITICAL_T = 4;
const EXPLAINED = 0.5;

/**
 * The trend of a variable in the order of planting; every pass counts once, as one draw of its own.
 * @param isInside records it is about
 * @param others records that the trend has to stand out from, null where it is about all rows
 * @returns null where the passes show no steady change that matters
 */
export function passTrend(
  variable: PlantingVariable,
  values: Float64Array,
  passes: Passes,
  isInside: (record: number) => boolean,
  others: ((record: number) => boolean) | null,
): PassTrend | null {
  const least = LEAST_CHANGE[variable];
  if (least === undefined) return null;
  const own = passMeans(values, passes, isInside);
  const beside = others ? passMeans(values, passes, others) : null;
  const at = [...own.keys()].filter(
    (pass) => !Number.isNaN(own[pass]!) && !(beside && Number.isNaN(beside[pass]!)),
  );
  if (at.length < FEWEST_TREND_PASSES) return null;
  const line = lineThrough(
    at,
    at.map((pass) => own[pass]! - (beside ? beside[pass]! : 0)),
  );
  if (
    Math.abs(line.slope) * (at.at(-1)! - at[0]!) < least ||
    Math.abs(line.t) < CRITICAL_T ||
    line.explained < EXPLAINED
  )
    return null;
  const shown = lineThrough(
    at,
    at.map((pass) => own[pass]!),
  );
  return {
    variable,
    first: shown.start,
    last: shown.start + shown.slope * (at.at(-1)! - at[0]!),
    passes: at.length,
  };
}

/** Mean of each pass, NaN where it has no value; entry 0 is pass 1. */
function passMeans(
  values: Float64Array,
  passes: Passes,
  isInside: (record: number) => boolean,
): Float64Array {
  const sum = new Float64Array(passes.passes.length);
  const count = new Int32Array(passes.passes.length);
  for (let record = 0; record < values.length; record++) {
    const pass = passes.passOf[record]! - 1;
    if (pass < 0 || Number.isNaN(values[record]!) || !isInside(record)) continue;
    sum[pass]! += values[record]!;
    count[pass]!++;
  }
  return sum.map((total, pass) => total / count[pass]!);
}

/** Least squares: value at the first place, slope, its t, and the share of the variance that it explains. */
function lineThrough(
  at: readonly number[],
  values: readonly number[],
): { start: number; slope: number; t: number; explained: number } {
  const [middleAt, middle] = [mean(at), mean(values)];
  let [squares, product, total] = [0, 0, 0];
  at.forEach((place, k) => {
    squares += (place - middleAt) ** 2;
    product += (place - middleAt) * (values[k]! - middle);
    total += (values[k]! - middle) ** 2;
  });
  const slope = product / squares;
  const left = Math.max(0, total - slope * product);
  const error = Math.sqrt(left / (at.length - 2) / squares);
  return {
    start: middle + slope * (at[0]! - middleAt),
    slope,
    t: slope / error,
    explained: total > 0 ? 1 - left / total : 0,
  };
}
