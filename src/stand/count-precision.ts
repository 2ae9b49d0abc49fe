/** How far a count can be trusted: shares of counted plants, and means of several counts. */
import { betaQuantile, normalQuantile, studentTQuantile } from "../numerics/distributions.ts";

export interface ShareInterval {
  /** counted / all, 0..1. */
  share: number;
  low: number;
  high: number;
  level: number;
}

/**
 * Wilson score interval of a binomial share (Wilson 1927, J. Am. Stat. Assoc. 22:209-212): the one shown by
 * default, its coverage is close to the level on average (Agresti & Coull 1998, from memory).
 * @param counted plants that emerged (or are late), 0..all
 * @param all seeds dropped (or plants looked at), >= 1
 * @throws {RangeError} when the counts do not fit each other
 */
export function wilsonInterval(counted: number, all: number, level = 0.95): ShareInterval {
  checkCounts(counted, all, level);
  const z = normalQuantile(0.5 + level / 2);
  const share = counted / all;
  const shrink = 1 + (z * z) / all;
  const centre = (share + (z * z) / (2 * all)) / shrink;
  const half = (z * Math.sqrt((share * (1 - share)) / all + (z * z) / (4 * all * all))) / shrink;
  return {
    share,
    low: counted === 0 ? 0 : Math.max(0, centre - half),
    high: counted === all ? 1 : Math.min(1, centre + half),
    level,
  };
}

/**
 * Clopper-Pearson interval of a binomial share (1934, Biometrika 26:404-413): covers at least the level,
 * so it is wider than needed. Parameters and errors as {@link wilsonInterval}.
 */
export function clopperPearsonInterval(counted: number, all: number, level = 0.95): ShareInterval {
  checkCounts(counted, all, level);
  const tail = (1 - level) / 2;
  return {
    share: counted / all,
    low: counted === 0 ? 0 : betaQuantile(tail, counted, all - counted + 1),
    high: counted === all ? 1 : betaQuantile(1 - tail, counted + 1, all - counted),
    level,
  };
}

/**
 * Half-width of the interval of a mean of n counts as a share of the mean: t x CV / sqrt(n).
 * @param coefficientOfVariation SD of the counts / their mean, >= 0
 * @param counts number of counted spots, >= 2
 * @throws {RangeError} when there are fewer than two counts
 */
export function precisionOfMeanStand(coefficientOfVariation: number, counts: number, level = 0.95): number {
  if (!(counts >= 2)) throw new RangeError(`a precision needs two counts or more, not ${counts}`);
  return (studentTQuantile(0.5 + level / 2, counts - 1) * coefficientOfVariation) / Math.sqrt(counts);
}

function checkCounts(counted: number, all: number, level: number): void {
  if (!(all > 0) || !(counted >= 0) || counted > all)
    throw new RangeError(`${counted} of ${all} is not a share; write a count between 0 and all`);
  if (!(level > 0 && level < 1)) throw new RangeError(`level must lie between 0 and 1, not ${level}`);
}
