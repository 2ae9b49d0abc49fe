/** Slope in the direction of travel, from the elevation of the moments along a pass. */

/** Elevations of a satellite receiver wander by some centimetres: slopes are taken over this much way at least (our judgement). */
const LEAST_BASE_M = 20;

/**
 * Slope at each moment, percent, uphill positive: the rise from the last moment at least half the base before to the first
 * one at least half the base behind it, over the way between them; NaN near the ends of a pass.
 * Moments of a pass follow each other in order of planting.
 * @param elevation mean elevation at the moment, m
 * @param alongM distance along the pass, m
 * @param passOf pass of each moment
 */
export function slopesAlong(elevation: Float64Array, alongM: Float64Array, passOf: Int32Array): Float64Array {
  const slopes = new Float64Array(elevation.length).fill(Number.NaN);
  let from = 0;
  for (let end = 1; end <= elevation.length; end++) {
    if (end < elevation.length && passOf[end] === passOf[from]) continue;
    let back = from;
    let ahead = from;
    for (let k = from; k < end; k++) {
      const here = alongM[k]!;
      while (back + 1 < k && alongM[back + 1]! <= here - LEAST_BASE_M / 2) back++;
      while (ahead < end - 1 && alongM[ahead]! < here + LEAST_BASE_M / 2) ahead++;
      const way = alongM[ahead]! - alongM[back]!;
      if (way >= LEAST_BASE_M && alongM[back]! < here && alongM[ahead]! > here) {
        slopes[k] = (100 * (elevation[ahead]! - elevation[back]!)) / way;
      }
    }
    from = end;
  }
  return slopes;
}
