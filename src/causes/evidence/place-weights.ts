/**
 * The causes of a place that the counts show. The model says how often each term explains most of the loss; digs and weather
 * weigh in; and no cause is held for surer than its kind of evidence bears: a fault that merely lies where plants are missing
 * may be a coincidence, and one loss laid exactly on a harmless departure cannot be told from the harm of it by any counts.
 */
import { FACTORS, type Factor } from "../../cells/predicted-loss.ts";
import { depthCauseCeiling } from "../../field/depth-source.ts";
import type { GroundLoss } from "../../stand-model/posterior.ts";
import type { Cause } from "../../vocabulary/causes.ts";
import type { DepthSource } from "../../vocabulary/field.ts";
import { heldTo } from "./attribution.ts";
import { type GroundSign, groundShare } from "./ground-evidence.ts";

/** Limits of a cause's probability, by what it rests on (our judgement, held against simulated fields). */
export const LIMITS = {
  /** One place where the planting departs and plants are missing. */
  coincidence: 0.89,
  /** The same where only a plain departure or step fits, no published curve. */
  departure: 0.85,
  /** The place follows a border of soils: what the soil does and what the planter did there cannot be told apart. */
  soilBorder: 0.85,
  /** Fewer counts than {@link FEW_COUNTS}. */
  fewCounts: 0.8,
  /** Seed that was not dropped is missing by the arithmetic alone. */
  certain: 0.97,
  /** Ground or weather without digs or a sign of either. */
  groundUnseen: 0.8,
  /** A lot or the end rows beside ground that is short: what else differs there leaves no trace either. */
  partOfField: 0.89,
} as const;
const FEW_COUNTS = 4;
const DEPTH_CAUSES: readonly Cause[] = ["too-shallow", "too-deep", "uneven-depth"];
/** Of what the log does not explain, the part of each cause that only digs can show, once they show it (our judgement). */
const SHARE_SHOWN = 0.2;

export interface PlaceEvidence {
  counts: number;
  signs: readonly GroundSign[];
  followsSoilBorder: boolean;
  /** True where the same factor harms further places of the field. */
  repeated: boolean;
  /** Where the log's depth comes from. */
  depthSource: DepthSource;
  /** Log likelihood of the digs under each cause, relative to nothing in particular being wrong. */
  digSupport: (cause: Cause) => number;
  /** Causes without a trace in the log that the digs show. */
  shownByDigs: readonly Cause[];
}

/** Weights of the causes, summing to 1. */
export function placeWeights(loss: GroundLoss, evidence: PlaceEvidence): Map<Cause, number> {
  const { signs, shownByDigs, digSupport } = evidence;
  let weights = new Map<Cause, number>();
  const add = (cause: Cause, weight: number): void => {
    if (weight > 0) weights.set(cause, (weights.get(cause) ?? 0) + weight);
  };
  const ground = groundShare(signs);
  const shown = SHARE_SHOWN * shownByDigs.length;
  for (const [key, share] of loss.leading) {
    const [kind, name] = [key.split(" ")[0], key.slice(key.indexOf(" ") + 1)];
    if (kind === "factor") add(name as Factor, share);
    else if (kind === "seed-lot") add("seed-lot", share);
    else if (kind === "end-rows") add("wheel-traffic", share);
    else {
      for (const cause of shownByDigs) add(cause, SHARE_SHOWN * share);
      add("soil-or-weather", (1 - shown) * ground * share);
      add("not-in-the-log", (1 - shown) * (1 - ground) * share);
    }
  }
  if (weights.size === 0) add("not-in-the-log", 1);
  for (const [cause, weight] of weights) weights.set(cause, weight * Math.exp(digSupport(cause)));
  for (const cause of [...weights.keys()])
    weights = heldTo(weights, cause, limitOf(cause, loss, evidence), "not-in-the-log");
  return weights;
}

function limitOf(cause: Cause, loss: GroundLoss, evidence: PlaceEvidence): number {
  const dug = evidence.digSupport(cause) >= Math.log(10);
  const limits: number[] = [1];
  if (evidence.counts < FEW_COUNTS && !dug) limits.push(LIMITS.fewCounts);
  if ((cause === "seed-lot" || cause === "wheel-traffic") && !dug) limits.push(LIMITS.partOfField);
  if ((FACTORS as readonly Cause[]).includes(cause)) {
    if (cause === "misses" || cause === "rate-off-target") limits.push(LIMITS.certain);
    else if (!dug) {
      limits.push(evidence.repeated ? LIMITS.certain : LIMITS.coincidence);
      if (loss.coincidenceShare > 0.5) limits.push(LIMITS.departure);
    }
    if (evidence.followsSoilBorder && !dug) limits.push(LIMITS.soilBorder);
    if (DEPTH_CAUSES.includes(cause)) limits.push(depthCauseCeiling(evidence.depthSource, dug));
  }
  if (cause === "soil-or-weather" && !dug && evidence.signs.length === 0) limits.push(LIMITS.groundUnseen);
  return Math.min(...limits);
}
