/** Whole-number steps, and how far a load may move in one season. */

import type { Moisture } from "../vocabulary/moisture.ts";
import { LIMITS } from "./limits.ts";
import type { PrescriptionSettings } from "./prescription.ts";

export type StepLimits = Pick<
  PrescriptionSettings,
  "minimumMarginN" | "maximumMarginN" | "largestStepN" | "rateStepN"
>;

/** The whole multiple of the step nearest to the load, N; never below the least load there is. */
export function wholeStep(loadN: number, stepN: number): number {
  const least = Math.ceil(LIMITS.leastMarginEver.value / stepN - 1e-9);
  return Math.max(least, Math.round(loadN / stepN)) * stepN;
}

/**
 * Smallest and largest load that may be set where today's is known, N, in whole steps: within the user's smallest and
 * largest always, and within the largest step of today's load. Where today's lies outside by more than a step, the
 * user's limit alone is left.
 * @param capN load above which the bar would be lifted, see {@link liftCap}; never below the smallest
 * @param downStepN largest step down, see {@link downStep}
 */
export function loadLimits(
  todayN: number,
  limits: StepLimits,
  capN = Number.POSITIVE_INFINITY,
  downStepN = limits.largestStepN,
): { lowN: number; highN: number } {
  const { minimumMarginN, maximumMarginN, largestStepN, rateStepN } = limits;
  const within = (load: number): number => Math.min(maximumMarginN, Math.max(minimumMarginN, load));
  const low = within(todayN - downStepN);
  const high = Math.max(low, Math.min(capN, within(todayN + largestStepN)));
  const slack = 1e-6;
  const first = Math.ceil(low / rateStepN - slack);
  const last = Math.floor(high / rateStepN + slack);
  // Limits closer than a step: the whole step that keeps the user's largest.
  return first <= last
    ? { lowN: first * rateStepN, highN: last * rateStepN }
    : { lowN: last * rateStepN, highN: last * rateStepN };
}

/** Largest step down on ground in a state, N: damp ground may be relieved faster than any is loaded. */
export function downStep({ largestStepN }: Pick<StepLimits, "largestStepN">, state: Moisture): number {
  return state === "damp" ? LIMITS.dampSteps.value * largestStepN : largestStepN;
}

/** The load moved into the limits, whole steps. */
export function limitedLoad(
  wantedN: number,
  todayN: number,
  limits: StepLimits,
  capN?: number,
  downStepN?: number,
): number {
  const { lowN, highN } = loadLimits(todayN, limits, capN, downStepN);
  return Math.min(highN, Math.max(lowN, wholeStep(wantedN, limits.rateStepN)));
}

/**
 * Largest added force a row unit may take, N, so that all of them together do not lift the bar: what centre and wing
 * can spare at the least fill over the row units they carry. Null where the weights are not known.
 */
export function largestForce({ usableWeight }: Pick<PrescriptionSettings, "usableWeight">): number | null {
  if (!usableWeight) return null;
  const { centreN, wingN, centreRowUnits, wingRowUnits } = usableWeight;
  return Math.min(
    centreRowUnits > 0 ? centreN / centreRowUnits : Number.POSITIVE_INFINITY,
    wingRowUnits > 0 ? wingN / wingRowUnits : Number.POSITIVE_INFINITY,
  );
}

/** Load at which a zone's added force reaches the largest, N; infinite where weights or forces are not known. */
export function liftCap(
  todayN: number,
  todayForceN: number | null,
  settings: Pick<PrescriptionSettings, "usableWeight">,
): number {
  const largest = largestForce(settings);
  return largest === null || todayForceN === null
    ? Number.POSITIVE_INFINITY
    : carriedOver(largest, todayForceN, todayN);
}

/** Change of load and of added force are the same with the soil's reaction held: from one to the other, N. */
function carriedOver(value: number, fromToday: number, toToday: number): number {
  return toToday + value - fromToday;
}

/** Added force for a load, N: today's force + target - today's load, the soil's reaction held. */
export function forceFor(targetN: number, todayN: number, todayForceN: number): number {
  return carriedOver(targetN, todayN, todayForceN);
}
