/** What the draws of the stand model say of a piece of ground: how short it is, how surely, and which term explains most. */
import type { Cells } from "../cells/cells.ts";
import { dot } from "../numerics/cholesky.ts";
import { mean, variance } from "../numerics/descriptive.ts";
import { Z90 } from "../numerics/distributions.ts";
import { normal, seededRandom } from "../numerics/random.ts";
import type { StandFit } from "./fit-stand.ts";
import { type GroundShares, overGround } from "./ground-shares.ts";
import type { DoseForm, Term, TermKind } from "./terms.ts";
import { whitenedLoss } from "./whitened.ts";

/** Kinds of terms whose loss lies on some ground and not on other. */
const LOCAL: readonly TermKind[] = [
  "factor",
  "unlisted",
  "soil-zone",
  "planting-day",
  "seed-lot",
  "change-point",
  "end-rows",
  "direction",
  "trend",
];

/** What a term is about, the same for all slots of unlisted places: "factor too-shallow", "unlisted", "soil-zone Clay". */
export function termKey({ kind, name }: Pick<Term, "kind" | "name">): string {
  return kind === "unlisted" ? "unlisted" : `${kind} ${name}`;
}

export interface GroundLoss {
  /** Loss of plants, share of target: mean and limits of the 90 % interval. */
  estimate: number;
  low: number;
  high: number;
  standardError: number;
  /** Share of draws with a loss of at least 2 points. */
  probability: number;
  /** Share of draws with a loss of at least 4 points. */
  probabilityOfMuch: number;
  /** Among the draws with a loss of 2 points, how often each term explains most of it. Sums to 1; empty without such draws. */
  leading: Map<string, number>;
  /** For the leading factor, how often it acts as a plain departure or step rather than by a curve. */
  coincidenceShare: number;
  /** How often two terms at least each take a third of the loss. */
  sharedShare: number;
}

/** A contrast that acts in this share of the draws is part of what is usual on its ground: places are measured beside it. */
const CERTAIN = 0.9;
/** A contrast that may act instead of a place lies on the same ground when the place holds this share of it. */
const SAME_GROUND = 0.6;

/** A loss smaller than this is none, share of stand. */
const LOSS = 0.02;
const MUCH = 0.04;
/** The loss at the very place departs from the term's mean effect by about this share of it, and by this much anyway. */
const REMAINDER = { share: 0.5, sd: 0.015 } as const;
/** Spread of the draws is widened by this: covariance and columns are estimated too (measured on simulated fields). */
const WIDEN = 1.2;

export class StandPosterior {
  readonly fit: StandFit;
  private readonly cells: Cells;
  private readonly shares: GroundShares;
  private readonly misfitSd: number;
  private readonly keys: string[];
  private readonly isLocal: boolean[];
  private readonly isContrast: boolean[];
  /** Keys of contrasts that surely act. */
  private readonly certain: ReadonlySet<string>;

  /** @param misfitSd what the model is off on some ground however often it was counted, share of stand */
  constructor(fit: StandFit, cells: Cells, shares: GroundShares, misfitSd: number) {
    this.misfitSd = misfitSd;
    this.fit = fit;
    this.cells = cells;
    this.shares = shares;
    this.keys = fit.terms.map(termKey);
    this.isLocal = fit.terms.map(({ kind }) => LOCAL.includes(kind));
    this.isContrast = fit.terms.map(({ kind }) => kind !== "factor" && kind !== "unlisted");
    this.certain = new Set(
      this.keys.filter((key, term) => this.isContrast[term] && this.probabilityOf(key, 1e-9) >= CERTAIN),
    );
  }

