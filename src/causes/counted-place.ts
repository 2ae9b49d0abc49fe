/** Loss of a place that only the counts show: on which spots it is measured, and how it is drawn in. */
import type { CountedLoss } from "../cluster/counterfactual.ts";

/** From this many spots a place is measured on its own ground; with fewer on the whole tested shape (our judgement). */
const MANY_SPOTS = 15;
/** Loss of such places, share of stand: mean and SD over places (our judgement). */
const USUAL_LOSS = { mean: 0.06, sd: 0.04 };

/**
 * Spots to measure on. A few spots picked one by one for being low overstate the loss; the tested shape was picked as
 * a whole, but takes in sound ground.
 */
export function measuredSpots(onGround: readonly number[], tested: readonly number[]): readonly number[] {
  return onGround.length >= MANY_SPOTS ? onGround : [...new Set([...onGround, ...tested])];
}

/**
 * The loss drawn towards the usual one as far as the counts leave it open: of all places that could have been listed
 * this one is because its counts came out low (empirical Bayes: Efron & Morris 1975, J. Am. Stat. Assoc. 70:311-319).
 * The standard error stays that of the counts.
 */
export function drawnIn(loss: CountedLoss): CountedLoss {
  const { mean, sd } = USUAL_LOSS;
  const shift = ((loss.estimate - mean) * loss.standardError ** 2) / (loss.standardError ** 2 + sd ** 2);
  return { ...loss, estimate: loss.estimate - shift, low: loss.low - shift, high: loss.high - shift };
}
