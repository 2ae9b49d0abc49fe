/**
 * P-values corrected for their number by Holm's step-down (Holm 1979, Scand. J. Stat. 6:65-70): the chance of any false one is
 * held, whatever hangs together with what.
 * @returns corrected values in the order given, each at most 1
 */
export function holm(pValues: readonly number[]): number[] {
  const order = [...pValues.keys()].sort((a, b) => pValues[a]! - pValues[b]! || a - b);
  const corrected: number[] = Array(pValues.length).fill(1);
  let largest = 0;
  order.forEach((index, rank) => {
    largest = Math.max(largest, Math.min(1, (pValues.length - rank) * pValues[index]!));
    corrected[index] = largest;
  });
  return corrected;
}
