/** The special functions behind the distributions. Relative error about 1e-14 unless stated. */

const EPSILON = 1e-16;
const TINY = 1e-300;
const MAXIMUM_TERMS = 10_000;

/** Coefficients B_2k / (2k (2k - 1)) of Stirling's series, k = 1.. (NIST DLMF 5.11.1). */
const STIRLING = [1 / 12, -1 / 360, 1 / 1260, -1 / 1680, 1 / 1188, -691 / 360360, 1 / 156];

/** Natural logarithm of the gamma function for x > 0: Stirling's series after shifting x above 10. */
export function logGamma(x: number): number {
  let shiftProduct = 1;
  let argument = x;
  while (argument < 10) shiftProduct *= argument++;
  const inverseSquare = 1 / (argument * argument);
  let series = 0;
  for (let k = STIRLING.length - 1; k >= 0; k--) series = series * inverseSquare + STIRLING[k]!;
  const halfLogTwoPi = 0.9189385332046728;
  return (
    (argument - 0.5) * Math.log(argument) -
    argument +
    halfLogTwoPi +
    series / argument -
    Math.log(shiftProduct)
  );
}

/**
 * Regularised incomplete beta function I_x(a, b), 0..1, for a, b > 0 and 0 <= x <= 1, by its continued
 * fraction (NIST DLMF 8.17.22) evaluated from the side where it converges fast.
 */
export function incompleteBeta(x: number, a: number, b: number): number {
  if (Number.isNaN(x)) return Number.NaN;
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  const logFront = logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x);
  if (x < (a + 1) / (a + b + 2)) return (Math.exp(logFront) * betaFraction(x, a, b)) / a;
  return 1 - (Math.exp(logFront) * betaFraction(1 - x, b, a)) / b;
}

/** The continued fraction of the incomplete beta function by Lentz's method (as modified by Thompson & Barnett 1986). */
function betaFraction(x: number, a: number, b: number): number {
  let numerator = 1;
  let denominator = 1 / nonZero(1 - ((a + b) * x) / (a + 1));
  let fraction = denominator;
  for (let m = 1; m < MAXIMUM_TERMS; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    denominator = 1 / nonZero(1 + even * denominator);
    numerator = nonZero(1 + even / numerator);
    fraction *= denominator * numerator;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    denominator = 1 / nonZero(1 + odd * denominator);
    numerator = nonZero(1 + odd / numerator);
    const step = denominator * numerator;
    fraction *= step;
    if (Math.abs(step - 1) < EPSILON) break;
  }
  return fraction;
}

/**
 * Upper regularised incomplete gamma function Q(a, x), 0..1, for a > 0 and x >= 0: power series
 * (NIST DLMF 8.11.4) below x = a + 1, continued fraction (8.9.2) above.
 */
export function upperIncompleteGamma(a: number, x: number): number {
  if (Number.isNaN(x)) return Number.NaN;
  if (x <= 0) return 1;
  const front = Math.exp(a * Math.log(x) - x - logGamma(a));
  if (x < a + 1) {
    let term = 1 / a;
    let series = term;
    for (let n = 1; n < MAXIMUM_TERMS && term > series * EPSILON; n++) {
      term *= x / (a + n);
      series += term;
    }
    return 1 - front * series;
  }
  let start = x + 1 - a;
  let numerator = 1 / TINY;
  let denominator = 1 / nonZero(start);
  let fraction = denominator;
  for (let n = 1; n < MAXIMUM_TERMS; n++) {
    const coefficient = -n * (n - a);
    start += 2;
    denominator = 1 / nonZero(coefficient * denominator + start);
    numerator = nonZero(start + coefficient / numerator);
    const step = denominator * numerator;
    fraction *= step;
    if (Math.abs(step - 1) < EPSILON) break;
  }
  return front * fraction;
}

function nonZero(value: number): number {
  return Math.abs(value) < TINY ? TINY : value;
}
