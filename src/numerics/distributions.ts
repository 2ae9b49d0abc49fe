/**
 * Distribution functions, upper tails and quantiles. Probabilities are 0..1; relative error about 1e-12,
 * in the tails too, because the small tail is computed itself and not as 1 minus the large one.
 */
import { incompleteBeta, upperIncompleteGamma } from "./special-functions.ts";

/** The level of intervals of stand, loss and money; the comparison tables are at 0.95. */
export const LEVEL = 0.9;
/** Half the width of a two-sided interval of that level, in standard errors: the 0.95 quantile of the normal law. */
export const Z90 = 1.6448536269514722;
/** The 0.9 quantile of the normal law: a one-sided limit that one value in ten crosses. */
export const ONE_IN_TEN_Z = 1.2815515655446004;

/** Standard normal density. */
export function normalDensity(z: number): number {
  return Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
}

/** Probability that a standard normal number is at most z. */
export function normalCdf(z: number): number {
  const tail = 0.5 * upperIncompleteGamma(0.5, 0.5 * z * z);
  return z > 0 ? 1 - tail : tail;
}

/**
 * The z below which a standard normal number falls with the given probability; -Infinity at 0 and Infinity
 * at 1, NaN outside. Starts from Abramowitz & Stegun 1964, 26.2.23, and is refined by Halley's method.
 */
export function normalQuantile(probability: number): number {
  if (!(probability >= 0 && probability <= 1)) return Number.NaN;
  if (probability === 0.5) return 0;
  const tail = Math.min(probability, 1 - probability);
  if (tail === 0) return probability === 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  const t = Math.sqrt(-2 * Math.log(tail));
  let z =
    (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308))) - t;
  for (let round = 0; round < 3; round++) {
    const error = (normalCdf(z) - tail) / normalDensity(z);
    z -= error / (1 + 0.5 * z * error);
  }
  return probability < 0.5 ? z : -z;
}

/** Probability that Student's t with df > 0 degrees of freedom is at most t. */
export function studentTCdf(t: number, df: number): number {
  if (df === Number.POSITIVE_INFINITY) return normalCdf(t);
  const tail = 0.5 * incompleteBeta(df / (df + t * t), df / 2, 0.5);
  return t > 0 ? 1 - tail : tail;
}

/** The t below which Student's t with df > 0 falls with the given probability (0 < probability < 1). */
export function studentTQuantile(probability: number, df: number): number {
  if (!(probability >= 0 && probability <= 1) || !(df > 0)) return Number.NaN;
  if (df === Number.POSITIVE_INFINITY) return normalQuantile(probability);
  if (probability === 0.5) return 0;
  const tail = Math.min(probability, 1 - probability);
  if (tail === 0) return probability === 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  let high = 1;
  while (studentTCdf(-high, df) > tail) high *= 2;
  const t = falsePosition((size) => studentTCdf(-size, df) - tail, high === 1 ? 0 : high / 2, high);
  return probability < 0.5 ? -t : t;
}

/** Probability that F with the given degrees of freedom exceeds f. */
export function fUpperTail(f: number, numeratorDf: number, denominatorDf: number): number {
  if (Number.isNaN(f)) return Number.NaN;
  if (f <= 0) return 1;
  return incompleteBeta(
    denominatorDf / (denominatorDf + numeratorDf * f),
    denominatorDf / 2,
    numeratorDf / 2,
  );
}

/** The x with I_x(a, b) = probability: quantile of the beta distribution (Clopper-Pearson limits need it). */
export function betaQuantile(probability: number, a: number, b: number): number {
  if (!(probability >= 0 && probability <= 1)) return Number.NaN;
  if (probability === 0 || probability === 1) return probability;
  return falsePosition((x) => incompleteBeta(x, a, b) - probability, 0, 1);
}

/** Zero of a monotone function within [low, high]: false position with halving (Illinois rule), to rounding. */
function falsePosition(evaluate: (x: number) => number, low: number, high: number): number {
  let a = low;
  let b = high;
  let valueA = evaluate(a);
  let valueB = evaluate(b);
  for (let round = 0; round < 200; round++) {
    if (valueA === 0) return a;
    if (valueB === 0) return b;
    const middle = b - (valueB * (b - a)) / (valueB - valueA);
    const x = middle > Math.min(a, b) && middle < Math.max(a, b) ? middle : 0.5 * (a + b);
    if (x === a || x === b || Math.abs(b - a) <= 1e-15 * Math.abs(b)) return x;
    const value = evaluate(x);
    if (value < 0 === valueB < 0) {
      valueA *= 0.5;
    } else {
      a = b;
      valueA = valueB;
    }
    b = x;
    valueB = value;
  }
  return b;
}
