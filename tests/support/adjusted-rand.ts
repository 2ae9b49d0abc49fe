/** Adjusted Rand index of two labellings (Hubert & Arabie 1985, J. Classif. 2:193-218): 1 same groups, about 0 by chance. */
export function adjustedRandIndex(a: ArrayLike<number>, b: ArrayLike<number>): number {
  const pairs = (counts: Iterable<number>): number => {
    let sum = 0;
    for (const count of counts) sum += (count * (count - 1)) / 2;
    return sum;
  };
  const countsA = new Map<number, number>();
  const countsB = new Map<number, number>();
  const both = new Map<string, number>();
  for (let index = 0; index < a.length; index++) {
    countsA.set(a[index]!, (countsA.get(a[index]!) ?? 0) + 1);
    countsB.set(b[index]!, (countsB.get(b[index]!) ?? 0) + 1);
    const key = `${a[index]} ${b[index]}`;
    both.set(key, (both.get(key) ?? 0) + 1);
  }
  const inA = pairs(countsA.values());
  const inB = pairs(countsB.values());
  const expected = (inA * inB) / ((a.length * (a.length - 1)) / 2);
  return (pairs(both.values()) - expected) / ((inA + inB) / 2 - expected);
}
