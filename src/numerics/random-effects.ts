/** One effect measured in several places, each with its own error: the mean over the places, which differ themselves. */
import { mean, variance } from "./descriptive.ts";

export interface Measured {
  value: number;
  /** Squared standard error, > 0. */
  variance: number;
}

export interface CombinedEffect {
  /** Mean over the places, in the unit of the values. */
  estimate: number;
  /** Squared standard error of the mean. */
  variance: number;
  /** Degrees of freedom of that error: places less one. */
  df: number;
  /** Variance between the places beyond the errors. */
  between: number;
}

/**
 * The random-effects mean (DerSimonian & Laird 1986, Control. Clin. Trials 7:177-188). Variance between the places by plain
 * moments, every place with the same say (Hedges & Olkin 1985, Statistical Methods for Meta-Analysis, ch. 9): where a fault
 * comes and goes the places that have it are the uncertain ones, and weights would hide it. Error of the mean from the spread of the places themselves (Hartung & Knapp 2001, Stat. Med. 20:3875-3889;
 * Sidik & Jonkman 2002, Stat. Med. 21:3153-3159), never below the one the weights give (Röver, Knapp & Friede 2015,
 * BMC Med. Res. Methodol. 15:99). Its interval is that of Student's t.
 * @returns null with fewer than two places
 */
export function combineEffects(places: readonly Measured[]): CombinedEffect | null {
  if (places.length < 2) return null;
  const between = betweenPlaces(places);
  const weights = places.map(({ variance }) => 1 / (variance + between));
  const total = sum(weights);
  const estimate = sum(places.map(({ value }, k) => weights[k]! * value)) / total;
  const df = places.length - 1;
  const squares = sum(places.map(({ value }, k) => weights[k]! * (value - estimate) ** 2));
  return { estimate, variance: Math.max(squares / df, 1) / total, df, between };
}

function betweenPlaces(places: readonly Measured[]): number {
  const spread = variance(places.map(({ value }) => value));
  return Math.max(0, spread - mean(places.map((place) => place.variance)));
}

export interface ShrunkenEffect {
  /** Pulled towards 0 by its own uncertainty. */
  estimate: number;
  /** Squared standard error of what is left. */
  variance: number;
  /** Weight of the own mean, 0..1. */
  ownWeight: number;
}

/**
 * Effects of like things (row units of one bar) about a common middle of 0, each pulled towards it as far as its own error
 * demands: empirical Bayes by the normal law (Morris 1983, J. Am. Stat. Assoc. 78:47-55). The spread between the things is
 * estimated by moments from all of them; the error of that estimate is added after Morris.
 * @param effects at least three; fewer are given back as they are
 */
export function shrinkEffects(effects: readonly Measured[]): ShrunkenEffect[] {
  const count = effects.length;
  if (count < 3) return effects.map(({ value, variance }) => ({ estimate: value, variance, ownWeight: 1 }));
  const spread = spreadAboutZero(effects);
  const meanVariance = sum(effects.map(({ variance }) => variance)) / count;
  return effects.map(({ value, variance }) => {
    // Morris's factor (k - 2) / k keeps the pull from being overdone with few things.
    const pull = (((count - 2) / count) * variance) / (variance + spread);
    const error =
      (2 / (count - 2)) * pull ** 2 * ((meanVariance + spread) / (variance + spread)) * value ** 2;
    return { estimate: (1 - pull) * value, variance: variance * (1 - pull) + error, ownWeight: 1 - pull };
  });
}

/** Variance of the effects about 0 beyond their errors, by plain moments, too, and for the same reason. */
function spreadAboutZero(effects: readonly Measured[]): number {
  return Math.max(0, sum(effects.map(({ value, variance }) => value ** 2 - variance)) / effects.length);
}

function sum(values: readonly number[]): number {
  let total = 0;
  for (const value of values) total += value;
  return total;
}
