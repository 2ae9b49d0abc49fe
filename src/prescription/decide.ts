/** The load of one soil zone: learnt response, best load for each state of the ground, and what is prescribed. */
import { MARGIN_BANDS } from "../compare/thresholds.ts";
import type { TodaysLoad, ZoneEvidence } from "./evidence.ts";
import { type HoldBack, holdBack } from "./hold-back.ts";
import { bandShiftN, LIMITS, responsePrior } from "./limits.ts";
import {
  type EvidenceGrade,
  type GainEstimate,
  type MarginTarget,
  MOISTURES,
  type Moisture,
  type Outcome,
  type PrescriptionSettings,
} from "./prescription.ts";
import { bestTarget, gainOf, type LoadShares, learnResponse, type Posterior } from "./response.ts";
import { liftCap, limitedLoad, wholeStep } from "./steps.ts";

/** What a zone taught, before any setting of the user. */
export interface LearntZone {
  evidence: ZoneEvidence;
  heldBackBy: HoldBack[];
  best: Record<Moisture, MarginTarget>;
  /** Response in a state: of loads shifted by `shiftN` into the state it was learnt in. */
  response: Record<Moisture, { posterior: Posterior; shiftN: number }>;
}

export interface ZoneChoice {
  outcome: Outcome;
  grade: EvidenceGrade;
  prescribedN: Record<Moisture, number>;
  /** Today's load in the picked state. */
  today: TodaysLoad | null;
  /** In the picked state; null where no load is logged. */
  gain: GainEstimate | null;
  /** True where limits stopped the picked load short of the best range. */
  limited: boolean;
}

/** Learns a zone's response; the costly part, the same for all settings. */
export function learnZone(evidence: ZoneEvidence): LearntZone {
  const { texture, moisture, informative, spots } = evidence;
  const learnt = informative ? learnResponse(responsePrior(texture, moisture), spots) : null;
  const target = learnt && bestTarget(learnt);
  const response = {} as LearntZone["response"];
  const best = {} as LearntZone["best"];
  for (const state of MOISTURES) {
    if (learnt && target) {
      const shiftN = bandShiftN(state, moisture);
      response[state] = { posterior: learnt, shiftN };
      best[state] = shifted(target, -shiftN);
    } else {
      const posterior = learnResponse(responsePrior(texture, state), null);
      response[state] = { posterior, shiftN: 0 };
      best[state] = startingPoint(bestTarget(posterior), state);
    }
  }
  return { evidence, heldBackBy: holdBack(evidence), best, response };
}

/** Today's load for a state: of the ground planted in it, else of the whole zone. */
export function todayFor({ today, todayIn }: ZoneEvidence, state: Moisture): TodaysLoad | null {
  return todayIn[state] ?? today;
}

/** Expected gain of a target over today's loads in a state. */
export function expectedGain(zone: LearntZone, state: Moisture, targetN: number): GainEstimate | null {
  const today = todayFor(zone.evidence, state);
  if (!today) return null;
  const { posterior, shiftN } = zone.response[state];
  return gainOf(posterior, targetN + shiftN, shiftedShares(today.shares, shiftN));
}

/**
 * Decides a zone's loads. Today's load is kept where another does not promise more than 0.2 points, where the zone is
 * held back, and where nothing was counted.
 */
export function chooseLoads(
  zone: LearntZone,
  settings: PrescriptionSettings,
  editN: number | null,
): ZoneChoice {
  const { evidence, heldBackBy } = zone;
  const picked = settings.moisture;
  const prescribedN = {} as Record<Moisture, number>;
  const waits = heldBackBy.length > 0 || !hasEvidence(evidence);
  for (const state of MOISTURES) prescribedN[state] = loadFor(zone, settings, state, waits);
  const today = todayFor(evidence, picked);
  if (editN !== null && today && heldBackBy.length === 0)
    prescribedN[picked] = limitedLoad(editN, today.meanN, settings, capOf(today, settings));
  const loadN = prescribedN[picked];
  const changed = today !== null && loadN !== wholeStep(today.meanN, settings.rateStepN);
  // No change has no gain: the same load once more.
  const gain =
    today && (changed ? expectedGain(zone, picked, loadN) : { estimate: 0, low: 0, high: 0, level: 0.9 });
  const { lowN, highN } = zone.best[picked];
  return {
    outcome:
      heldBackBy.length > 0
        ? "held-back"
        : changed
          ? "change"
          : hasEvidence(evidence)
            ? "keep"
            : "no-evidence",
    grade: gradeOf(zone, changed ? gain : expectedGain(zone, picked, zone.best[picked].targetN), changed),
    prescribedN,
    today,
    gain,
    limited: changed && (loadN < lowN - settings.rateStepN || loadN > highN + settings.rateStepN),
  };
}

/** True where the zone's own counts say something: enough of them, wherever its loads lay. */
export function hasEvidence({ spots, today }: ZoneEvidence): boolean {
  return today !== null && spots !== null && spots.marginN.length >= LIMITS.fewestSpots.value;
}

function loadFor(zone: LearntZone, settings: PrescriptionSettings, state: Moisture, waits: boolean): number {
  const today = todayFor(zone.evidence, state);
  const best = zone.best[state].targetN;
  if (!today) return limitedLoad(best, best, settings);
  const keep = wholeStep(today.meanN, settings.rateStepN);
  if (waits) return keep;
  const worth = (targetN: number): boolean =>
    expectedGain(zone, state, targetN)!.estimate > LIMITS.worthChanging.value;
  const wanted = limitedLoad(best, today.meanN, settings, capOf(today, settings));
  return worth(best) && worth(wanted) ? wanted : keep;
}

function capOf({ meanN, forceN }: TodaysLoad, settings: PrescriptionSettings): number {
  return liftCap(meanN, forceN, settings);
}

/** Settled: the interval leaves no doubt which way. Pointing: the counts say so, with doubt. */
function gradeOf({ evidence }: LearntZone, gain: GainEstimate | null, changed: boolean): EvidenceGrade {
  if (!evidence.informative || !gain) return "starting-point";
  const settled = changed ? gain.low > 0 : gain.high < 2 * LIMITS.asGoodAsBest.value;
  return settled ? "settled" : "pointing";
}

/** Before any counts the range is the band of the state of the ground. */
function startingPoint({ targetN }: MarginTarget, state: Moisture): MarginTarget {
  const [lowN, highN] = MARGIN_BANDS[state];
  return { targetN: Math.min(highN, Math.max(lowN, targetN)), lowN, highN };
}

function shifted(target: MarginTarget, byN: number): MarginTarget {
  const move = (load: number): number => Math.max(LIMITS.leastMarginEver.value, load + byN);
  return { targetN: move(target.targetN), lowN: move(target.lowN), highN: move(target.highN) };
}

function shiftedShares({ marginN, share }: LoadShares, byN: number): LoadShares {
  return { marginN: marginN.map((load) => load + byN), share };
}
