/**
 * Mean stand of the field: counts crowded where it looked bad have the weight of their ground, not of their number.
 * Weights by ground are those of polygon and cell declustering (Isaaks & Srivastava 1989, Introduction to Applied
 * Geostatistics, ch. 10; Deutsch & Journel 1998, GSLIB, declus) with a crowded spot as one piece of ground; poststratified
 * by area (Cochran 1977, 5A.9). Passes are the clusters of the standard error.
 */
import type { Estimate } from "../numerics/estimate.ts";
import type { Passes } from "../passes/passes.ts";
import type { Field } from "../vocabulary/field.ts";
import { type CloseCounts, type CountedGround, closeCounts, repeatedCounts } from "./close-counts.ts";
import { clusteredMean } from "./clustered-mean.ts";
import { lateShareAt } from "./late-share.ts";
import { referencePopulation, type Spots } from "./spots.ts";

export const MEAN_STAND_LEVEL = 0.9;

/** Spread of single counts over a field, share of their mean, where one count shows none (our judgement). */
const USUAL_SPREAD = 0.08;
/** Spread of the share of late plants from count to count, likewise (our judgement). */
const USUAL_LATE_SPREAD = 0.1;
/** Counts outside the crowded spots that can speak for the rest of the field (our judgement). */
const FEWEST_ELSEWHERE = 3;

export interface MeanStand {
  counts: number;
  /** Plants/ha. */
  perHa: Estimate;
  /** Share of the target (where none is given, of the usual rate dropped); null where neither is known. */
  ofTarget: Estimate | null;
  /** Share of the plants late; null where no count looked. */
  lateShare: Estimate | null;
  /** Counts that crowd some ground, and its share of the field; null where none do. */
  crowded: { counts: number; spots: number; groundShare: number } | null;
  /** False where counts lie in crowded spots alone: no weighting makes them speak for the field. */
  speaksForField: boolean;
  /** Mean of all counts alike, plants/ha. */
  plainPerHa: number;
}

/** Counts as the mean takes them; one entry a count. */
export interface MeanStandInput {
  x: ArrayLike<number>;
  y: ArrayLike<number>;
  /** Plants/ha. */
  standPerHa: ArrayLike<number>;
  /** Share of the target at the very spot, NaN where unknown. */
  ofTarget: ArrayLike<number>;
  lateShare: ArrayLike<number>;
  pass: ArrayLike<number>;
  ground: CountedGround;
}

/** @returns null without counts */
export function meanStand(input: MeanStandInput): MeanStand | null {
  const count = input.x.length;
  if (count === 0) return null;
  const spots = repeatedCounts(input.x, input.y);
  const groups = closeCounts(
    spots.map((members) => meanAt(input.x, members)),
    spots.map((members) => meanAt(input.y, members)),
    input.ground,
  );
  const votes = votesOf(spots, groups, input.pass);
  const everything = Array.from({ length: count }, (_, i) => i);
  const plainPerHa = meanAt(input.standPerHa, everything);
  const over = (values: ArrayLike<number>, assumedSd: number, highest = Number.POSITIVE_INFINITY) => {
    const mean = clusteredMean(
      { ...votes, values: votes.members.map((members) => meanAt(values, members)), assumedSd },
      MEAN_STAND_LEVEL,
    );
    return mean && { ...mean, low: Math.max(0, mean.low), high: Math.min(highest, mean.high) };
  };
  const perHa = over(input.standPerHa, USUAL_SPREAD * plainPerHa);
  if (!perHa) return null;
  const crowdedSpots = groups.flatMap(({ members }) => members);
  return {
    counts: count,
    perHa,
    ofTarget: over(input.ofTarget, USUAL_SPREAD),
    lateShare: over(input.lateShare, USUAL_LATE_SPREAD, 1),
    crowded:
      groups.length === 0
        ? null
        : {
            counts: crowdedSpots.reduce((sum, spot) => sum + spots[spot]!.length, 0),
            spots: groups.length,
            groundShare: groups.reduce((sum, { groundShare }) => sum + groundShare, 0),
          },
    speaksForField:
      (crowdedSpots.length < spots.length || groups.length !== 1) && (spots.length > 1 || count === 1),
    plainPerHa,
  };
}

