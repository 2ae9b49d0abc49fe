/** Why a zone has its number, in plain words. */
import { MARGIN_BANDS } from "../compare/thresholds.ts";
import { formatNumber, formatQuantity, type UnitSystem } from "../format.ts";
import { groundWords } from "./channel.ts";
import { hasEvidence, type LearntZone, type ZoneChoice } from "./decide.ts";
import { leftOutWords } from "./hold-back.ts";
import { LIMITS } from "./limits.ts";
import type { GainEstimate, Moisture, PrescriptionSettings } from "./prescription.ts";

/** The sentences that give the reason, joined. */
export function reasonWords(
  zone: LearntZone,
  choice: ZoneChoice,
  settings: PrescriptionSettings,
  editN: number | null,
  units: UnitSystem,
): string {
  const force = (newtons: number): string => formatQuantity(newtons, "force", units);
  const { evidence } = zone;
  const { moisture: picked } = settings;
  const today = choice.today ? force(choice.today.meanN) : "nothing logged";
  const loadN = choice.prescribedN[picked];
  const sentences: string[] = [];
  if (choice.outcome === "held-back") {
    sentences.push(
      `Held back: today's ${today} stays until this is settled: ${zone.heldBackBy.map(({ words }) => words).join("; ")}.`,
    );
    return sentences.join(" ");
  }
  if (editN !== null) sentences.push(`Set by hand to ${force(loadN)}.`);
  if (!hasEvidence(evidence)) {
    sentences.push(
      choice.today
        ? `${countsWords(evidence.spots?.marginN.length ?? 0)} here that speak of load (${LIMITS.fewestSpots.value} are needed): today's ${today} stays.`
        : "The log has no load of this ground.",
      `Starting point on ${groundWords(picked)}, our judgement: ${bandWords(picked, units)}; try it on a strip first.`,
    );
  } else {
    sentences.push(...learntWords(zone, choice, settings, editN, units));
  }
  sentences.push(leftOutWords(evidence));
  return sentences.filter((sentence) => sentence !== "").join(" ");
}

function learntWords(
  zone: LearntZone,
  choice: ZoneChoice,
  settings: PrescriptionSettings,
  editN: number | null,
  units: UnitSystem,
): string[] {
  const force = (newtons: number): string => formatQuantity(newtons, "force", units);
  const { evidence, best } = zone;
  const picked = settings.moisture;
  const { targetN, lowN, highN } = best[picked];
  const today = choice.today!;
  const loadN = choice.prescribedN[picked];
  const range = `${formatNumber(lowN, "force", units)} to ${force(highN)}`;
  const ran = `Ran at ${force(today.meanN)} (a tenth of it below ${force(today.p10N)}), ${loggedWords(zone)}.`;
  const sentences = [ran];
  const count = evidence.spots!.marginN.length;
  if (evidence.informative) {
    sentences.push(
      `${countsWords(count)} at loads of ${rangeWords(evidence.marginRangeN!, units)} put the best on ${groundWords(picked)} at about ${force(targetN)}; ${range} is as good within 0.3 stand points.`,
    );
    if (picked !== evidence.moisture)
      sentences.push(
        `Learnt on ${groundWords(evidence.moisture)} and moved to ${groundWords(picked)} by what lies between their starting bands, our judgement.`,
      );
  } else {
    sentences.push(
      `${countsWords(count)}, but at loads too much alike to learn from (${rangeWords(evidence.marginRangeN!, units)}): the starting point on ${groundWords(picked)} is used, ${bandWords(picked, units)}, our judgement.`,
    );
  }
  if (choice.outcome === "keep") {
    sentences.push(editN === null ? keptWords(zone, picked, units) : "That is today's load.");
    return sentences;
  }
  if (editN === null && choice.followsGround)
    sentences.push(
      `On ${groundWords(evidence.moisture)} today's ${force(today.meanN)} is kept; on ${groundWords(picked)} it lies outside the range and moves towards it.`,
    );
  if (editN === null && choice.limited)
    sentences.push(limitWords(loadN, today.meanN, targetN, settings, units));
  if (choice.gain) sentences.push(gainWords(choice.gain, choice.followsGround, picked));
  return sentences;
}

function keptWords({ evidence, best }: LearntZone, picked: Moisture, units: UnitSystem): string {
  if (evidence.todayIn[picked] || picked === evidence.moisture)
    return `No other load promises ${pointsWords(LIMITS.worthChanging.value)} stand points more than today's: kept.`;
  return `Kept on ${groundWords(evidence.moisture)}, and within the range on ${groundWords(picked)} (${rangeWords([best[picked].lowN, best[picked].highN], units)}).`;
}

function limitWords(
  loadN: number,
  todayN: number,
  targetN: number,
  settings: PrescriptionSettings,
  units: UnitSystem,
): string {
  const force = (newtons: number): string => formatQuantity(newtons, "force", units);
  const { largestStepN, minimumMarginN, maximumMarginN } = settings;
  if (
    Math.abs(targetN - todayN) > largestStepN &&
    Math.abs(loadN - todayN) > largestStepN - settings.rateStepN
  )
    return `The step is held to ${force(largestStepN)} this season, so ${force(loadN)} it is: dig, count, and go on from there.`;
  if (targetN > maximumMarginN && loadN >= maximumMarginN - settings.rateStepN)
    return `Your largest load is ${force(maximumMarginN)}.`;
  if (targetN < minimumMarginN && loadN <= minimumMarginN + settings.rateStepN)
    return `Your smallest load is ${force(minimumMarginN)}.`;
  return `The weight of the bar holds down no more than ${force(loadN)} here.`;
}

/** "Expected: 1.9 stand points more than with last spring's loads (0.7 to 3.2, 90 % interval)." */
function gainWords(
  { estimate, low, high, level }: GainEstimate,
  followsGround: boolean,
  picked: Moisture,
): string {
  const than = followsGround ? `today's load on ${groundWords(picked)}` : "last spring's loads";
  const way = estimate < 0 ? "fewer" : "more";
  const [a, b] = estimate < 0 ? [-high, -low] : [low, high];
  return `Expected: ${pointsWords(Math.abs(estimate))} stand points ${way} than with ${than} (${pointsWords(a)} to ${pointsWords(b)}, ${Math.round(100 * level)} % interval).`;
}

function pointsWords(share: number): string {
  return (100 * share).toFixed(1).replace(/^-0\.0$/, "0.0");
}

function countsWords(count: number): string {
  return count === 0 ? "No counts" : count === 1 ? "1 count" : `${count} counts`;
}

function rangeWords([low, high]: readonly [number, number], units: UnitSystem): string {
  return `${formatNumber(low, "force", units)} to ${formatQuantity(high, "force", units)}`;
}

function bandWords(state: Moisture, units: UnitSystem): string {
  return rangeWords(MARGIN_BANDS[state], units);
}

function loggedWords({ evidence }: LearntZone): string {
  const ground = `planted mostly on ${groundWords(evidence.moisture)}`;
  return evidence.moistureFrom === "none"
    ? `on ground taken as ${evidence.moisture}`
    : `${ground} (${evidence.moistureFrom === "dug" ? "dug" : "by the rain before planting"})`;
}
