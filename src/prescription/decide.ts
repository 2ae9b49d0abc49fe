/** The load of one soil zone: learnt response, best load for each state of the ground, and what is prescribed. */
import { MARGIN_BANDS, startLoads } from "../compare/thresholds.ts";
import { MOISTURES, type Moisture } from "../vocabulary/moisture.ts";
import type { TodaysLoad, ZoneEvidence } from "./evidence.ts";
import { type HoldBack, holdBack } from "./hold-back.ts";
import { bandShiftN, LIMITS, responsePrior } from "./limits.ts";
import { fitNoise } from "./noise.ts";
import {
  type EvidenceGrade,
  type GainEstimate,
  isForceChannel,
  type MarginTarget,
  type Outcome,
  type PrescriptionSettings,
} from "./prescription.ts";
import {
  bestTarget,
  gainOf,
  type LoadShares,
  learnResponse,
  learnResponses,
  meanGain,
  type Posterior,
} from "./response.ts";
import { downStep, liftCap, limitedLoad, wholeStep } from "./steps.ts";

/** What a zone taught, before any setting of the user. */
export interface LearntZone {
  evidence: ZoneEvidence;
  heldBackBy: HoldBack[];
  best: Record<Moisture, MarginTarget>;
  /** Response on the ground as it was planted, from the zone's counts or, where they teach nothing, the prior. */
  posterior: Posterior;
}

export interface ZoneChoice {
  outcome: Outcome;
  grade: EvidenceGrade;
  prescribedN: Record<Moisture, number>;
  /** Today's load, from which steps are measured. */
  today: TodaysLoad | null;
  /** Load logged on ground in the picked state, else today's: with its force, what the soil pushed back. */
  logged: TodaysLoad | null;
  /** In the picked state; null where no load is logged. */
  gain: GainEstimate | null;
  /** True where today's load is kept on the ground it was run on and moves only because the picked ground differs. */
  followsGround: boolean;
  /** True where limits stopped the picked load short of the best. */
  limited: boolean;
}

const NO_GAIN: GainEstimate = { estimate: 0, low: 0, high: 0, level: 0.9 };

/** Rounds of learning the response and fitting the noise to what it leaves. */
const ROUNDS = 2;

/** Learns the zones' responses together; the costly part, the same for all settings. */
export function learnZones(evidence: readonly ZoneEvidence[]): LearntZone[] {
  const toLearn = evidence.map(({ texture, moisture, informative, spots }) => ({
    prior: responsePrior(texture, moisture),
    spots: informative ? spots : null,
  }));
  let posteriors = learnResponses(toLearn);
  for (let round = 1; round < ROUNDS; round++) {
    const fitted = toLearn.flatMap(({ spots }, k) => (spots ? [{ spots, posterior: posteriors[k]! }] : []));
    const covariance = fitNoise(fitted);
    if (!covariance) break;
    for (const zone of toLearn) if (zone.spots) zone.spots = { ...zone.spots, covariance };
    posteriors = learnResponses(toLearn);
  }
  // Zones of one texture start from the same prior.
  const priorTargets = new Map<string, MarginTarget>();
  const priorTarget = (texture: ZoneEvidence["texture"], state: Moisture): MarginTarget => {
    const key = `${texture} ${state}`;
    const target = priorTargets.get(key) ?? bestTarget(learnResponse(responsePrior(texture, state), null));
    priorTargets.set(key, target);
    return target;
  };
  return evidence.map((zone, k) => {
    const posterior = posteriors[k]!;
    const target = zone.informative ? bestTarget(posterior) : null;
    const best = {} as LearntZone["best"];
    for (const state of MOISTURES) {
      best[state] = target
        ? shifted(target, bandShiftN(zone.moisture, state))
        : startingPoint(priorTarget(zone.texture, state), state, zone.texture === "sand");
    }
    return { evidence: zone, heldBackBy: holdBack(zone), best, posterior };
  });
}

/** Today's load of a zone: of the ground most of it was planted in. What steps are measured from. */
export function todayOf({ today, todayIn, moisture }: ZoneEvidence): TodaysLoad | null {
  return todayIn[moisture] ?? today;
}

/** Load logged on ground in a state where the zone had such ground, else today's: what the soil pushed back then. */
export function loggedFor(evidence: ZoneEvidence, state: Moisture): TodaysLoad | null {
  return evidence.todayIn[state] ?? todayOf(evidence);
}

