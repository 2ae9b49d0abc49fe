/** Why a zone has its number, in plain words. */
import { START_LOADS, startLoads } from "../compare/thresholds.ts";
import { formatNumber, formatQuantity, groupThousands } from "../quantities/format.ts";
import type { Writing } from "../texts/language.ts";
import type { Moisture } from "../vocabulary/moisture.ts";
import { groundWords } from "./channel.ts";
import { hasEvidence, type LearntZone, type ZoneChoice } from "./decide.ts";
import { LIMITS } from "./limits.ts";
import type { PrescriptionSettings } from "./prescription.ts";
import { downStep } from "./steps.ts";

/** A few sentences: how it ran, what the counts say, what follows. */
export function reasonWords(
  zone: LearntZone,
  choice: ZoneChoice,
  settings: PrescriptionSettings,
  editN: number | null,
  writing: Writing,
): string {
  const force = (newtons: number): string => formatQuantity(newtons, "force", writing);
  const { evidence, heldBackBy } = zone;
  const { today, outcome } = choice;
  if (!today) return `The log has no load of this ground. ${startWords(zone, settings.moisture, writing)}`;
  if (outcome === "held-back")
    return `Held back, today's ${force(today.meanN)} stays: ${heldBackBy.map(({ words }) => words).join("; ")}.`;
  if (!hasEvidence(evidence)) {
    const few = `${countsWords(evidence.spots?.marginN.length ?? 0)} here that speak of load (${LIMITS.fewestSpots.value} are needed)`;
    const what =
      editN === null ? `today's ${force(today.meanN)} stays` : handWords(choice, settings, writing);
    return `${few}: ${what}. ${startWords(zone, settings.moisture, writing)}`;
  }
  return [
    ...(evidence.place === null ? [] : [`The place of ${evidence.place}, with a load of its own.`]),
    ranWords(zone, choice, settings.moisture, writing),
    countedWords(zone, settings.moisture, writing),
    editN === null
      ? outcomeWords(zone, choice, settings, writing)
      : `Set by hand: ${gainWords(choice, settings.moisture, writing)}.`,
  ].join(" ");
}

function handWords(choice: ZoneChoice, { moisture }: PrescriptionSettings, writing: Writing): string {
  return `${formatQuantity(choice.prescribedN[moisture], "force", writing)} is set by hand`;
}

function startWords({ evidence }: LearntZone, state: Moisture, writing: Writing): string {
  const isSand = evidence.texture === "sand";
  const { practice, classes } = START_LOADS[state];
  return `Starting point on ${groundWords(state)}, our judgement: ${rangeWords(startLoads(state, isSand), writing)} (${rangeWords(practice, writing)} from practice, ${rangeWords(isSand ? START_LOADS.sand.classes : classes, writing)} by published load classes${isSand ? " on sand" : ""}); try it on a strip first.`;
}

function ranWords(
  { evidence }: LearntZone,
  { today, logged }: ZoneChoice,
  picked: Moisture,
  writing: Writing,
): string {
  const force = (newtons: number): string => formatQuantity(newtons, "force", writing);
  const from = {
    dug: " (dug)",
    "rain before planting": " (by the rain before planting)",
    none: " (assumed)",
  }[evidence.moistureFrom];
  const other = logged && logged !== today ? `, and at ${force(logged.meanN)} where it was ${picked}` : "";
  return `Ran at ${force(today!.meanN)}, a tenth of it below ${force(today!.p10N)}, on ${groundWords(evidence.moisture)}${from}${other}.`;
}

