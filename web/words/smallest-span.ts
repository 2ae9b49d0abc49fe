/** The smallest differences worth a whole axis or ramp: less is drawn as what it is, next to nothing. */
import type { QuantityKind } from "../../src/quantities/format.ts";

/** Inside units (mm, N, shares, m/s, m/s2); our judgement, for drawing only. */
const SMALLEST: Partial<Record<QuantityKind, number>> = {
  depth: 10,
  force: 150,
  share: 0.02,
  speed: 0.3,
  acceleration: 0.1,
};
/** Of quantities without one: this share of their middle (our judgement). */
const SMALLEST_SHARE = 0.05;

/** @param middle of the values, in the same inside units */
export function smallestSpan(kind: QuantityKind, middle: number): number {
  return SMALLEST[kind] ?? SMALLEST_SHARE * Math.abs(middle);
}

/** Ends that lie at least so far apart, around the same middle; a share never below zero. */
export function widened(low: number, high: number, kind: QuantityKind): [number, number] {
  const middle = (low + high) / 2;
  const missing = smallestSpan(kind, middle) - (high - low);
  if (missing <= 0) return [low, high];
  const below = low >= 0 ? Math.min(missing / 2, low) : missing / 2;
  return [low - below, high + missing - below];
}
