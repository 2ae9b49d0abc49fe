/**
 * Which terms act, and how strongly, given the counts: Gibbs sampling over switches with the effects integrated out (George &
 * McCulloch 1993, J. Am. Stat. Assoc. 88:881-889). For an option with whitened column x and prior N(m, v) of its effect, cut
 * at 0, given the other terms that act, with s = x'Wx, t = x'Wy and W the projection after the others,
 *   ln BF = -ln(1 + vs)/2 + mt - m^2 s/2 + v (t - ms)^2 / (2 (1 + vs)) + ln Phi(mu/sd) - ln Phi(m/sqrt v),
 *   mu = m + v (t - ms)/(1 + vs),  sd^2 = v/(1 + vs).
 * The cut is exact for one term and close for several together. Besides one term at a time, a term that acts is exchanged for
 * another now and then: two that explain the same ground would else hold each other out.
 */
import { cholesky, solveLowerTransposed } from "../numerics/cholesky.ts";
import { normal, type Random, seededRandom } from "../numerics/random.ts";
import { quickNormalCdf } from "./normal-table.ts";

export interface SamplerOption {
  /** Index of the whitened column. */
  column: number;
  mean: number;
  variance: number;
  /** Log of the prior probability that this option acts. */
  logPrior: number;
}

export interface SamplerTerm {
  options: readonly SamplerOption[];
  /** Log of the prior probability that none does. */
  logOff: number;
}

export interface SamplerInput {
  /** Inner products of the whitened columns, row-major, and theirs with the whitened response. */
  gram: Float64Array;
  size: number;
  right: Float64Array;
  terms: readonly SamplerTerm[];
}

/** One draw: the options that act, and their effects (0 or more). */
export interface Draw {
  terms: number[];
  options: number[];
  effects: Float64Array;
}

export interface SamplerSettings {
  seed: number;
  chains: number;
  burnIn: number;
  kept: number;
}

const REDRAWS = 25;
const EXCHANGES = 2;

/** Draws from the posterior, chain after chain. */
export function sampleTerms(input: SamplerInput, settings: SamplerSettings): Draw[] {
  const draws: Draw[] = [];
  for (let chain = 0; chain < settings.chains; chain++) {
    const random = seededRandom(settings.seed + 7919 * chain);
    const state = new SwitchState(input, random);
    for (let sweep = 0; sweep < settings.burnIn + settings.kept; sweep++) {
      state.sweep();
      if (sweep >= settings.burnIn) draws.push(state.draw());
    }
  }
  return draws;
}

class SwitchState {
  private readonly input: SamplerInput;
  private readonly random: Random;
  /** Option of each term, -1 where it does not act. */
  private readonly chosen: Int32Array;
  private readonly logMass: Map<SamplerOption, number>;

  constructor(input: SamplerInput, random: Random) {
    this.input = input;
    this.random = random;
    this.chosen = new Int32Array(input.terms.length).fill(-1);
    this.logMass = new Map();
    for (const { options } of input.terms)
      for (const option of options)
        if (!this.logMass.has(option))
          this.logMass.set(option, logNormalCdf(option.mean / Math.sqrt(option.variance)));
  }

  sweep(): void {
    const { terms } = this.input;
    for (let j = 0; j < terms.length; j++) {
      this.chosen[j] = -1;
      this.chosen[j] = this.pick(this.weigh(j, this.basis()), terms[j]!.logOff);
    }
    for (let k = 0; k < EXCHANGES; k++) this.exchange();
  }

  /** Takes one acting term out and puts one option of any resting term in, by their posterior weights. */
  private exchange(): void {
    const acting = [...this.chosen.keys()].filter((j) => this.chosen[j]! >= 0);
    if (acting.length === 0) return;
    const out = acting[Math.floor(this.random() * acting.length)]!;
    this.chosen[out] = -1;
    const basis = this.basis();
    const { terms } = this.input;
    const entries: { term: number; weights: Float64Array }[] = [];
    let top = Number.NEGATIVE_INFINITY;
    for (let j = 0; j < terms.length; j++) {
      if (this.chosen[j]! >= 0) continue;
      const weights = this.weigh(j, basis).map((weight) => weight - terms[j]!.logOff);
      for (const weight of weights) if (weight > top) top = weight;
      entries.push({ term: j, weights });
    }
    let total = 0;
    for (const { weights } of entries) for (const weight of weights) total += Math.exp(weight - top);
    let at = this.random() * total;
    for (const { term, weights } of entries) {
      for (let o = 0; o < weights.length; o++) {
        at -= Math.exp(weights[o]! - top);
        if (at < 0) {
          this.chosen[term] = o;
          return;
        }
      }
    }
    // Rounding alone can come here: the last option is as good as any.
    const last = entries.at(-1)!;
    this.chosen[last.term] = last.weights.length - 1;
  }

