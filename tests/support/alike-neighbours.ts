import { normal, type Random } from "../../src/numerics/random.ts";

/** A series of normal numbers of SD 1 in which neighbours correlate by `correlation` (first-order autoregression). */
export function alikeNeighbours(count: number, correlation: number, random: Random): Float64Array {
  const series = new Float64Array(count);
  let last = normal(random);
  for (let place = 0; place < count; place++) {
    series[place] = last;
    last = correlation * last + Math.sqrt(1 - correlation * correlation) * normal(random);
  }
  return series;
}