  /**
   * By cell: how often the local loss reaches a limit, and which term takes the largest mean share of it ("" where none).
   * @param limit share of stand
   */
  byCell(limit: number): { probability: Float64Array; label: string[] } {
    const { fit, cells } = this;
    const reached = new Int32Array(cells.count);
    const effect = new Map<string, Float64Array>();
    const total = new Float64Array(cells.count);
    for (const { terms, options, effects } of fit.draws) {
      total.fill(0);
      terms.forEach((term, a) => {
        const key = this.keys[term]!;
        if (!this.isLocal[term] || this.certain.has(key)) return;
        const column = fit.columns[fit.columnOf(term, options[a]!)]!.cells!;
        const sum = effect.get(key) ?? new Float64Array(cells.count);
        effect.set(key, sum);
        for (let cell = 0; cell < cells.count; cell++) {
          const loss = effects[a]! * column[cell]!;
          total[cell]! += loss;
          sum[cell]! += loss;
        }
      });
      for (let cell = 0; cell < cells.count; cell++) if (total[cell]! >= limit) reached[cell]!++;
    }
    const label: string[] = Array(cells.count).fill("");
    const most = new Float64Array(cells.count);
    for (const [key, sum] of [...effect].sort((a, b) => a[0].localeCompare(b[0])))
      for (let cell = 0; cell < cells.count; cell++)
        if (sum[cell]! > most[cell]!) {
          most[cell] = sum[cell]!;
          label[cell] = key;
        }
    return { probability: Float64Array.from(reached, (count) => count / fit.draws.length), label };
  }

  /** Probability that a term acts with at least this effect. */
  probabilityOf(key: string, leastEffect: number): number {
    let count = 0;
    for (const { terms, effects } of this.fit.draws) {
      let sum = 0;
      terms.forEach((term, a) => {
        if (this.keys[term] === key) sum += effects[a]!;
      });
      if (sum >= leastEffect) count++;
    }
    return count / this.fit.draws.length;
  }

  /** Effects of a term over the draws in which it acts, ascending. */
  effectsOf(key: string): Float64Array {
    const values: number[] = [];
    for (const { terms, effects } of this.fit.draws)
      terms.forEach((term, a) => {
        if (this.keys[term] === key) values.push(effects[a]!);
      });
    return Float64Array.from(values).sort();
  }

  /** How often each option of a term acts, by label. */
  optionShares(key: string): Map<string, number> {
    const shares = new Map<string, number>();
    for (const { terms, options } of this.fit.draws)
      terms.forEach((term, a) => {
        if (this.keys[term] !== key) return;
        const { label } = this.fit.terms[term]!.options[options[a]!]!;
        shares.set(label, (shares.get(label) ?? 0) + 1 / this.fit.draws.length);
      });
    return shares;
  }

  /**
   * What is missing on some cells: factors and unlisted places, and contrasts that may act on just this ground instead.
   * @param also keys of contrasts that belong to this question anyway
   */
  lossOver(members: ArrayLike<number>, also: readonly string[] = []): GroundLoss {
    const { fit, cells } = this;
    const inside = new Float64Array(cells.count);
    let area = 0;
    for (let k = 0; k < members.length; k++) {
      inside[members[k]!] = 1;
      area += cells.areaM2[members[k]!]!;
    }
    const means = new Map<number, number>();
    const meanOf = (column: number): number => {
      const known = means.get(column);
      if (known !== undefined) return known;
      const values = fit.columns[column]!.cells!;
      let sum = 0;
      for (let k = 0; k < members.length; k++) sum += values[members[k]!]! * cells.areaM2[members[k]!]!;
      means.set(column, sum / area);
      return sum / area;
    };
    const takesPart = (term: number, column: number): boolean => {
      if (also.includes(this.keys[term]!)) return true;
      if (!this.isLocal[term]) return false;
      if (!this.isContrast[term]) return true;
      return !this.certain.has(this.keys[term]!) && this.shareInside(column, inside) >= SAME_GROUND;
    };
    const part = new Map<string, boolean>();
    const counts = (term: number, column: number): boolean => {
      const id = `${term} ${column}`;
      const known = part.get(id) ?? takesPart(term, column);
      part.set(id, known);
      return known;
    };
    const remainder = this.remainder(overGround(this.shares, inside));
    const losses = new Float64Array(fit.draws.length);
    const wins = new Map<string, number>();
    let [lossDraws, muchDraws, coincidence, shared] = [0, 0, 0, 0];
    fit.draws.forEach((draw, d) => {
      const by = new Map<string, { loss: number; form: DoseForm }>();
      let effect = 0;
      draw.terms.forEach((term, a) => {
        const key = this.keys[term]!;
        const option = draw.options[a]!;
        const column = fit.columnOf(term, option);
        if (!counts(term, column)) return;
        const loss = draw.effects[a]! * meanOf(column);
        if (loss <= 0) return;
        effect += loss;
        by.set(key, { loss: loss + (by.get(key)?.loss ?? 0), form: fit.terms[term]!.options[option]!.form });
      });
      losses[d] = effect + remainder(draw, effect, d);
      if (effect < LOSS) return;
      lossDraws++;
      if (effect >= MUCH) muchDraws++;
      const ranked = [...by].sort((a, b) => b[1].loss - a[1].loss || a[0].localeCompare(b[0]));
      const [key, { form }] = ranked[0]!;
      wins.set(key, (wins.get(key) ?? 0) + 1);
      if (form === "own" || form === "step") coincidence++;
      if (ranked.length > 1 && ranked[1]![1].loss >= effect / 3) shared++;
    });
    const estimate = mean(losses);
    const standardError = Math.hypot(WIDEN * Math.sqrt(variance(losses)), this.misfitSd);
    return {
      estimate,
      low: estimate - Z90 * standardError,
      high: estimate + Z90 * standardError,
      standardError,
      probability: lossDraws / fit.draws.length,
      probabilityOfMuch: muchDraws / fit.draws.length,
      leading: new Map([...wins].map(([key, count]) => [key, count / lossDraws])),
      coincidenceShare: lossDraws > 0 ? coincidence / lossDraws : 0,
      sharedShare: lossDraws > 0 ? shared / lossDraws : 0,
    };
  }

