/** What the figures of a check are held against: the target given, else the usual limits of the trade. */
import { targetLimits } from "../compare/tables/target-limits.ts";
import { THRESHOLDS, type Threshold } from "../compare/thresholds.ts";
import { median } from "../numerics/descriptive.ts";
import type { Field } from "../vocabulary/field.ts";
import type { CheckAim, CheckVariable } from "./check-result.ts";

/** An aim for show, and the limits of single records behind it: those of record i stand at i * step. */
export interface RecordAim {
  aim: CheckAim;
  low: Float64Array;
  high: Float64Array;
  step: 0 | 1;
}

/** Variables for which a target can be given. */
const TARGETED = ["seedingDepth", "downForceMargin", "population", "speed"] as const;

/** The aim of a variable; null where nobody gave one and the trade has no usual limit. */
export function aimOf(field: Field, variable: CheckVariable): RecordAim | null {
  const own = TARGETED.find((one) => one === variable);
  const given = own ? targetLimits(field, own) : null;
  if (!given) return usualAim(field, variable);
  // A load just past an end of the band is not held against the whole field.
  const slack = variable === "downForceMargin" ? THRESHOLDS.bandTolerance.value : 0;
  const low = given.low.map((value) => value * (1 - slack));
  const high = given.high.map((value) => value * (1 + slack));
  const middle = (limits: Float64Array): number | null => {
    const known = limits.filter((value) => Number.isFinite(value));
    return known.length === 0 ? null : median(known);
  };
  const shown = { low: middle(given.low), high: middle(given.high) };
  if (shown.low === null && shown.high === null) return usualAim(field, variable);
  return {
    aim: { ...shown, from: given.step === 1 ? "log" : "manifest", source: null },
    low,
    high,
    step: given.step,
  };
}

function usualAim(field: Field, variable: CheckVariable): RecordAim | null {
  const T = THRESHOLDS;
  switch (variable) {
    case "seedingDepth":
      if (field.crop === "soybean") return usual(T.shallowKneeSoybean, T.deepKneeSoybean);
      return field.crop === "corn" ? usual(T.shallowKnee, T.deepKnee) : null;
    case "downForceMargin":
      return usual(T.lightKnee, T.heavyKneeDry);
    case "speed":
      return usual(null, T.fastKnee);
    case "misses":
    case "multiples":
      return usual(null, T.seedsAmiss);
    case "singulation":
      return usual({ ...T.seedsAmiss, value: 1 - T.seedsAmiss.value }, null);
    default:
      return null;
  }
}

function usual(low: Threshold | null, high: Threshold | null): RecordAim {
  const sources = [...new Set([low, high].flatMap((limit) => (limit ? [limit.source] : [])))];
  return {
    aim: { low: low?.value ?? null, high: high?.value ?? null, from: "usual", source: sources.join("; ") },
    low: Float64Array.of(low?.value ?? Number.NEGATIVE_INFINITY),
    high: Float64Array.of(high?.value ?? Number.POSITIVE_INFINITY),
    step: 0,
  };
}
