/** The sampler of the stand model against the exact posterior, all combinations of terms gone through. */
import { describe, expect, it } from "vitest";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { type SamplerInput, sampleTerms } from "../../src/stand-model/sampler.ts";
import { enumerate, problemOf, summarise } from "./support/exact.ts";

const POINTS = 12;
const CHAINS = 8;
const SETTINGS = { seed: 11, chains: CHAINS, burnIn: 50, kept: 1500 };
/** Standard errors between chains that a share may be off; eight chains give them to about a quarter of their size. */
const MOST_ERRORS = 4.5;

function numbers(seed: number, count: number): number[] {
  const random = seededRandom(seed);
  return Array.from({ length: count }, () => normal(random));
}

/** Columns that share much of what they have: correlations of about 0.5. */
function relatedColumns(seed: number, count: number): number[][] {
  const base = numbers(seed, POINTS);
  return Array.from({ length: count }, (_, j) => {
    const own = numbers(100 * seed + j, POINTS);
    return base.map((value, i) => 0.7 * value + 0.7 * own[i]!);
  });
}

function responseOf(seed: number, columns: readonly number[][], effects: readonly number[]): number[] {
  return numbers(seed, POINTS).map((noise, i) =>
    columns.reduce((sum, column, j) => sum + effects[j]! * column[i]!, noise),
  );
}

/** Sampled and exact shares; the largest differences of the inclusion in standard errors, and as they are. */
function compared(input: SamplerInput) {
  const exact = enumerate(input);
  const sampled = summarise(sampleTerms(input, SETTINGS), input.terms.length, CHAINS);
  const off = exact.inclusion.map((share, term) => Math.abs(share - sampled.inclusion[term]!));
  return {
    exact,
    sampled,
    off: Math.max(...off),
    // A term that nearly always acts has a spread between chains too small to be told.
    errors: Math.max(...off.map((value, term) => value / Math.max(0.0015, sampled.standardError[term]!))),
  };
}

const SMALL_EFFECTS = [
  {
    inclusion: 0.3,
    options: [
      { column: 0, mean: 0.8, sd: 0.5, weight: 0.6 },
      { column: 0, mean: 2.2, sd: 1.2, weight: 0.4 },
    ],
  },
  { inclusion: 0.4, options: [{ column: 1, mean: 1, sd: 1 }] },
  { inclusion: 0.5, options: [{ column: 2, mean: 0.3, sd: 0.6 }] },
];