/** What a target is compared with: last spring's loads on the ground they were run on, or run again on this ground. */
type Against = "last spring" | "this ground";

type Picked = Pick<PrescriptionSettings, "channel">;

/**
 * A target in a state and today's loads, both as loads that serve alike on the ground most of the zone was planted
 * in: there the response was learnt. A load channel holds its target; an added force or a pressure moves the loads of
 * the ground as they lay, their spread with them.
 */
function compared(
  { evidence }: LearntZone,
  state: Moisture,
  targetN: number,
  against: Against,
  { channel }: Picked,
) {
  const today = loggedFor(evidence, state);
  if (!today) return null;
  const loggedIn = evidence.todayIn[state] || against === "this ground" ? state : evidence.moisture;
  const toLearntN = bandShiftN(state, evidence.moisture);
  const isForce = isForceChannel(channel) && today.forceN !== null;
  return {
    planned: isForce ? shiftedShares(today.shares, targetN - today.meanN + toLearntN) : targetN + toLearntN,
    today: shiftedShares(today.shares, bandShiftN(loggedIn, evidence.moisture)),
  };
}

/** Expected gain of a target over today's loads in a state. */
function expectedGain(
  zone: LearntZone,
  state: Moisture,
  targetN: number,
  against: Against,
  channel: Picked,
): GainEstimate | null {
  const pair = compared(zone, state, targetN, against, channel);
  return pair && gainOf(zone.posterior, pair.planned, pair.today);
}

/**
 * Decides a zone's loads. Today's load is kept where another does not promise more than 0.2 points, where the zone is
 * held back, where too little was counted, and where what the limits leave promises less than nothing; what is changed
 * lies within the user's limits always, and never higher on damper ground.
 * @param stays true where what the files can carry would do harm: today's load is kept
 */
export function chooseLoads(
  zone: LearntZone,
  settings: PrescriptionSettings,
  editN: number | null,
  stays = false,
): ZoneChoice {
  const { evidence, heldBackBy } = zone;
  const picked = settings.moisture;
  const known = hasEvidence(evidence);
  const waits = heldBackBy.length > 0 || !known;
  const today = todayOf(evidence);
  const prescribedN = {} as Record<Moisture, number>;
  for (const state of MOISTURES) prescribedN[state] = loadFor(zone, settings, state, waits);
  const edited = editN !== null && today !== null && heldBackBy.length === 0;
  if (edited)
    prescribedN[picked] = limitedLoad(
      editN,
      today.meanN,
      settings,
      capOf(today, settings),
      downStep(settings, picked),
    );
  const asDecided = { ...prescribedN };
  riseWithDryness(prescribedN, edited ? picked : evidence.moisture);
  const keptN = today === null ? null : wholeStep(today.meanN, settings.rateStepN);
  const follows = (): boolean =>
    keptN !== null &&
    evidence.todayIn[picked] === undefined &&
    picked !== evidence.moisture &&
    prescribedN[evidence.moisture] === keptN;
  const against = (): Against => (follows() ? "this ground" : "last spring");
  // Never worse by its own reckoning: what is not set by hand and promises less than nothing is left as it is.
  const promised = (): GainEstimate | null =>
    expectedGain(zone, picked, prescribedN[picked], against(), settings);
  if (keptN !== null && !edited && prescribedN[picked] !== keptN && (stays || promised()!.estimate < 0)) {
    Object.assign(prescribedN, asDecided, { [picked]: keptN });
    riseWithDryness(prescribedN, picked);
  }
  const loadN = prescribedN[picked];
  const changed = keptN !== null && loadN !== keptN;
  const followsGround = follows();
  const { targetN } = zone.best[picked];
  // The same load once more gains nothing.
  const gain = today && (changed ? promised() : NO_GAIN);
  return {
    outcome:
      heldBackBy.length > 0 ? "held-back" : known || edited ? (changed ? "change" : "keep") : "no-evidence",
    grade: gradeOf(
      evidence,
      changed,
      changed ? gain : expectedGain(zone, picked, targetN, against(), settings),
    ),
    prescribedN,
    today,
    logged: loggedFor(evidence, picked),
    gain,
    followsGround,
    limited: changed && !followsGround && Math.abs(loadN - targetN) >= settings.rateStepN,
  };
}

