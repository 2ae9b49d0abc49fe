/**
 * From weights to a named cause, and what the log alone lets be said. A cause is named from 0.7 on; below that the finding is
 * undetermined and lists every candidate. Weights, spreads and ranges are our judgement, measured on simulated fields only.
 */
import { FACTORS, type Factor } from "../../cells/predicted-loss.ts";
import { normalDensity } from "../../numerics/distributions.ts";
import { normal, seededRandom } from "../../numerics/random.ts";
import type { Cause } from "../../vocabulary/causes.ts";

/** SD of true loss / predicted loss: the curves are judgements, a seed that was not dropped is missing for certain. */
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
/** How likely harm that the log predicts is to come from planting at all, before anyone has counted. */
const PRIOR_FROM_LOG_ALONE = 0.85;
/** A cause is named from this probability on; below it the finding is undetermined. */
const NAMED_FROM = 0.7;

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
 * Weights of the causes of a place that the log points to and no count confirms.
 * @param predicted predicted loss by factor over the place
 * @param deficit what the counts there show, null where there are none
 */
export function weightsFromLog(
  predicted: Record<Factor, number>,
  deficit: Deficit | null,
): Map<Cause, number> {
  const total = FACTORS.reduce((sum, factor) => sum + predicted[factor], 0);
  const weights = new Map<Cause, number>();
  if (total < NOTHING_PREDICTED) return weights.set("not-in-the-log", 1);
  let odds = PRIOR_FROM_LOG_ALONE / (1 - PRIOR_FROM_LOG_ALONE);
  if (deficit) {
    const width = Math.hypot(deficit.standardError, 0.01);
    const harmed = Math.hypot(width, 0.5 * total);
    odds *= density(deficit.estimate, total, harmed) / density(deficit.estimate, 0, width);
  }
  const planting = odds / (1 + odds);
  const shares = largestShares(predicted);
  for (const factor of FACTORS) weights.set(factor, planting * shares[factor]);
  return weights.set("not-in-the-log", 1 - planting);
}

function density(value: number, centre: number, sd: number): number {
  return Math.max(1e-4, normalDensity((value - centre) / sd)) / sd;
}

/** How often each factor's loss is the largest, each being good to about half its size. */
function largestShares(predicted: Record<Factor, number>): Record<Factor, number> {
  const random = seededRandom(20_260_424);
  const wins = Object.fromEntries(FACTORS.map((factor) => [factor, 0])) as Record<Factor, number>;
  for (let draw = 0; draw < DRAWS; draw++) {
    let best: Factor = FACTORS[0];
    let bestLoss = -1;
    for (const factor of FACTORS) {
      const loss = Math.max(0, 1 + UNCERTAINTY[factor] * normal(random)) * predicted[factor];
      if (loss > bestLoss) {
        bestLoss = loss;
        best = factor;
      }
    }
    wins[best]++;
  }
  for (const factor of FACTORS) wins[factor] /= DRAWS;
  return wins;
}

/** Weights -> probabilities to three decimals that sum to 1, and the cause they name. */
export function nameCause(weights: ReadonlyMap<Cause, number>): Attribution {
  const sum = [...weights.values()].reduce((a, b) => a + b, 0);
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

/** Holds one cause's share of the weights down to a limit; what is taken off goes to `instead`. */
export function heldTo(
  weights: ReadonlyMap<Cause, number>,
  cause: Cause,
  limit: number,
  instead: Cause,
): Map<Cause, number> {
  const sum = [...weights.values()].reduce((a, b) => a + b, 0);
  const held = new Map([...weights].map(([name, weight]) => [name, weight / sum]));
  const excess = (held.get(cause) ?? 0) - limit;
  if (excess <= 0 || cause === instead) return held;
  held.set(cause, limit);
  held.set(instead, (held.get(instead) ?? 0) + excess);
  return held;
}