/** What the mean is taken over: each vote the mean of its counts. */
interface Votes {
  members: readonly (readonly number[])[];
  stratumOf: ArrayLike<number>;
  stratumWeights: readonly number[];
  clusterOf: ArrayLike<number>;
}

/**
 * Every spot has a vote where no ground is crowded. Else each crowded piece of ground is a stratum with the weight of its
 * size, and the spots elsewhere have the rest; where too few lie elsewhere, every crowded piece has one vote too.
 */
function votesOf(
  spots: readonly (readonly number[])[],
  groups: readonly CloseCounts[],
  pass: ArrayLike<number>,
): Votes {
  const stratumOf = new Int32Array(spots.length).fill(groups.length);
  groups.forEach(({ members }, group) => {
    for (const spot of members) stratumOf[spot] = group;
  });
  const elsewhere = spots.filter((_, spot) => stratumOf[spot] === groups.length);
  const shares = groups.map(({ groundShare }) => groundShare);
  const rest = Math.max(0, 1 - shares.reduce((sum, share) => sum + share, 0));
  if (elsewhere.length >= FEWEST_ELSEWHERE || (groups.length === 1 && elsewhere.length === 0))
    return {
      members: spots,
      stratumOf,
      stratumWeights: [...shares, rest],
      clusterOf: spots.map(([first]) => pass[first!]!),
    };
  const pieces = groups.map(({ members }) => members.flatMap((spot) => spots[spot]!));
  const members = [...pieces, ...elsewhere];
  return {
    members,
    stratumOf: new Int32Array(members.length),
    stratumWeights: [1],
    clusterOf: members.map((_, vote) => vote),
  };
}

/** Mean of the values present among the members, NaN where none is. */
function meanAt(values: ArrayLike<number>, members: readonly number[]): number {
  let sum = 0;
  let count = 0;
  for (const i of members) {
    if (Number.isNaN(values[i]!)) continue;
    sum += values[i]!;
    count++;
  }
  return count > 0 ? sum / count : Number.NaN;
}

/**
 * Mean stand of a loaded field.
 * @param spots counts joined to the log; null where the field has no population to compare them with
 */
export function meanStandOf(field: Field, passes: Passes, spots: Spots | null): MeanStand | null {
  const counts = field.standCounts;
  if (!counts || counts.spotCount === 0) return null;
  const source = spots ? spots.source : Int32Array.from({ length: counts.spotCount }, (_, s) => s);
  const reference = referencePopulation(field);
  return meanStand({
    x: Float64Array.from(source, (s) => counts.x[s]!),
    y: Float64Array.from(source, (s) => counts.y[s]!),
    standPerHa: Float64Array.from(source, (s) => counts.standPerHa[s]!),
    ofTarget: Float64Array.from(source, (s, spot) => {
      const wanted = wantedAt(field, spots, spot) ?? reference;
      return wanted ? counts.standPerHa[s]! / wanted : Number.NaN;
    }),
    lateShare: Float64Array.from(source, (s) => lateShareAt(counts, s)),
    // Without a join the counts stand each for themselves.
    pass: spots ? spots.pass : source,
    ground: {
      x: field.log.x,
      y: field.log.y,
      areaM2: Float64Array.from(passes.distanceM, (distance, i) =>
        passes.passOf[i]! > 0 ? distance * passes.widthM[i]! : 0,
      ),
    },
  });
}

/** Target logged beneath a spot, seeds/ha, which goes before the one of the manifest; null where the log has none there. */
function wantedAt(field: Field, spots: Spots | null, spot: number): number | null {
  const logged = field.log.values.targetPopulation;
  if (!logged || !spots) return null;
  const { start, records } = spots.beneath;
  let sum = 0;
  let count = 0;
  for (let k = start[spot]!; k < start[spot + 1]!; k++) {
    const wanted = logged[records[k]!]!;
    if (!(wanted > 0)) continue;
    sum += wanted;
    count++;
  }
  return count > 0 ? sum / count : null;
}
