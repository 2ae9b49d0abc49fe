/** When a record counts as outside the target. */
import type { Field } from "../../vocabulary/field.ts";
import { THRESHOLDS } from "../thresholds.ts";
import type { ComparisonRow } from "./comparison.ts";

/** Limits of the records, both included, in the unit of the variable: those of record i stand at i * step. */
export interface TargetLimits {
  low: Float64Array;
  high: Float64Array;
  /** 1 for an entry a record, 0 for one that stands for all. */
  step: 0 | 1;
}

/**
 * Limits of a variable: depth within the tolerance of the target depth, margin within its band, population within
 * its tolerance of the target rate (the log's own target of the record goes before that of the manifest), speed
 * no more than its tolerance above the target. Null where the variable has no target; a record without one of
 * its own gives NaN.
 */
export function targetLimits(field: Field, variable: ComparisonRow["variable"]): TargetLimits | null {
  const { targets, log } = field;
  if (variable === "seedingDepth") {
    const tolerance = THRESHOLDS.depthTolerance.value;
    return about(log.values.targetDepth, targets.seedingDepthMm, () => tolerance);
  }
  if (variable === "population") {
    const share = THRESHOLDS.populationTolerance.value;
    return about(log.values.targetPopulation, targets.populationPerHa, (target) => target * share);
  }
  if (variable === "downForceMargin" && targets.downForceMarginN) return forAll(...targets.downForceMarginN);
  if (variable === "speed" && targets.speedMetresPerSecond !== null) {
    const high = targets.speedMetresPerSecond * (1 + THRESHOLDS.speedTolerance.value);
    return forAll(Number.NEGATIVE_INFINITY, high);
  }
  return null;
}

function about(
  logged: Float64Array | undefined,
  target: number | null,
  toleranceOf: (target: number) => number,
): TargetLimits | null {
  if (!logged)
    return target === null ? null : forAll(target - toleranceOf(target), target + toleranceOf(target));
  // Mostly one target stands in every record: one limit for all then, as from the manifest.
  let alike = 0;
  while (alike < logged.length && logged[alike] === logged[0]) alike++;
  if (alike === logged.length && alike > 0)
    return forAll(logged[0]! - toleranceOf(logged[0]!), logged[0]! + toleranceOf(logged[0]!));
  const low = new Float64Array(logged.length);
  const high = new Float64Array(logged.length);
  for (let record = 0; record < logged.length; record++) {
    const own = Number.isNaN(logged[record]!) ? (target ?? Number.NaN) : logged[record]!;
    const tolerance = toleranceOf(own);
    low[record] = own - tolerance;
    high[record] = own + tolerance;
  }
  return { low, high, step: 1 };
}

function forAll(low: number, high: number): TargetLimits {
  return { low: Float64Array.of(low), high: Float64Array.of(high), step: 0 };
}
