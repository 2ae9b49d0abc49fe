/** Exact limits of a share (Clopper & Pearson 1934, Biometrika 26:404), by bisection of the binomial tail. */

/** Limits that the hits of the tries leave open at a level, 0..1. */
export function exactBounds(hits: number, tries: number, level = 0.95): { low: number; high: number } {
  const tail = (1 - level) / 2;
  return {
    low: hits === 0 ? 0 : bisect((share) => upperTail(hits, tries, share) - tail),
    high: hits === tries ? 1 : bisect((share) => tail - (1 - upperTail(hits + 1, tries, share))),
  };
}

/** P(X >= hits) for a binomial law. */
function upperTail(hits: number, tries: number, share: number): number {
  let sum = 0;
  let logChoose = 0;
  for (let k = 0; k <= tries; k++) {
    if (k > 0) logChoose += Math.log((tries - k + 1) / k);
    if (k >= hits) sum += Math.exp(logChoose + k * Math.log(share) + (tries - k) * Math.log1p(-share));
  }
  return Math.min(1, sum);
}

/** Where a rising function crosses zero between 0 and 1. */
function bisect(rising: (share: number) => number): number {
  let [low, high] = [0, 1];
  for (let step = 0; step < 50; step++) {
    const middle = (low + high) / 2;
    if (rising(middle) > 0) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}