  /** Draws the effects of the terms that act. */
  draw(): Draw {
    const terms = [...this.chosen.keys()].filter((j) => this.chosen[j]! >= 0);
    const options = terms.map((j) => this.chosen[j]!);
    const { count, covariance, mean } = this.basis();
    const effects = new Float64Array(count);
    if (count > 0) {
      const factor = cholesky(covariance, count);
      for (let attempt = 0; attempt < REDRAWS; attempt++) {
        const z = Float64Array.from({ length: count }, () => normal(this.random));
        let positive = true;
        for (let a = 0; a < count; a++) {
          let value = mean[a]!;
          for (let b = 0; b <= a; b++) value += factor[a * count + b]! * z[b]!;
          effects[a] = Math.max(0, value);
          if (value < 0) positive = false;
        }
        if (positive) break;
      }
    }
    return { terms, options, effects };
  }

  /** Posterior of the effects of the terms that act: columns, mean, covariance. */
  private basis(): Basis {
    const { gram, size, right, terms } = this.input;
    const columns: number[] = [];
    const precision: number[] = [];
    const pull: number[] = [];
    for (let j = 0; j < terms.length; j++) {
      if (this.chosen[j]! < 0) continue;
      const option = terms[j]!.options[this.chosen[j]!]!;
      columns.push(option.column);
      precision.push(1 / option.variance);
      pull.push(right[option.column]! + option.mean / option.variance);
    }
    const count = columns.length;
    const information = new Float64Array(count * count);
    for (let a = 0; a < count; a++) {
      for (let b = 0; b < count; b++) information[a * count + b] = gram[columns[a]! * size + columns[b]!]!;
      information[a * count + a]! += precision[a]!;
    }
    const covariance = invertSmall(information, count);
    const mean = new Float64Array(count);
    for (let a = 0; a < count; a++) {
      let sum = 0;
      for (let b = 0; b < count; b++) sum += covariance[a * count + b]! * pull[b]!;
      mean[a] = sum;
    }
    return { columns, count, covariance, mean };
  }

  /** Log posterior weight of each option of a term, its prior included, given the terms that act. */
  private weigh(j: number, { columns, count, covariance, mean }: Basis): Float64Array {
    const { gram, size, right, terms } = this.input;
    const { options } = terms[j]!;
    const weights = new Float64Array(options.length);
    let [lastColumn, s, t] = [-1, 0, 0];
    const cross = new Float64Array(count);
    for (let o = 0; o < options.length; o++) {
      const option = options[o]!;
      const c = option.column;
      if (columns.includes(c)) {
        weights[o] = Number.NEGATIVE_INFINITY;
        continue;
      }
      if (c !== lastColumn) {
        lastColumn = c;
        s = gram[c * size + c]!;
        t = right[c]!;
        for (let a = 0; a < count; a++) cross[a] = gram[c * size + columns[a]!]!;
        for (let a = 0; a < count; a++) {
          let sum = 0;
          for (let b = 0; b < count; b++) sum += covariance[a * count + b]! * cross[b]!;
          s -= cross[a]! * sum;
          t -= cross[a]! * mean[a]!;
        }
        if (s < 1e-9) s = 1e-9;
      }
      const { mean: m, variance: v } = option;
      const spread = 1 + v * s;
      const off = t - m * s;
      const mu = m + (v * off) / spread;
      const sd = Math.sqrt(v / spread);
      weights[o] =
        option.logPrior -
        0.5 * Math.log(spread) +
        m * t -
        0.5 * m * m * s +
        (v * off * off) / (2 * spread) +
        logNormalCdf(mu / sd) -
        this.logMass.get(option)!;
    }
    return weights;
  }

  /** One option by weight, -1 for none. */
  private pick(weights: Float64Array, logOff: number): number {
    let top = logOff;
    for (const weight of weights) if (weight > top) top = weight;
    let total = Math.exp(logOff - top);
    for (const weight of weights) total += Math.exp(weight - top);
    let at = this.random() * total - Math.exp(logOff - top);
    if (at < 0) return -1;
    for (let o = 0; o < weights.length; o++) {
      at -= Math.exp(weights[o]! - top);
      if (at < 0) return o;
    }
    return -1;
  }
}

interface Basis {
  columns: number[];
  count: number;
  covariance: Float64Array;
  mean: Float64Array;
}

/** ln Phi(z); far out in the lower tail by its leading term (Abramowitz & Stegun 1964, 26.2.12). */
function logNormalCdf(z: number): number {
  if (z > 5) return 0;
  if (z < -4) return -0.5 * z * z - Math.log(-z) - 0.5 * Math.log(2 * Math.PI) - 1 / (z * z);
  return Math.log(quickNormalCdf(z));
}

/** Inverse of a small symmetric positive definite matrix. */
function invertSmall(matrix: Float64Array, count: number): Float64Array {
  const inverse = new Float64Array(count * count);
  if (count === 0) return inverse;
  const factor = cholesky(matrix, count);
  // Rows of C^-1 by forward solution of unit vectors, then S^-1 = C^-T C^-1 column by column.
  for (let column = 0; column < count; column++) {
    const unit = new Float64Array(count);
    for (let row = column; row < count; row++) {
      let rest = row === column ? 1 : 0;
      for (let k = column; k < row; k++) rest -= factor[row * count + k]! * unit[k]!;
      unit[row] = rest / factor[row * count + row]!;
    }
    const solved = solveLowerTransposed(factor, count, unit);
    for (let row = 0; row < count; row++) inverse[row * count + column] = solved[row]!;
  }
  return inverse;
}
