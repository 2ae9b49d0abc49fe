/** Random fields of unit variance over the plane, by their spectrum. */
import { normal, type Random } from "../../../src/numerics/random.ts";

const WAVES = 240;

export type Surface = (x: number, y: number) => number;

/**
 * A field with the Matern correlation (smoothness 0.5 is the exponential one) as a sum of waves whose
 * frequencies follow its spectral density, a bivariate t law with 2 x smoothness degrees of freedom
 * (Rasmussen & Williams 2006, Gaussian Processes for Machine Learning, ch. 4; from memory).
 * @param degrees 2 x smoothness, a whole number
 * @param rangeM for 1 degree the correlation falls to 1/e over it
 */
export function randomSurface(random: Random, degrees: number, rangeM: number): Surface {
  const kx = new Float64Array(WAVES);
  const ky = new Float64Array(WAVES);
  const phase = new Float64Array(WAVES);
  for (let wave = 0; wave < WAVES; wave++) {
    let chiSquare = 0;
    for (let k = 0; k < degrees; k++) chiSquare += normal(random) ** 2;
    const scale = rangeM * Math.sqrt(chiSquare / degrees);
    kx[wave] = normal(random) / scale;
    ky[wave] = normal(random) / scale;
    phase[wave] = 2 * Math.PI * random();
  }
  const height = Math.sqrt(2 / WAVES);
  return (x, y) => {
    let sum = 0;
    for (let wave = 0; wave < WAVES; wave++) sum += Math.cos(kx[wave]! * x + ky[wave]! * y + phase[wave]!);
    return height * sum;
  };
}

/** A number between two bounds. */
export function between(random: Random, low: number, high: number): number {
  return low + (high - low) * random();
}

/** Student's t with 4 degrees of freedom, scaled to variance 1. */
export function heavyTailed(random: Random): number {
  let chiSquare = 0;
  for (let k = 0; k < 4; k++) chiSquare += normal(random) ** 2;
  return normal(random) / Math.sqrt(chiSquare / 4) / Math.SQRT2;
}

/** Successes out of `trials`; by the normal law where there are many. */
export function binomial(random: Random, trials: number, share: number): number {
  if (trials > 400) {
    const value = Math.round(trials * share + Math.sqrt(trials * share * (1 - share)) * normal(random));
    return Math.min(trials, Math.max(0, value));
  }
  let count = 0;
  for (let k = 0; k < trials; k++) if (random() < share) count++;
  return count;
}