function countedWords({ evidence, best }: LearntZone, picked: Moisture, writing: Writing): string {
  const { targetN, lowN, highN } = best[picked];
  const count = countsWords(evidence.spots!.marginN.length);
  const at = rangeWords(evidence.marginRangeN!, writing);
  if (!evidence.informative)
    return `${count} at loads too much alike to learn from (${at}): the starting point on ${groundWords(picked)} is used, ${rangeWords([lowN, highN], writing)}, our judgement.`;
  const moved =
    picked === evidence.moisture
      ? ""
      : `, carried over from ${groundWords(evidence.moisture)} by the starting bands (our judgement)`;
  return `${count} at loads of ${at} put the best on ${groundWords(picked)} at about ${formatQuantity(targetN, "force", writing)}, with ${rangeWords([lowN, highN], writing)} as good within 0.3 plants in 100${moved}.`;
}

function outcomeWords(
  zone: LearntZone,
  choice: ZoneChoice,
  settings: PrescriptionSettings,
  writing: Writing,
): string {
  const { evidence } = zone;
  const { moisture: picked } = settings;
  if (choice.outcome === "keep") {
    const { lowN, highN } = zone.best[picked];
    const todayN = choice.today!.meanN;
    const isInside = todayN > lowN - settings.rateStepN && todayN < highN + settings.rateStepN;
    if (evidence.todayIn[picked] || picked === evidence.moisture || !isInside)
      return `No other load within the limits promises ${pointsWords(LIMITS.worthChanging.value, writing)} plants in 100 more: today's is kept.`;
    return `Today's load is kept: it lies within that range.`;
  }
  const why = choice.followsGround
    ? `today's load lies outside that range and moves towards it`
    : choice.limited
      ? limitWords(zone, choice, settings, writing)
      : "that load is taken";
  return `${why[0]!.toUpperCase()}${why.slice(1)}: ${gainWords(choice, picked, writing)}.`;
}

function limitWords(
  zone: LearntZone,
  { prescribedN, today }: ZoneChoice,
  settings: PrescriptionSettings,
  writing: Writing,
): string {
  const force = (newtons: number): string => formatQuantity(newtons, "force", writing);
  const { largestStepN, minimumMarginN, maximumMarginN, moisture, rateStepN } = settings;
  const loadN = prescribedN[moisture];
  const { targetN } = zone.best[moisture];
  if (targetN > loadN && loadN > maximumMarginN - rateStepN)
    return `held at your largest load of ${force(maximumMarginN)}`;
  if (targetN < loadN && loadN < minimumMarginN + rateStepN)
    return `held at your smallest load of ${force(minimumMarginN)}`;
  const stepN = loadN < today!.meanN ? downStep(settings, moisture) : largestStepN;
  if (Math.abs(loadN - today!.meanN) > stepN - rateStepN)
    return `the step is held to ${force(stepN)} this season`;
  return loadN < targetN && prescribedN.damp === prescribedN.fit
    ? "held to the load of the ground beside it in dryness"
    : "held by the other limits";
}

/** "expected 1.9 plants in 100 more than with last spring's loads (0.7 to 3.2, 90 % interval)" */
function gainWords({ gain, followsGround }: ZoneChoice, picked: Moisture, writing: Writing): string {
  if (!gain) return "what it does is not known";
  const { estimate, low, high, level } = gain;
  const than = followsGround ? `today's load on ${groundWords(picked)}` : "last spring's loads";
  const way = estimate < 0 ? "fewer" : "more";
  const [a, b] = estimate < 0 ? [-high, -low] : [low, high];
  return `expected ${pointsWords(Math.abs(estimate), writing)} plants in 100 ${way} than with ${than} (${pointsWords(a, writing)} to ${pointsWords(b, writing)}, ${Math.round(100 * level)} % interval)`;
}

function pointsWords(share: number, writing: Writing): string {
  return groupThousands((100 * share).toFixed(1), writing.locale);
}

function countsWords(count: number): string {
  return count === 0 ? "No counts" : count === 1 ? "1 count" : `${count} counts`;
}

function rangeWords([low, high]: readonly [number, number], writing: Writing): string {
  return `${formatNumber(low, "force", writing)} to ${formatQuantity(high, "force", writing)}`;
}
