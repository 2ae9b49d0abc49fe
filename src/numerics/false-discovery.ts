/**
 * P-values corrected for their number by the step-up of Benjamini & Hochberg (1995, J. R. Stat. Soc. B 57:289-300): calling
 * all below q keeps the expected share of false ones among those called at q or less, for independent tests and for tests
 * that depend on each other positively (Benjamini & Yekutieli 2001, Ann. Stat. 29:1165-1188).
 * @returns corrected values in the order given, each at most 1
 */
export function falseDiscovery(pValues: readonly number[]): number[] {
  const order = [...pValues.keys()].sort((a, b) => pValues[b]! - pValues[a]! || b - a);
  const corrected: number[] = Array(pValues.length).fill(1);
  let smallest = 1;
  order.forEach((index, fromTop) => {
    smallest = Math.min(smallest, (pValues[index]! * pValues.length) / (pValues.length - fromTop));
    corrected[index] = smallest;
  });
  return corrected;
}
