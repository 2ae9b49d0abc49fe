/**
 * How likely each cause is, given how many plants are missing, what the log predicts and what digs show.
 *
 * Three accounts of a deficit D (with standard error s) are compared: planting explains it (H1), something
 * else explains it (H0), both do (H2). With g the predicted losses and G their sum,
 *   H1: D ~ N(G, s^2 + sum (g/2)^2 + 0.01^2)    H0: D uniform on 0.02..0.30    H2: D = G + U(0, 0.25)
 * and prior weights 0.55, 0.30, 0.15. The predicted losses are judgements good to about half their size,
 * hence the factor one half; a seed that was not dropped is missing for certain, so that skips and rate are good to a
 * fifth. Within planting, the cause is the factor whose loss theta g is largest over draws of theta ~ N(1, 0.5^2) cut at 0
 * (0.2 for skips and rate), each draw weighted by how well its sum agrees with D. Digs multiply the result. Weights,
 * spreads and ranges are our judgement, measured on simulated fields only.
 */
import { FACTORS, type Factor } from "../cluster/predicted-loss.ts";
import { normalCdf, normalDensity } from "../numerics/distributions.ts";
import { normal, seededRandom } from "../numerics/random.ts";
import type { Cause } from "./causes.ts";

const PRIOR = { planting: 0.55, other: 0.3, both: 0.15 };
/**
 * Where the log drew the outline of the place before anyone counted, another cause would have to lie on it by chance:
 * it gets less than the log alone leaves it, so that counts that agree with the log do not lower the probability of planting
 * (held by a test, for losses of up to 20 points).
 */
const PRIOR_WHERE_PREDICTED = { planting: 0.7, other: 0.12, both: 0.18 };
/** The ground does not know where a pass ends: so much less likely is another cause of a deficit of whole passes (our judgement). */
const GROUND_FOLLOWS_PASSES = 1 / 3;
/** Range a deficit without planting cause may take, share of stand. */
const OTHER_RANGE = [0.02, 0.3] as const;
const BOTH_WIDTH = 0.25;
const MODEL_ERROR = 0.01;
/** SD of true loss / predicted loss. */
const UNCERTAINTY: Record<Factor, number> = {
  "excess-speed": 0.5,
  "lost-ground-contact": 0.5,
  "excess-down-force": 0.5,
  "too-shallow": 0.5,
  "too-deep": 0.5,
  "uneven-depth": 0.5,
  misses: 0.2,
  "rate-off-target": 0.2,
};
/** Kept back for something that neither the log nor digs can show; listed as "undetermined" (our judgement). */
const UNLISTED = 0.01;
/** Below this predicted loss the log has nothing to say about the place. */
const NOTHING_PREDICTED = 0.012;
const DRAWS = 2000;
const SMALLEST_AGREEMENT = 1e-6 * DRAWS;
/** Without counts, how likely harm that the log predicts is to come from planting at all. */
const PRIOR_FROM_LOG_ALONE = 0.85;
/** Of what the log does not explain, the part of each cause that only digs can show, once they show it (our judgement). */
const SHARE_SHOWN = 0.2;
/** A cause is named from this probability on; below it the finding is undetermined. */
const NAMED_FROM = 0.7;

/** What else speaks for or against a cause. */
export interface Evidence {
  /** Log likelihood of the digs under each cause, relative to nothing in particular being wrong. */
  digSupport: (cause: Cause) => number;
  /** Causes without a trace in the log that the digs show (see `causesShown`). */
  shownByDigs: readonly Cause[];
  /** True where the place is whole passes that the log points to. */
  followsPasses: boolean;
  /** True where the log predicts the place: its outline was drawn without a look at the counts. */
  predictedByLog: boolean;
}

export interface Attribution {
  /** The named cause, or "undetermined". */
  cause: Cause;
  /** Probability of the named cause; 0 when undetermined (all causes are in `alternatives`). */
  probability: number;
  /** The other causes with their probabilities, likeliest first; with `probability` they sum to 1. */
  alternatives: { cause: Cause; probability: number }[];
}

/** Deficit as measured by counts, share of target plants. */
export interface Deficit {
  estimate: number;
  standardError: number;
}

/**
 * Probabilities of the causes of one place.
 * @param predicted predicted loss by factor over the place
 * @param deficit null where there are no counts (the log alone)
 */
export function attribute(
  predicted: Record<Factor, number>,
  deficit: Deficit | null,
  evidence: Evidence,
): Attribution {
  const predictedSum = FACTORS.reduce((sum, factor) => sum + predicted[factor], 0);
  const weights = new Map<Cause, number>();
  if (predictedSum < NOTHING_PREDICTED) {
    weights.set("soil-or-weather", 1);
  } else if (deficit === null) {
    const shares = largestShares(predicted, {});
    for (const factor of FACTORS) weights.set(factor, PRIOR_FROM_LOG_ALONE * shares.get(factor)!);
    weights.set("soil-or-weather", 1 - PRIOR_FROM_LOG_ALONE);
  } else {
    const { planting, other, both } = accounts(predicted, predictedSum, deficit, evidence);
    const alone = largestShares(predicted, { agreeingWith: deficit });
    const shared = largestShares(predicted, { rest: deficit.estimate - predictedSum });
    for (const factor of FACTORS)
      weights.set(factor, planting * alone.get(factor)! + both * shared.get(factor)!);
    weights.set("soil-or-weather", other + both * shared.get("soil-or-weather")!);
  }
  const unexplained = weights.get("soil-or-weather") ?? 0;
  for (const cause of evidence.shownByDigs) weights.set(cause, SHARE_SHOWN * unexplained);
  weights.set("soil-or-weather", (1 - SHARE_SHOWN * evidence.shownByDigs.length) * unexplained);
  for (const [cause, weight] of weights) weights.set(cause, weight * Math.exp(evidence.digSupport(cause)));
  return nameCause(weights);
}