/** Gain of a load that is really sent on some ground of the zone; nothing where that is today's once more. */
export function sentGain(
  zone: LearntZone,
  { today, followsGround }: Pick<ZoneChoice, "today" | "followsGround">,
  sentN: number,
  settings: Pick<PrescriptionSettings, "moisture" | "rateStepN" | "channel">,
): GainEstimate | null {
  const { moisture, rateStepN } = settings;
  if (today === null) return null;
  if (Math.abs(sentN - wholeStep(today.meanN, rateStepN)) < rateStepN / 2) return NO_GAIN;
  return expectedGain(zone, moisture, sentN, followsGround ? "this ground" : "last spring", settings);
}

/** Drier ground never gets less load than damper ground; the load of one state stands, the others give way. */
export function riseWithDryness(loads: Record<Moisture, number>, stands: Moisture): void {
  if (stands === "damp") loads.fit = Math.max(loads.fit, loads.damp);
  if (stands === "dry") loads.fit = Math.min(loads.fit, loads.dry);
  if (stands !== "damp") loads.damp = Math.min(loads.damp, loads.fit);
  if (stands !== "dry") loads.dry = Math.max(loads.dry, loads.fit);
}

/** True where the zone's own counts say something: enough of them, wherever its loads lay. */
export function hasEvidence({ spots, today }: ZoneEvidence): boolean {
  return today !== null && spots !== null && spots.marginN.length >= LIMITS.fewestSpots.value;
}

function loadFor(zone: LearntZone, settings: PrescriptionSettings, state: Moisture, waits: boolean): number {
  const { evidence, best, posterior } = zone;
  const today = todayOf(evidence);
  const { targetN, lowN, highN } = best[state];
  if (!today) return limitedLoad(targetN, targetN, settings);
  const limited = (wantedN: number): number =>
    limitedLoad(wantedN, today.meanN, settings, capOf(today, settings), downStep(settings, state));
  // What is kept is kept as it is, also where it lies outside the limits: they bind what is changed.
  const keep = wholeStep(today.meanN, settings.rateStepN);
  if (waits) return keep;
  if (evidence.todayIn[state] || state === evidence.moisture) {
    const worth = (loadN: number): boolean => {
      const pair = compared(zone, state, loadN, "last spring", settings)!;
      return meanGain(posterior, pair.planned, pair.today) > LIMITS.worthChanging.value;
    };
    return worth(targetN) && worth(limited(targetN)) ? limited(targetN) : keep;
  }
  // Ground it was not planted in: what was changed follows the bands, what was kept stays where its range allows.
  if (loadFor(zone, settings, evidence.moisture, waits) !== keep) return limited(targetN);
  const slack = settings.rateStepN / 2;
  if (today.meanN >= lowN - slack && today.meanN <= highN + slack) return keep;
  const moved = limited(today.meanN < lowN ? lowN : highN);
  const pair = compared(zone, state, moved, "this ground", settings)!;
  return meanGain(posterior, pair.planned, pair.today) > 0 ? moved : keep;
}

function capOf({ meanN, forceN }: TodaysLoad, settings: PrescriptionSettings): number {
  return liftCap(meanN, forceN, settings);
}

/** Settled: the interval leaves no doubt which way. Pointing: the counts say so, with doubt. */
function gradeOf(evidence: ZoneEvidence, changed: boolean, gain: GainEstimate | null): EvidenceGrade {
  if (!evidence.informative || !gain) return "starting-point";
  const settled = changed ? gain.low > 0 : gain.high < 2 * LIMITS.asGoodAsBest.value;
  return settled ? "settled" : "pointing";
}

/** Before any counts the load is that of practice for the state of the ground, the range what either origin allows. */
function startingPoint({ targetN }: MarginTarget, state: Moisture, isSand: boolean): MarginTarget {
  const [least, most] = MARGIN_BANDS[state];
  const [lowN, highN] = startLoads(state, isSand);
  return { targetN: Math.min(most, Math.max(least, targetN)), lowN, highN };
}

function shifted(target: MarginTarget, byN: number): MarginTarget {
  const move = (load: number): number => Math.max(LIMITS.leastMarginEver.value, load + byN);
  return { targetN: move(target.targetN), lowN: move(target.lowN), highN: move(target.highN) };
}

function shiftedShares({ marginN, share }: LoadShares, byN: number): LoadShares {
  return { marginN: marginN.map((load) => load + byN), share };
}
