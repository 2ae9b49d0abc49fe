/** The limits a prescription keeps, each with what it did, in words. */
import { formatNumber, formatQuantity } from "../quantities/format.ts";
import type { Writing } from "../texts/language.ts";
import { groundWords, isForceHeld } from "./channel.ts";
import type { LearntZone, ZoneChoice } from "./decide.ts";
import type { Guard, PrescriptionSettings, Rates } from "./prescription.ts";
import { downStep, largestForce, liftCap } from "./steps.ts";

/** A zone as learnt and as decided. */
export interface DecidedZone {
  zone: LearntZone;
  choice: ZoneChoice;
}

export interface GuardInput {
  zones: readonly DecidedZone[];
  settings: PrescriptionSettings;
  outside: Rates;
  lostPosition: Rates;
  /** Shortest zone the system can follow, and the speed that makes it so. */
  shortestM: number;
  speedMetresPerSecond: number;
  writing: Writing;
}

/** Limits on the loads; those on the ground come from its drawing. */
export function loadGuards(input: GuardInput): Guard[] {
  return [
    moistureGuard(input),
    stepGuard(input),
    limitsGuard(input),
    wholeStepsGuard(input),
    forceStepGuard(input),
    barLiftGuard(input),
    lengthGuard(input),
    defaultsGuard(input),
  ];
}

function forceOf({ writing }: GuardInput) {
  return (newtons: number): string => formatQuantity(newtons, "force", writing);
}

function named(zones: readonly DecidedZone[]): string {
  return zones.map(({ zone }) => zone.evidence.name).join(", ");
}

function moistureGuard({ settings }: GuardInput): Guard {
  const others = ["dry", "fit", "damp"].filter((state) => state !== settings.moisture);
  return {
    code: "moisture",
    result: "kept",
    words: `These loads are for ${groundWords(settings.moisture)}. Squeeze and dig on the day; on ${others.join(" or ")} ground take the number for it. Soil that moulds like putty means wait.`,
  };
}

/** Zones whose best load lies farther from today's than the largest step, among those that change. */
function stepGuard(input: GuardInput): Guard {
  const { zones, settings } = input;
  const force = forceOf(input);
  const { largestStepN, moisture, rateStepN } = settings;
  const step = ({ choice }: DecidedZone): number =>
    choice.today ? Math.abs(choice.prescribedN[moisture] - choice.today.meanN) : 0;
  const allowed = ({ choice }: DecidedZone): number =>
    choice.today !== null && choice.prescribedN[moisture] < choice.today.meanN
      ? downStep(settings, moisture)
      : largestStepN;
  const beyond = zones.filter((zone) => step(zone) > allowed(zone) + rateStepN / 2);
  const held = zones.filter(
    ({ zone, choice }) =>
      choice.outcome === "change" &&
      choice.today !== null &&
      choice.limited &&
      Math.abs(zone.best[moisture].targetN - choice.today.meanN) > allowed({ zone, choice }),
  );
  const rule = `No zone moves more than ${force(largestStepN)} from today's load in one season${moisture === "damp" ? `, or ${force(downStep(settings, moisture))} down on damp ground` : ""}`;
  const code = "largest-step";
  if (beyond.length > 0)
    return {
      code,
      result: "refused",
      words: `${rule}, but ${named(beyond)} does: today's load there lies outside your smallest and largest load, which are kept. Dig there first of all.`,
    };
  return {
    code,
    result: held.length > 0 ? "changed" : "kept",
    words: held.length > 0 ? `${rule}; this holds ${named(held)}.` : `${rule}.`,
  };
}

function limitsGuard(input: GuardInput): Guard {
  const { zones, settings, writing } = input;
  const force = forceOf(input);
  const { minimumMarginN, maximumMarginN, moisture, rateStepN } = settings;
  const isOutside = (load: number): boolean =>
    load < minimumMarginN - rateStepN / 2 || load > maximumMarginN + rateStepN / 2;
  const today = zones.filter(
    ({ choice }) => choice.outcome !== "change" && choice.today !== null && isOutside(choice.today.meanN),
  );
  const wanted = zones.filter(
    ({ zone, choice }) => choice.outcome === "change" && isOutside(zone.best[moisture].targetN),
  );
  const rule = `Every load that changes stays within ${formatNumber(minimumMarginN, "force", writing)} to ${force(maximumMarginN)}`;
  const said = [
    wanted.length > 0 ? `this holds ${named(wanted)}` : "",
    today.length > 0
      ? `today's load lies outside on ${named(today)} and stays where nothing within promises more`
      : "",
  ].filter(Boolean);
  return {
    code: "smallest-largest",
    result: said.length > 0 ? "changed" : "kept",
    words: `${[rule, ...said].join("; ")}.`,
  };
}