  /** Share of a column's ground that lies on the marked cells. */
  private shareInside(column: number, inside: Float64Array): number {
    const values = this.fit.columns[column]!.cells!;
    let [all, own] = [0, 0];
    for (let cell = 0; cell < values.length; cell++) {
      const area = values[cell]! * this.cells.areaM2[cell]!;
      all += area;
      own += area * inside[cell]!;
    }
    return all > 0 ? own / all : 0;
  }

  /**
   * Loss on a column by the counts alone (no prior of its own), the mean effects of the other terms taken out.
   * @param apart keys of terms whose effects are left in, being part of the question
   */
  plainLoss(
    column: Float64Array,
    apart: (key: string) => boolean,
  ): { estimate: number; standardError: number } {
    const { fit } = this;
    const own = whitenedLoss(fit.noise, column);
    const information = dot(own, own);
    if (!(information > 1e-9)) return { estimate: 0, standardError: Number.POSITIVE_INFINITY };
    const at = dot(own, fit.whitenedResponse);
    const products = new Map<number, number>();
    const estimates = Float64Array.from(fit.draws, ({ terms, options, effects }) => {
      let left = at;
      terms.forEach((term, a) => {
        if (apart(this.keys[term]!)) return;
        const c = fit.columnOf(term, options[a]!);
        let product = products.get(c);
        if (product === undefined) {
          product = dot(own, fit.whitenedColumns[c]!);
          products.set(c, product);
        }
        left -= effects[a]! * product;
      });
      return left / information;
    });
    return { estimate: mean(estimates), standardError: Math.sqrt(1 / information + variance(estimates)) };
  }

  /** How much the counts on some ground depart from the draw's own effects, drawn in as far as few of them tell. */
  private remainder(
    inside: Float64Array,
  ): (draw: StandFit["draws"][number], effect: number, d: number) => number {
    const { fit } = this;
    const random = seededRandom(104_729);
    const own = whitenedLoss(fit.noise, inside);
    const information = dot(own, own);
    const atResponse = dot(own, fit.whitenedResponse);
    const products = new Map<number, number>();
    const productOf = (column: number): number => {
      const known = products.get(column);
      if (known !== undefined) return known;
      const value = dot(own, fit.whitenedColumns[column]!);
      products.set(column, value);
      return value;
    };
    return ({ terms, options, effects }, effect) => {
      const z = normal(random);
      const prior = Math.hypot(REMAINDER.share * effect, REMAINDER.sd) ** 2;
      let left = atResponse;
      terms.forEach((term, a) => {
        left -= effects[a]! * productOf(fit.columnOf(term, options[a]!));
      });
      const precision = 1 / prior + information;
      return left / precision + z / Math.sqrt(precision);
    };
  }
}
