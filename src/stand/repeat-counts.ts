/** Two counts of one spot: do they agree as well as counting can? */
import type { StandCounts } from "../vocabulary/field.ts";

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

/** A count is held against so many others of its spot, no more: a file that has one spot thousands of times ends too. */
const MOST_PARTNERS = 20;

/**
 * Counts made again within a metre in the same row unit.
 * @param seedsPerHa seeds dropped on the field, seeds/ha; null where unknown
 */
export function repeatCounts(counts: StandCounts, seedsPerHa: number | null): RepeatCount[] {
  const order = [...counts.x.keys()].sort((a, b) => counts.x[a]! - counts.x[b]! || a - b);
  // Counts passed so far, by lines of a metre along y: those near the next one are the last of three lines.
  const lines = new Map<number, number[]>();
  const pairs: [earlier: number, later: number][] = [];
  order.forEach((spot, later) => {
    const line = Math.floor(counts.y[spot]! / ONE_SPOT_M);
    let partners = 0;
    for (let near = line - 1; near <= line + 1; near++) {
      const passed = lines.get(near) ?? [];
      for (let k = passed.length - 1; k >= 0 && partners < MOST_PARTNERS; k--) {
        const before = order[passed[k]!]!;
        if (counts.x[spot]! - counts.x[before]! > ONE_SPOT_M) break;
        const away = Math.hypot(counts.x[spot]! - counts.x[before]!, counts.y[spot]! - counts.y[before]!);
        if (away > ONE_SPOT_M || counts.rowUnit[spot] !== counts.rowUnit[before]) continue;
        pairs.push([passed[k]!, later]);
        partners++;
      }
    }
    const own = lines.get(line);
    if (own) own.push(later);
    else lines.set(line, [later]);
  });
  return pairs
    .sort((a, b) => a[0] - b[0] || a[1] - b[1])
    .map((pair) => {
      const [first, second] = pair.map((k) => order[k]!).sort((a, b) => a - b) as [number, number];
      return { first, second, disagree: isDisagreement(counts, first, second, seedsPerHa) };
    });
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
