/** When a record counts as outside the target. */
import type { Field } from "../field/field.ts";
import type { ComparisonRow } from "./comparison.ts";
import { THRESHOLDS } from "./thresholds.ts";

/** Limits per record, both included, in the unit of the variable. */
export interface TargetLimits {
  low(record: number): number;
  high(record: number): number;
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
    const target = perRecord(log.values.targetDepth, targets.seedingDepthMm);
    const tolerance = THRESHOLDS.depthTolerance.value;
    return (
      target && { low: (record) => target(record) - tolerance, high: (record) => target(record) + tolerance }
    );
  }
  if (variable === "population") {
    const target = perRecord(log.values.targetPopulation, targets.populationPerHa);
    const tolerance = THRESHOLDS.populationTolerance.value;
    return (
      target && {
        low: (record) => target(record) * (1 - tolerance),
        high: (record) => target(record) * (1 + tolerance),
      }
    );
  }
  if (variable === "downForceMargin" && targets.downForceMarginN) {
    const [low, high] = targets.downForceMarginN;
    return { low: () => low, high: () => high };
  }
  if (variable === "speed" && targets.speedMetresPerSecond !== null) {
    const high = targets.speedMetresPerSecond * (1 + THRESHOLDS.speedTolerance.value);
    return { low: () => Number.NEGATIVE_INFINITY, high: () => high };
  }
  return null;
}

function perRecord(
  logged: Float64Array | undefined,
  target: number | null,
): ((record: number) => number) | null {
  if (!logged) return target === null ? null : () => target;
  return (record) => (Number.isNaN(logged[record]!) ? (target ?? Number.NaN) : logged[record]!);
}