function wholeStepsGuard(input: GuardInput): Guard {
  return {
    code: "whole-steps",
    result: "kept",
    words: `Every load is a whole multiple of ${forceOf(input)(input.settings.rateStepN)}.`,
  };
}

/** A load may be a small step from today's and still ask a large one of the force: on ground in another state. */
function forceStepGuard(input: GuardInput): Guard {
  const { zones, settings } = input;
  const force = forceOf(input);
  const { moisture, largestStepN } = settings;
  const held = zones.filter(({ choice }) =>
    isForceHeld(choice.prescribedN[moisture], choice.logged, settings),
  );
  const rule = `No added force moves more than ${force(largestStepN)} from today's${moisture === "damp" ? `, or ${force(downStep(settings, moisture))} down on damp ground` : ""}, nor to zero or below`;
  return {
    code: "force-step",
    result: held.length > 0 ? "changed" : "kept",
    words:
      held.length > 0
        ? `${rule}; this holds ${named(held)} on ${groundWords(moisture)}: the wheels there carry another load than the one aimed for, as the formula shows. Dig there, and take the rest in further steps.`
        : `${rule}.`,
  };
}

function barLiftGuard(input: GuardInput): Guard {
  const { zones, settings } = input;
  const force = forceOf(input);
  const { usableWeight, moisture } = settings;
  const code = "bar-lift";
  const forces = zones.map(({ choice }) => choice.today?.forceN ?? null);
  if (!usableWeight)
    return {
      code,
      result: "unchecked",
      words:
        "Whether the added force lifts the bar is not checked: the weight that centre and wings can spare at the least fill is not known, and none is assumed. Weigh them, or watch the wings with boxes nearly empty.",
    };
  if (forces.every((value) => value === null))
    return {
      code,
      result: "unchecked",
      words: "Whether the added force lifts the bar is not checked: the log has no added force.",
    };
  const largest = largestForce(settings)!;
  const over = zones.filter(({ choice }) => (choice.today?.forceN ?? 0) > largest);
  const capped = zones.filter(({ zone, choice }) => {
    const { today } = choice;
    return (
      choice.outcome === "change" &&
      today !== null &&
      zone.best[moisture].targetN > liftCap(today.meanN, today.forceN, settings) &&
      choice.prescribedN[moisture] + settings.rateStepN > liftCap(today.meanN, today.forceN, settings)
    );
  });
  const { centreRowUnits, centreN, wingRowUnits, wingN } = usableWeight;
  const rule = `At the least fill the centre spares ${force(centreN)} for ${centreRowUnits} row units, a wing ${force(wingN)} for ${wingRowUnits}: at most ${force(largest)} added to each`;
  if (over.length > 0)
    return {
      code,
      result: "refused",
      words: `${rule}. Today's added force is more than that on ${named(over)}; nothing is raised there. Add weight or keep the boxes filled.`,
    };
  return {
    code,
    result: capped.length > 0 ? "changed" : "kept",
    words: capped.length > 0 ? `${rule}; this holds back ${named(capped)}.` : `${rule}.`,
  };
}

function lengthGuard({ settings, shortestM, speedMetresPerSecond, writing }: GuardInput): Guard {
  return {
    code: "zone-length",
    result: "kept",
    words: `The system takes ${settings.lagS} s to follow; at ${formatQuantity(speedMetresPerSecond, "speed", writing)} a zone is asked to be at least three times that long in travel, ${formatQuantity(shortestM, "length", writing)}.`,
  };
}

function defaultsGuard(input: GuardInput): Guard {
  const force = forceOf(input);
  return {
    code: "defaults",
    result: "kept",
    words: `Outside the boundary ${force(input.outside.marginN)} is sent, on lost position ${force(input.lostPosition.marginN)}; never zero.`,
  };
}
