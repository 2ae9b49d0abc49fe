/** Two counts of one spot: do they agree as well as counting can? */
import type { StandCounts } from "../field/field.ts";

/** Counts nearer to each other than this are of one spot, m (our judgement: about the error of a position). */
const ONE_SPOT_M = 1;
/** Standard errors of their difference beyond which two counts disagree: one pair in a thousand by chance (two-sided normal law). */
const CRITICAL_Z = 3.29;
/** Two people counting the same row differ by less than this share (our judgement). */
const LEAST_DIFFERENCE = 0.15;

/** Two counts of one spot, as places in the counts, ascending. */
export interface RepeatCount {
  first: number;
  second: number;
  /** True where they differ by more than counting the same seeds can explain. */
  disagree: boolean;
}

/**
 * Counts made again within a metre in the same row unit.
 * @param seedsPerHa seeds dropped on the field, seeds/ha; null where unknown
 */
export function repeatCounts(counts: StandCounts, seedsPerHa: number | null): RepeatCount[] {
  const order = [...counts.x.keys()].sort((a, b) => counts.x[a]! - counts.x[b]! || a - b);
  const found: RepeatCount[] = [];
  order.forEach((spot, k) => {
    for (let other = k + 1; other < order.length; other++) {
      const next = order[other]!;
      if (counts.x[next]! - counts.x[spot]! > ONE_SPOT_M) break;
      const away = Math.hypot(counts.x[next]! - counts.x[spot]!, counts.y[next]! - counts.y[spot]!);
      if (away > ONE_SPOT_M || counts.rowUnit[next] !== counts.rowUnit[spot]) continue;
      const [first, second] = [Math.min(spot, next), Math.max(spot, next)];
      found.push({ first, second, disagree: isDisagreement(counts, first, second, seedsPerHa) });
    }
  });
  return found;
}

/** Binomial counts of one share of the seeds; false where the plants counted are not known. */
function isDisagreement(
  { standPerHa, plants }: StandCounts,
  first: number,
  second: number,
  seedsPerHa: number | null,
): boolean {
  const spots = [first, second];
  // Ground of each count, from its plants and its stand; none of either says nothing.
  const hectares = spots.map((spot) => plants[spot]! / standPerHa[spot]!).filter((area) => area > 0);
  if (hectares.length === 0) return false;
  const areas = spots.map((spot) => {
    const own = plants[spot]! / standPerHa[spot]!;
    return own > 0 ? own : hectares[0]!;
  });
  const stand = (areas[0]! * standPerHa[first]! + areas[1]! * standPerHa[second]!) / (areas[0]! + areas[1]!);
  const up = seedsPerHa === null ? 0 : Math.min(1, stand / seedsPerHa);
  const variance = areas.reduce((sum, area) => sum + (stand * (1 - up)) / area, 0);
  const difference = Math.abs(standPerHa[first]! - standPerHa[second]!);
  return (
    difference > CRITICAL_Z * Math.sqrt(variance) &&
    difference > LEAST_DIFFERENCE * Math.max(standPerHa[first]!, standPerHa[second]!)
  );
}
