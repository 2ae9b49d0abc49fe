/**
 * How much patchier one part of a field is than the whole: the factor k of the covariance. One noise level for all
 * raises false alarms where the ground is patchiest (12 to 25 % of simulated fields with one zone twice as patchy; this
 * way 0 to 8 %; with dense counts and a strength that changes over the field 6 of 15 against 1 of 15).
 */
import Flatbush from "flatbush";
import { neighboursWithin } from "../../cells/neighbours.ts";
import { MAD_TO_SD, mean, median, medianAbsoluteDeviation } from "../../numerics/descriptive.ts";

/** Points of the model with their residuals; every array has one entry a point. */
export interface PatchinessInput {
  /** Local metres. */
  x: Float64Array;
  y: Float64Array;
  /** Zone index, -1 where none. */
  zone: Int32Array;
  /** Response minus what zones and planting account for. */
  residual: Float64Array;
  /** Known variance of counting, or null. */
  countingVariance: Float64Array | null;
  /** Loss that was taken out of the residual, share of stand; null where none was. */
  loss?: Float64Array | null;
}

/** Two points whose losses differ by more than this lie on either side of an edge, share of stand (our judgement). */
const EDGE = 0.03;

/** Whether the difference of two residuals tells of an edge, whose place is never drawn well, and not of patchiness. */
export function isAcrossEdge(loss: Float64Array | null | undefined, one: number, other: number): boolean {
  return loss ? Math.abs(loss[one]! - loss[other]!) > EDGE : false;
}

/** k at any points of the field. */
export type Patchiness = (at: Pick<PatchinessInput, "x" | "y" | "zone">) => Float64Array;

/** Points that the field's own spread counts for in a zone's: few points say little of it (our judgement). */
const BORROWED_POINTS = 10;
const LIMITS = [0.8, 2.5] as const;

/** Variance beside that of counting, of which a quarter of what is seen is kept at least. */
function beside(seen: number, counting: number): number {
  return Math.max(seen / 4, seen - counting);
}

/** k from a part's variance and the field's, the field's counting for as many points as are borrowed. */
function drawnTowardsOne(own: number, points: number, overall: number, borrowed: number): number {
  const ratio = (points * own + borrowed * overall) / ((points + borrowed) * overall);
  return Math.min(LIMITS[1], Math.max(LIMITS[0], Math.sqrt(ratio) || 1));
}

/** By zone, for few points: robust variance of its residuals against that of all. */
export function patchinessByZone({ residual, zone, countingVariance }: PatchinessInput): Patchiness {
  const spreadOf = (values: Float64Array, counting: Float64Array | null): number =>
    beside(medianAbsoluteDeviation(values) ** 2, counting ? mean(counting) : 0);
  const overall = spreadOf(residual, countingVariance);
  const ofZone = new Map<number, number>();
  for (const index of new Set(zone)) {
    const inZone = (_: number, i: number): boolean => zone[i] === index;
    const own = residual.filter(inZone);
    const spread = spreadOf(own, countingVariance?.filter(inZone) ?? null);
    ofZone.set(index, drawnTowardsOne(spread, own.length, overall, BORROWED_POINTS));
  }
  return (at) => Float64Array.from(at.zone, (index) => ofZone.get(index) ?? 1);
}

/** Points about a place whose differences tell its patchiness lie within this, m (chosen on simulated fields). */
const ABOUT_M = 75;
/** Points are paired with those up to this many usual distances away (chosen on simulated fields). */
const PAIRED_WITHIN = 3;
/** Points that the whole field counts for in the surroundings of a place (chosen on simulated fields). */
const BORROWED_ABOUT = 20;
const FEWEST_PAIRS = 10;

/**
 * By place, for many points: robust variance of the differences between near points. A place that is short as a whole
 * changes only the differences over its edge, so that it does not hide itself by looking patchy.
 * @param spacingM usual distance from a point to the nearest
 */
export function patchinessByPlace(input: PatchinessInput, spacingM: number): Patchiness {
  const { x, y, residual, countingVariance } = input;
  const near = neighboursWithin(x, y, PAIRED_WITHIN * spacingM);
  const pairs: { x: number; y: number; step: number }[] = [];
  for (let i = 0; i < x.length; i++) {
    for (let k = near.start[i]!; k < near.start[i + 1]!; k++) {
      const j = near.index[k]!;
      if (j > i || isAcrossEdge(input.loss, i, j)) continue;
      const step = Math.abs(residual[i]! - residual[j]!);
      pairs.push({ x: (x[i]! + x[j]!) / 2, y: (y[i]! + y[j]!) / 2, step });
    }
  }
  if (pairs.length < FEWEST_PAIRS) return (at) => new Float64Array(at.x.length).fill(1);
  const tree = new Flatbush(pairs.length);
  for (const pair of pairs) tree.add(pair.x, pair.y, pair.x, pair.y);
  tree.finish();
  const counting = countingVariance ? 2 * mean(countingVariance) : 0;
  const spreadOf = (list: readonly { step: number }[]): number =>
    beside((MAD_TO_SD * median(Float64Array.from(list, ({ step }) => step))) ** 2, counting);
  const overall = spreadOf(pairs);
  const pairsPerPoint = pairs.length / x.length;
  return (at) =>
    Float64Array.from(at.x, (atX, i) => {
      const atY = at.y[i]!;
      const about = tree
        .search(atX - ABOUT_M, atY - ABOUT_M, atX + ABOUT_M, atY + ABOUT_M)
        .map((pair) => pairs[pair]!)
        .filter((pair) => (pair.x - atX) ** 2 + (pair.y - atY) ** 2 < ABOUT_M ** 2);
      if (about.length < FEWEST_PAIRS) return 1;
      return drawnTowardsOne(spreadOf(about), about.length / pairsPerPoint, overall, BORROWED_ABOUT);
    });
}
