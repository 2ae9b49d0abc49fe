/** What one count says of the stand around it: plants/ha and the share of the seeds that came up, with intervals. */
import { mean, variance } from "../numerics/descriptive.ts";
import { normalQuantile } from "../numerics/distributions.ts";
import type { StandCounts } from "../vocabulary/field.ts";
import { type ShareInterval, wilsonInterval } from "./count-precision.ts";
import type { Spots } from "./spots.ts";

export interface CountInterval {
  /** Stand of the ground about the spot, plants/ha: the counted rows are a sample of it. */
  standPerHa: { estimate: number; low: number; high: number };
  /** Plants / seeds dropped at that very spot; null where the log has no rate there. */
  emerged: { estimate: number; low: number; high: number } | null;
  level: number;
}

/**
 * Intervals of one count. Plants are binomial of the seeds dropped on the counted ground (Wilson 1927; shares above 1
 * count as 1): N seeds = rate x ground, ground = plants / stand. To the emerged share is added, in quadrature, what the
 * rate of seeds may be off because the position is ({@link Spots.seedsSpread}), and the rounding of whole seeds at the
 * two ends of each counted row (half a seed each way, uniform: variance 1/6 a row). A hoop cuts rows anywhere:
 * {@link hoopCuts}.
 * @param spot index into `spots`
 * @param referencePerHa seeds/ha taken where the log has no rate
 * @param cuts relative variance of the row within the counted ground, 0 for lengths of row
 * @returns null where the plants counted are not known, or none were
 */
export function countInterval(
  counts: Pick<StandCounts, "plants" | "standPerHa" | "rowsCounted">,
  spots: Spots,
  spot: number,
  referencePerHa: number,
  cuts = 0,
  level = 0.9,
): CountInterval | null {
  const source = spots.source[spot]!;
  const plants = counts.plants[source]!;
  const stand = counts.standPerHa[source]!;
  if (!(plants > 0) || !(stand > 0)) return null;
  const rate = spots.seedsPerHa[spot]!;
  const seedsPerHa = Number.isNaN(rate) ? referencePerHa : rate;
  const seeds = Math.max(plants, (seedsPerHa * plants) / stand);
  const share = wilsonInterval(plants, seeds, level);
  const rows = counts.rowsCounted[source]!;
  const ends = (Number.isNaN(rows) ? 1 : rows) / 6 / seeds ** 2;
  const sides = (relativeVariance: number, estimate: number, scale: number) => ({
    estimate,
    low: Math.max(0, estimate - scale * side(share, share.low, relativeVariance, level)),
    high: estimate + scale * side(share, share.high, relativeVariance, level),
  });
  const emerged = plants / ((seedsPerHa * plants) / stand);
  return {
    standPerHa: sides(ends + cuts, stand, stand / share.share),
    emerged: Number.isNaN(rate)
      ? null
      : sides(ends + cuts + spots.seedsSpread[spot]! ** 2, emerged, emerged / share.share),
    level,
  };
}

/** Distance from the share to a limit with a further relative variance added in quadrature. */
function side({ share }: ShareInterval, limit: number, relativeVariance: number, level: number): number {
  return Math.hypot(limit - share, normalQuantile(0.5 + level / 2) * share * Math.sqrt(relativeVariance));
}

/**
 * Relative variance of the length of row within a hoop thrown at random: the chords of all rows it crosses, over its
 * place across the rows (rows evenly apart, the throw uniform).
 * @param hoopDiameterM diameter, m, > 0
 * @param rowSpacingM distance between rows, m, > 0
 */
export function hoopCuts(hoopDiameterM: number, rowSpacingM: number): number {
  const radius = hoopDiameterM / 2;
  const throws = Float64Array.from({ length: HOOP_STEPS }, (_, step) => {
    let length = 0;
    const first = (step / HOOP_STEPS) * rowSpacingM;
    for (
      let across = first - Math.ceil(radius / rowSpacingM) * rowSpacingM;
      across < radius;
      across += rowSpacingM
    )
      length += 2 * Math.sqrt(Math.max(0, radius ** 2 - across ** 2));
    return length;
  });
  return variance(throws) / mean(throws) ** 2;
}

const HOOP_STEPS = 200;