/** Posterior weights of the three accounts. */
function accounts(
  predicted: Record<Factor, number>,
  predictedSum: number,
  deficit: Deficit,
  { followsPasses, predictedByLog }: Evidence,
) {
  const prior = predictedByLog ? PRIOR_WHERE_PREDICTED : PRIOR;
  const variance =
    deficit.standardError ** 2 +
    FACTORS.reduce((sum, factor) => sum + (UNCERTAINTY[factor] * predicted[factor]) ** 2, 0) +
    MODEL_ERROR ** 2;
  const sd = Math.sqrt(variance);
  const planting = prior.planting * (normalDensity((deficit.estimate - predictedSum) / sd) / sd);
  const other =
    (prior.other * (followsPasses ? GROUND_FOLLOWS_PASSES : 1)) / (OTHER_RANGE[1] - OTHER_RANGE[0]);
  const both =
    (prior.both *
      (normalCdf((deficit.estimate - predictedSum) / sd) -
        normalCdf((deficit.estimate - predictedSum - BOTH_WIDTH) / sd))) /
    BOTH_WIDTH;
  const sum = planting + other + both;
  return { planting: planting / sum, other: other / sum, both: both / sum };
}

/**
 * How often each factor's loss is the largest. With `agreeingWith`, draws are weighted by how well their sum agrees with
 * that deficit; with `rest`, a loss of that size without planting cause takes part.
 */
function largestShares(
  predicted: Record<Factor, number>,
  { agreeingWith = null, rest = 0 }: { agreeingWith?: Deficit | null; rest?: number },
): Map<Cause, number> {
  const random = seededRandom(20_260_424);
  const sd = Math.hypot(agreeingWith?.standardError ?? 0, MODEL_ERROR);
  const plain = new Map<Cause, number>();
  const weighted = new Map<Cause, number>();
  for (let draw = 0; draw < DRAWS; draw++) {
    let sum = 0;
    let best: Cause = "soil-or-weather";
    let bestLoss = rest;
    for (const factor of FACTORS) {
      const loss = Math.max(0, 1 + UNCERTAINTY[factor] * normal(random)) * predicted[factor];
      sum += loss;
      if (loss > bestLoss) {
        bestLoss = loss;
        best = factor;
      }
    }
    const agreement = agreeingWith ? normalDensity((agreeingWith.estimate - sum) / sd) : 1;
    plain.set(best, (plain.get(best) ?? 0) + 1);
    weighted.set(best, (weighted.get(best) ?? 0) + agreement);
  }
  // Where no draw comes near the deficit, their agreement tells nothing.
  const wins = total(weighted) > SMALLEST_AGREEMENT ? weighted : plain;
  const sum = total(wins);
  return new Map(
    [...FACTORS, "soil-or-weather" as const].map((cause) => [cause, (wins.get(cause) ?? 0) / sum]),
  );
}

function total(weights: ReadonlyMap<Cause, number>): number {
  return [...weights.values()].reduce((a, b) => a + b, 0);
}

/** Weights -> probabilities to three decimals that sum to 1, and the cause they name. */
export function nameCause(weights: ReadonlyMap<Cause, number>): Attribution {
  const sum = total(weights);
  const share = new Map([...weights].map(([cause, weight]) => [cause, ((1 - UNLISTED) * weight) / sum]));
  share.set("undetermined", UNLISTED);
  const ranked = [...share]
    .map(([cause, weight]) => ({ cause, thousandths: Math.round(1000 * weight) }))
    .filter((entry) => entry.thousandths >= 5)
    .sort((a, b) => b.thousandths - a.thousandths || a.cause.localeCompare(b.cause));
  ranked[0]!.thousandths += 1000 - ranked.reduce((total, entry) => total + entry.thousandths, 0);
  const list = ranked.map(({ cause, thousandths }) => ({ cause, probability: thousandths / 1000 }));
  if (list[0]!.probability >= NAMED_FROM) {
    return { cause: list[0]!.cause, probability: list[0]!.probability, alternatives: list.slice(1) };
  }
  // Undetermined: what is kept back for the unseen goes to the likeliest, so that only causes are listed; to the
  // next where the likeliest would then look like one that can be named.
  const named = list.filter((entry) => entry.cause !== "undetermined");
  const kept = 1 - named.reduce((total, entry) => total + entry.probability, 0);
  const receiver = named[0]!.probability + kept < NAMED_FROM - 1e-9 ? 0 : 1;
  return {
    cause: "undetermined",
    probability: 0,
    alternatives: named.map(({ cause, probability }, k) => ({
      cause,
      probability: k === receiver ? Math.round(1000 * (probability + kept)) / 1000 : probability,
    })),
  };
}
