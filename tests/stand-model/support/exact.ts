/** Posterior of a few on/off terms by going through every combination, effects integrated on a grid. */
import { normalCdf } from "../../../src/numerics/distributions.ts";
import type { Draw, SamplerInput, SamplerOption } from "../../../src/stand-model/sampler.ts";

export interface ExactPosterior {
  /** Probability that each term acts. */
  inclusion: number[];
  /** Mean effect of each term where it acts. */
  meanEffect: number[];
  /** Probability of each set of acting terms, by their numbers joined with a blank. */
  ofSet: Map<string, number>;
}

/** Cells of the grid for each effect, from 0 to where prior and likelihood have long died out; fewer for four at once. */
const GRID = 70;
const GRID_OF_FOUR = 36;

/** Goes through all combinations of options, each term off or by one of them. */
export function enumerate(input: SamplerInput): ExactPosterior {
  const { terms } = input;
  const inclusion = terms.map(() => 0);
  const effects = terms.map(() => 0);
  const ofSet = new Map<string, number>();
  let total = 0;
  const visit = (term: number, chosen: { term: number; option: SamplerOption }[], logPrior: number): void => {
    if (term === terms.length) {
      const { mass, means } = integrate(
        input,
        chosen.map(({ option }) => option),
      );
      const weight = Math.exp(logPrior) * mass;
      total += weight;
      const key = chosen.map((entry) => entry.term).join(" ");
      ofSet.set(key, (ofSet.get(key) ?? 0) + weight);
      chosen.forEach((entry, a) => {
        inclusion[entry.term]! += weight;
        effects[entry.term]! += weight * means[a]!;
      });
      return;
    }
    visit(term + 1, chosen, logPrior + terms[term]!.logOff);
    for (const option of terms[term]!.options) {
      // No column acts twice.
      if (chosen.some((entry) => entry.option.column === option.column)) continue;
      visit(term + 1, [...chosen, { term, option }], logPrior + option.logPrior);
    }
  };
  visit(0, [], 0);
  return {
    inclusion: inclusion.map((weight) => weight / total),
    meanEffect: effects.map((sum, term) => sum / inclusion[term]!),
    ofSet: new Map([...ofSet].map(([key, weight]) => [key, weight / total])),
  };
}

/**
 * Integral over effects of 0 and more of prior x likelihood (against that of no effect), and the mean effects under it, by
 * midpoints.
 */
function integrate(
  { gram, size, right }: SamplerInput,
  options: readonly SamplerOption[],
): { mass: number; means: number[] } {
  const count = options.length;
  const cells = count < 4 ? GRID : GRID_OF_FOUR;
  const at = new Float64Array(count);
  const sums = new Float64Array(count);
  let mass = 0;
  const grids = options.map(({ column, mean, variance }) => {
    // Alone, the effect has precision 1/v + s at most; with others it is wider: the prior bounds it.
    const end = Math.max(mean, 0) + 7 * Math.sqrt(variance);
    const likely = right[column]! / gram[column * size + column]!;
    const wide = likely + 9 / Math.sqrt(gram[column * size + column]!);
    return Math.max(1e-3, Math.min(end, Math.max(wide, 3 * Math.sqrt(variance))));
  });
  const volume = grids.reduce((product, end) => (product * end) / cells, 1);
  const visit = (a: number, log: number): void => {
    if (a === count) {
      const weight = Math.exp(log) * volume;
      mass += weight;
      for (let k = 0; k < count; k++) sums[k]! += weight * at[k]!;
      return;
    }
    const { column, mean, variance } = options[a]!;
    const normaliser = Math.log(2 * Math.PI * variance) / 2 + Math.log(normalCdf(mean / Math.sqrt(variance)));
    for (let k = 0; k < cells; k++) {
      const effect = ((k + 0.5) * grids[a]!) / cells;
      at[a] = effect;
      let log1 = log - (effect - mean) ** 2 / (2 * variance) - normaliser;
      log1 += effect * right[column]! - 0.5 * effect * effect * gram[column * size + column]!;
      for (let b = 0; b < a; b++) log1 -= effect * at[b]! * gram[column * size + options[b]!.column]!;
      visit(a + 1, log1);
    }
  };
  visit(0, 0);
  return { mass, means: [...sums].map((sum) => sum / mass) };
}

export interface SampledPosterior extends ExactPosterior {
  /** Standard error of each inclusion probability, from the spread between chains. */
  standardError: number[];
}

/** The same figures from draws of several chains of equal length. */
export function summarise(draws: readonly Draw[], terms: number, chains: number): SampledPosterior {
  const length = draws.length / chains;
  const byChain = Array.from({ length: chains }, () => new Float64Array(terms));
  const effects = new Float64Array(terms);
  const ofSet = new Map<string, number>();
  draws.forEach((draw, d) => {
    const key = draw.terms.join(" ");
    ofSet.set(key, (ofSet.get(key) ?? 0) + 1 / draws.length);
    draw.terms.forEach((term, a) => {
      byChain[Math.floor(d / length)]![term]! += 1 / length;
      effects[term]! += draw.effects[a]!;
    });
  });
  const all = [...Array(terms).keys()];
  const inclusion = all.map((term) => byChain.reduce((sum, own) => sum + own[term]!, 0) / chains);
  return {
    inclusion,
    meanEffect: all.map((term) => effects[term]! / (inclusion[term]! * draws.length)),
    ofSet,
    standardError: all.map((term) =>
      Math.sqrt(
        byChain.reduce((sum, own) => sum + (own[term]! - inclusion[term]!) ** 2, 0) / (chains * (chains - 1)),
      ),
    ),
  };
}

/** Sampler input of plain columns with unit noise; terms with one option or several, by prior probability. */
export function problemOf(
  columns: readonly (readonly number[])[],
  response: readonly number[],
  terms: readonly {
    inclusion: number;
    options: { column: number; mean: number; sd: number; weight?: number }[];
  }[],
): SamplerInput {
  const size = columns.length;
  const product = (a: readonly number[], b: readonly number[]): number =>
    a.reduce((sum, value, i) => sum + value * b[i]!, 0);
  return {
    gram: Float64Array.from({ length: size * size }, (_, k) =>
      product(columns[Math.floor(k / size)]!, columns[k % size]!),
    ),
    size,
    right: Float64Array.from(columns, (column) => product(column, response)),
    terms: terms.map(({ inclusion, options }) => ({
      logOff: Math.log(1 - inclusion),
      options: options.map(({ column, mean, sd, weight = 1 }) => ({
        column,
        mean,
        variance: sd ** 2,
        logPrior: Math.log(inclusion * weight),
      })),
    })),
  };
}
