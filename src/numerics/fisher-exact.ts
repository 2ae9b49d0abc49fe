/**
 * One-sided exact test of Fisher (1935, J. R. Stat. Soc. 98:39-82): the chance that the first group has `hits` or more of all
 * hits, where both groups have them equally often.
 * @param hits of `size` in the first group, `otherHits` of `otherSize` in the second
 */
import { logGamma } from "./special-functions.ts";

export function fisherExact(hits: number, size: number, otherHits: number, otherSize: number): number {
  const allHits = hits + otherHits;
  const logOf = (count: number): number =>
    logChoose(size, count) + logChoose(otherSize, allHits - count) - logChoose(size + otherSize, allHits);
  let chance = 0;
  for (let count = Math.min(size, allHits); count >= hits; count--) {
    if (allHits - count <= otherSize) chance += Math.exp(logOf(count));
  }
  return Math.min(1, chance);
}

function logChoose(n: number, k: number): number {
  return logGamma(n + 1) - logGamma(k + 1) - logGamma(n - k + 1);
}
