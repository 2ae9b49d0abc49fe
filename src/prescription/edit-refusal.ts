/** What a load set by hand may be, and why it is refused; for page and library alike. */
import { formatQuantity } from "../quantities/format.ts";
import { FARM_ENGLISH, type Writing } from "../texts/language.ts";
import { LIMITS } from "./limits.ts";
import type { Prescription, ZoneDecision } from "./prescription.ts";
import { downStep, liftCap, loadLimits } from "./steps.ts";

type Edited = Pick<Prescription, "decisions" | "settings">;

function decisionFor({ decisions }: Edited, soilZone: string): ZoneDecision | undefined {
  return decisions.find((decision) => decision.soilZone === soilZone);
}

/** Smallest and largest load that may be set in a zone, N, in whole steps; null where none may be. */
export function editLimits(prescription: Edited, soilZone: string): { lowN: number; highN: number } | null {
  const decision = decisionFor(prescription, soilZone);
  if (!decision || decision.outcome === "held-back" || decision.currentMarginN === null) return null;
  const { currentMarginN, currentForceN } = decision;
  return loadLimits(
    currentMarginN,
    prescription.settings,
    liftCap(currentMarginN, currentForceN, prescription.settings),
    downStep(prescription.settings, prescription.settings.moisture),
  );
}

/** Why a load set by hand crosses a limit; null where it does not. */
export function editRefusal(
  prescription: Edited,
  soilZone: string,
  marginN: number,
  writing: Writing = FARM_ENGLISH,
): string | null {
  const { settings } = prescription;
  const decision = decisionFor(prescription, soilZone);
  const force = (newtons: number): string => formatQuantity(newtons, "force", writing);
  if (!decision) return `there is no soil zone "${soilZone}"`;
  if (decision.outcome === "held-back")
    return `${soilZone} is held back: ${decision.heldBackBy.map(({ words }) => words).join("; ")}`;
  const limits = editLimits(prescription, soilZone);
  if (!limits || decision.currentMarginN === null) return `no load is logged on ${soilZone} to step from`;
  if (!Number.isFinite(marginN)) return "a load is a number";
  const slack = 0.5;
  if (marginN >= limits.lowN - slack && marginN <= limits.highN + slack) return null;
  const today = decision.currentMarginN;
  const between = `${force(limits.lowN)} to ${force(limits.highN)} may be set`;
  if (marginN < LIMITS.leastMarginEver.value)
    return `${force(marginN)} would leave the gauge wheels off the ground; ${between}`;
  const stepN = marginN < today ? downStep(settings, settings.moisture) : settings.largestStepN;
  if (Math.abs(marginN - today) > stepN)
    return `${force(marginN)} is more than the largest step of ${force(stepN)} from today's ${force(today)}; ${between}`;
  if (marginN > liftCap(today, decision.currentForceN, settings))
    return `${force(marginN)} would take more added force than the weight of the bar can hold down; ${between}`;
  const [name, limit] =
    marginN < limits.lowN
      ? ["below the smallest", settings.minimumMarginN]
      : ["above the largest", settings.maximumMarginN];
  return `${force(marginN)} is ${name} load of ${force(limit)}; ${between}`;
}