describe("the sampler of terms, against the exact posterior", () => {
  it.each([1, 3, 5])(
    "is right where the terms lie on different counts, effects cut at 0 (field %i)",
    (seed) => {
      const columns = [0, 1, 2].map((j) => Array.from({ length: POINTS }, (_, i) => (i % 3 === j ? 1.5 : 0)));
      const { exact, sampled, errors } = compared(
        problemOf(columns, responseOf(seed, columns, [1, 0.4, 0]), SMALL_EFFECTS),
      );
      expect(errors).toBeLessThan(MOST_ERRORS);
      exact.meanEffect.forEach((mean, term) => {
        // A tenth of the spread of such effects.
        expect(Math.abs(mean - sampled.meanEffect[term]!)).toBeLessThan(0.04);
      });
      for (const [set, share] of exact.ofSet)
        expect(Math.abs(share - (sampled.ofSet.get(set) ?? 0)), `terms ${set}`).toBeLessThan(0.02);
    },
  );

  it.each([2, 4])("is right with four terms on the same counts, effects well above 0 (field %i)", (seed) => {
    const columns = relatedColumns(seed, 4);
    const term = (column: number) => ({ inclusion: 0.3, options: [{ column, mean: 1.2, sd: 0.3 }] });
    const { exact, sampled, errors } = compared(
      problemOf(columns, responseOf(seed, columns, [1, 1, 0, 0]), [0, 1, 2, 3].map(term)),
    );
    expect(errors).toBeLessThan(MOST_ERRORS);
    exact.meanEffect.forEach((mean, k) => {
      expect(Math.abs(mean - sampled.meanEffect[k]!)).toBeLessThan(0.03);
    });
    // None of them is settled, or the comparison would tell little.
    expect(Math.min(...exact.inclusion)).toBeLessThan(0.5);
    expect(Math.max(...exact.inclusion.map((share) => share * (1 - share)))).toBeGreaterThan(0.05);
  });

  it.each([2, 4, 8])(
    "is close where small effects share their counts and are cut at 0 (field %i)",
    (seed) => {
      const columns = relatedColumns(seed, 3);
      const { off } = compared(problemOf(columns, responseOf(seed, columns, [1, 0.4, 0]), SMALL_EFFECTS));
      // The cut is exact for one term only.
      expect(off).toBeLessThan(0.035);
    },
  );

  it("shares the probability between two terms with the same column, and exchanges them", () => {
    const [column, other] = relatedColumns(6, 2);
    const columns = [column!, [...column!], other!];
    const input = problemOf(columns, responseOf(6, columns, [1.5, 0, 0]), [
      { inclusion: 0.2, options: [{ column: 0, mean: 1.5, sd: 0.3 }] },
      { inclusion: 0.2, options: [{ column: 1, mean: 1.5, sd: 0.3 }] },
      { inclusion: 0.1, options: [{ column: 2, mean: 1.5, sd: 0.3 }] },
    ]);
    const { exact, sampled, errors } = compared(input);
    expect(exact.inclusion[0]).toBeCloseTo(exact.inclusion[1]!, 9);
    expect(exact.inclusion[0]! + exact.inclusion[1]!).toBeGreaterThan(0.9);
    expect(errors).toBeLessThan(MOST_ERRORS);
    // Neither chain stays with the term that it met first.
    expect(Math.max(...sampled.standardError)).toBeLessThan(0.02);
  });

  it("prefers, of two terms with the same column, the one whose size was expected", () => {
    const [column] = relatedColumns(7, 1);
    const certain = { inclusion: 0.3, options: [{ column: 0, mean: 1, sd: 0.15 }] };
    const loose = { inclusion: 0.3, options: [{ column: 1, mean: 1, sd: 1 }] };
    const shareOfLoose = (effect: number): number => {
      // Without noise: the counts say exactly this effect.
      const response = column!.map((value) => effect * value);
      const input = problemOf([column!, [...column!]], response, [certain, loose]);
      const { exact, errors } = compared(input);
      expect(errors).toBeLessThan(MOST_ERRORS);
      return exact.inclusion[1]! / (exact.inclusion[0]! + exact.inclusion[1]!);
    };
    // What a skipped seed costs is known, what shallow seed costs is not: a loss beyond the skips is the latter's.
    expect(shareOfLoose(2.5)).toBeGreaterThan(0.6);
    expect(shareOfLoose(1)).toBeLessThan(0.4);
  });
});

describe("draws", () => {
  const columns = relatedColumns(9, 3);
  const input = problemOf(columns, responseOf(9, columns, [0.5, 0, 0]), SMALL_EFFECTS);
  const few = { seed: 5, chains: 2, burnIn: 5, kept: 40 };

  it("are the same each time, others from another seed", () => {
    expect(sampleTerms(input, few)).toEqual(sampleTerms(input, few));
    expect(sampleTerms(input, { ...few, seed: 6 })).not.toEqual(sampleTerms(input, few));
  });

  it("hold an effect of 0 or more for each term that acts, each term once", () => {
    const draws = sampleTerms(input, few);
    expect(draws).toHaveLength(80);
    for (const { terms, options, effects } of draws) {
      expect(new Set(terms).size).toBe(terms.length);
      expect([options.length, effects.length]).toEqual([terms.length, terms.length]);
      for (const effect of effects) expect(effect).toBeGreaterThanOrEqual(0);
    }
  });

  it("never let one column act in two terms", () => {
    const shared = [{ column: 0, mean: 0.5, sd: 0.5 }];
    const slots = problemOf(columns, responseOf(9, columns, [1, 0, 0]), [
      { inclusion: 0.5, options: shared },
      { inclusion: 0.5, options: shared },
    ]);
    const { exact, errors } = compared(slots);
    expect(errors).toBeLessThan(MOST_ERRORS);
    expect(exact.ofSet.has("0 1")).toBe(false);
    expect(sampleTerms(slots, few).every(({ terms }) => terms.length < 2)).toBe(true);
  });
});
