/** The loads of all zones decided, drawn on the ground, and reckoned again by what is really sent. */
import type { Analysis } from "../findings/analysis.ts";
import { channelOf, ratesFor, type TodaysPair } from "../prescription/channel.ts";
import type { CutZones } from "../prescription/cut-places.ts";
import { chooseLoads, type LearntZone, riseWithDryness, type ZoneChoice } from "../prescription/decide.ts";
import { NO_SOIL_ZONE } from "../prescription/evidence.ts";
import type { DecidedZone } from "../prescription/guards.ts";
import { LIMITS } from "../prescription/limits.ts";
import type {
  Channel,
  GainEstimate,
  PrescriptionSettings,
  RateZone,
  ZoneDecision,
} from "../prescription/prescription.ts";
import { reasonWords } from "../prescription/reason.ts";
import { wholeStep } from "../prescription/steps.ts";
import type { LoadPhysics } from "../quantities/load-physics.ts";
import type { Writing } from "../texts/language.ts";
import { drawnLoads, drawnNumber, ratesOnGround, usualHeading } from "./ground-loads.ts";
import { drawRateZones } from "./rate-zones.ts";
import { sentOn } from "./sent-loads.ts";
import { zonesOf } from "./zones-of-soil.ts";

export type Made = DecidedZone & { decision: ZoneDecision; sent: GainEstimate | null };

/** Ground a soil map leaves out is too small a matter for a card of its own where it is a sliver. */
export function isShown({ zone }: DecidedZone, { smallestAreaHa }: PrescriptionSettings): boolean {
  return zone.evidence.name !== NO_SOIL_ZONE || zone.evidence.areaHa >= smallestAreaHa;
}

/** Decides, draws, and reckons the gain of what is really sent on each soil zone and place. */
export function drawLoads(
  { analysis, physics }: { analysis: Analysis; physics: LoadPhysics },
  { zones, places }: Pick<CutZones, "zones" | "places">,
  usual: TodaysPair,
  full: PrescriptionSettings,
  editOf: (zone: LearntZone) => number | null,
  stays: ReadonlySet<LearntZone>,
  writing: Writing,
) {
  const { field, outline } = analysis;
  const chosen = zones.map((zone) => ({
    zone,
    choice: chooseLoads(zone, full, editOf(zone), stays.has(zone)),
  }));
  const isFlat = full.flat && chosen.every(({ choice }) => choice.outcome !== "change");
  const usualN = wholeStep(usual.meanN, full.rateStepN);
  if (isFlat) for (const { choice } of chosen) choice.prescribedN[full.moisture] = usualN;
  const elsewhere = chosen.find(({ zone }) => zone.evidence.zone === -1) ?? null;
  const insideN = elsewhere?.choice.prescribedN[full.moisture] ?? usualN;
  const insideToday = isFlat ? usual : (elsewhere?.choice.logged ?? usual);
  const defaults = {
    inside: ratesFor(insideN, insideToday, full),
    outside: ratesFor(wholeStep(full.outsideMarginN ?? usualN, full.rateStepN), usual, full),
    lostPosition: ratesFor(wholeStep(full.lostPositionMarginN ?? usualN, full.rateStepN), usual, full),
  };
  const channel = channelOf(
    chosen
      .filter((zone) => isShown(zone, full))
      .map(({ zone, choice }) => ({
        soilZone: zone.evidence.name,
        prescribedN: choice.prescribedN[full.moisture],
        today: isFlat && usual.forceN !== null ? { ...choice.logged!, ...usual } : choice.logged,
      })),
    full,
    writing,
    { forceRefusal: physics.refusal.force, rowUnits: field.planter.rowUnits },
  );
  const speed = usualSpeed(analysis);
  const shortestM = LIMITS.lagsInZone.value * full.lagS * speed;
  const loads = isFlat
    ? { soilZones: {}, elsewhere: drawnLoads([], defaults.inside, full, channel.quantity).elsewhere }
    : drawnLoads(chosen, defaults.inside, full, channel.quantity);
  const drawn = drawRateZones(
    {
      outline,
      soilZones: field.soilZones,
      places,
      swathWidthM: analysis.parts.swathWidthM,
      headingDeg: usualHeading(analysis.passes.passes),
    },
    loads,
    { ...full, shortestM },
    writing,
  );
  const rateZones = drawn.zones.map((zone) =>
    ratesOnGround(zone, isFlat ? [] : chosen, defaults.inside, full, channel.quantity),
  );
  const all = chosen.map((entry): Made => {
    const sent = sentOn(entry, drawn.zones, rateZones, channel.quantity, full);
    const drawnChoice = { ...entry.choice, gain: sent };
    const choice = isFlat
      ? drawnChoice
      : asSent(drawnChoice, entry.zone.evidence.name, rateZones, full, channel.quantity);
    return {
      ...entry,
      choice,
      sent,
      decision: decisionOf(entry.zone, choice, full, editOf(entry.zone), writing),
    };
  });
  return { all, drawn, zones: rateZones, defaults, channel, speed, shortestM, isFlat };
}

