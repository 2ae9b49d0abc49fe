/** What may have lowered the stand: terms of the model, each on or off, with the ways it can act. */

/** What a term stands for; findings take their kind and cause from it. */
export type TermKind =
  | "factor"
  | "unlisted"
  | "field"
  | "soil-zone"
  | "planting-day"
  | "seed-lot"
  | "change-point"
  | "bar-half"
  | "section"
  | "track-rows"
  | "end-rows"
  | "direction"
  | "trend"
  | "row-unit";

/** A column of the model: how much of the term's effect each point and each cell takes, mostly 0..1. */
export interface Column {
  points: Float64Array;
  /** Null for what runs across the bar (rows, halves): it has no ground of its own. */
  cells: Float64Array | null;
}

/**
 * How a dose was drawn from the log: by the published curve or a wider one, by departure from what is usual on the field, or
 * as a plain step; "place" for terms that are no dose.
 */
export type DoseForm = "published" | "wide" | "own" | "step" | "place";

export interface TermOption {
  column: Column;
  form: DoseForm;
  /** Prior of the effect, a normal law cut at 0: mean and variance, and the option's share of the term's prior. */
  mean: number;
  variance: number;
  weight: number;
  /** What the option stands for where a term has several (place of a cut, shape of a place). */
  label: string;
}

export interface Term {
  kind: TermKind;
  /** Factor, zone, day, lot or row that the term is about. */
  name: string;
  /** Prior probability that the term acts at all. */
  inclusion: number;
  options: TermOption[];
}

/** A slab of the prior of an effect. */
export interface Slab {
  mean: number;
  sd: number;
  weight: number;
}

/** Size of a shortfall without a dose, share of stand: mostly some points, now and then far more (our judgement). */
export const SHORTFALL_SLABS: readonly Slab[] = [
  { mean: 0.08, sd: 0.05, weight: 0.6 },
  { mean: 0.22, sd: 0.12, weight: 0.4 },
];

/** One option a slab. */
export function optionsOf(
  column: Column,
  form: DoseForm,
  weight: number,
  slabs: readonly Slab[],
  label = "",
): TermOption[] {
  return slabs.map((slab) => ({
    column,
    form,
    mean: slab.mean,
    variance: slab.sd ** 2,
    weight: weight * slab.weight,
    label,
  }));
}