/**
 * The choice with the load that its ground really gets where the drawing moved it: a zone too small for its own, or
 * loads put together.
 */
function asSent(
  choice: ZoneChoice,
  name: string,
  rateZones: readonly RateZone[],
  settings: PrescriptionSettings,
  channel: Channel | null,
): ZoneChoice {
  const { moisture, rateStepN } = settings;
  const own = zonesOf(rateZones, name).zones[0]?.rates;
  const wanted = ratesFor(choice.prescribedN[moisture], choice.logged, settings);
  if (!own || Math.abs(drawnNumber(own, channel) - drawnNumber(wanted, channel)) < rateStepN / 2)
    return choice;
  const prescribedN = { ...choice.prescribedN, [moisture]: own.marginN };
  riseWithDryness(prescribedN, moisture);
  const isToday =
    choice.today !== null && Math.abs(own.marginN - wholeStep(choice.today.meanN, rateStepN)) < rateStepN / 2;
  const { outcome } = choice;
  return {
    ...choice,
    prescribedN,
    outcome: outcome === "change" || outcome === "keep" ? (isToday ? "keep" : "change") : outcome,
    limited: true,
  };
}

/** A zone as decided by itself, before its ground is drawn. */
export function decided(
  zone: LearntZone,
  settings: PrescriptionSettings,
  editN: number | null,
  writing: Writing,
): DecidedZone & { decision: ZoneDecision } {
  const choice = chooseLoads(zone, settings, editN);
  return { zone, choice, decision: decisionOf(zone, choice, settings, editN, writing) };
}

function decisionOf(
  zone: LearntZone,
  choice: ZoneChoice,
  settings: PrescriptionSettings,
  editN: number | null,
  writing: Writing,
): ZoneDecision {
  const { evidence } = zone;
  return {
    soilZone: evidence.name,
    place: evidence.place,
    areaHa: Number(evidence.areaHa.toFixed(3)),
    currentMarginN: choice.today?.meanN ?? null,
    currentMarginP10N: choice.today?.p10N ?? null,
    currentForceN: choice.today?.forceN ?? null,
    loggedMoisture: evidence.moisture,
    loggedMoistureFrom: evidence.moistureFrom,
    outcome: choice.outcome,
    grade: choice.grade,
    best: zone.best,
    prescribedN: choice.prescribedN,
    gainShare: choice.gain,
    evidence: {
      spots: evidence.spots?.marginN.length ?? 0,
      digs: evidence.digs,
      marginRangeN: evidence.marginRangeN,
      informative: evidence.informative,
    },
    heldBackBy: zone.heldBackBy,
    reason: reasonWords(zone, choice, settings, editN, writing),
    lastAdvisedN: null,
    notMended: [],
  };
}

/** Speed of planting, m/s: the target, else the mean logged on passes, else a usual one. */
function usualSpeed({ field, passes }: Analysis): number {
  const target = field.targets.speedMetresPerSecond;
  if (target !== null) return target;
  const { speed } = field.log.values;
  let [sum, count] = [0, 0];
  for (let i = 0; speed && i < speed.length; i++) {
    if (passes.passOf[i] === 0 || Number.isNaN(speed[i]!)) continue;
    sum += speed[i]!;
    count++;
  }
  return count > 0 && sum > 0 ? sum / count : LIMITS.usualSpeed.value;
}
