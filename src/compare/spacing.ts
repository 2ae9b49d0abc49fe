/** Spacing of seeds or plants along the row: the indices of precision seeding. */
import { mean, standardDeviation } from "../numerics/descriptive.ts";
import { SQUARE_METRES_PER_HECTARE } from "../quantities/units.ts";

/** Shares 0..1 of multiples, singles (quality of feed) and misses; they sum to 1. */
export interface SpacingIndices {
  multiples: number;
  singles: number;
  misses: number;
}

export interface SpacingSummary extends SpacingIndices {
  spacings: number;
  /** SD (n - 1) of the single spacings divided by the theoretical spacing, 0..0.5; null for fewer than two. */
  precision: number | null;
  meanMm: number;
  /** SD (n - 1) of all spacings, mm; null for fewer than two. */
  sdMm: number | null;
}

/** Theoretical spacing in the row, mm: one seed on 10,000 m2 / (seeds per hectare x row spacing). */
export function theoreticalSpacingMm(seedsPerHa: number, rowSpacingM: number): number {
  return (1000 * SQUARE_METRES_PER_HECTARE) / (seedsPerHa * rowSpacingM);
}

/**
 * Spacing indices that count spacings (Kachman & Smith 1995, Trans. ASAE 38(2):379-387, from memory): up to half
 * the theoretical spacing is a multiple, up to one and a half a single, beyond a miss; limits belong to the
 * lower class. Precision is the SD of the singles over the theoretical spacing (not over their mean).
 * @param spacingsMm distances between neighbours in the row, mm; at least one
 */
export function summariseSpacings(spacingsMm: readonly number[], theoreticalMm: number): SpacingSummary {
  const count = spacingsMm.length;
  const regions = regionCounts(spacingsMm, theoreticalMm);
  const singles = spacingsMm.filter((spacing) => regionOf(spacing, theoreticalMm) === 1);
  return {
    spacings: count,
    multiples: regions[0] / count,
    singles: regions[1] / count,
    misses: (regions[2] + regions[3] + regions[4]) / count,
    precision: singles.length > 1 ? standardDeviation(singles) / theoreticalMm : null,
    meanMm: mean(spacingsMm),
    sdMm: count > 1 ? standardDeviation(spacingsMm) : null,
  };
}

/**
 * Indices that count seeds (rule of ISO 7256-1, from memory): with N spacings, n2 of them multiples, there are
 * n1 = N - 2 n2 singles, n0 misses (one, two or three for spacings about 2, 3 or more times the theoretical
 * one), and shares are of n2 + n1 + n0. They differ from those that count spacings: say which one is shown.
 */
export function seedCountIndices(spacingsMm: readonly number[], theoreticalMm: number): SpacingIndices {
  const regions = regionCounts(spacingsMm, theoreticalMm);
  const multiples = regions[0];
  const singles = spacingsMm.length - 2 * multiples;
  const misses = regions[2] + 2 * regions[3] + 3 * regions[4];
  const all = multiples + singles + misses;
  return { multiples: multiples / all, singles: singles / all, misses: misses / all };
}

type RegionCounts = [number, number, number, number, number];

function regionCounts(spacingsMm: readonly number[], theoreticalMm: number): RegionCounts {
  const counts: RegionCounts = [0, 0, 0, 0, 0];
  for (const spacing of spacingsMm) counts[regionOf(spacing, theoreticalMm)]++;
  return counts;
}

/** Region 0..4 of a spacing: limits at 0.5, 1.5, 2.5 and 3.5 times the theoretical one, each in the lower region. */
function regionOf(spacingMm: number, theoreticalMm: number): 0 | 1 | 2 | 3 | 4 {
  const ratio = spacingMm / theoreticalMm;
  if (ratio <= 0.5) return 0;
  if (ratio <= 1.5) return 1;
  if (ratio <= 2.5) return 2;
  return ratio <= 3.5 ? 3 : 4;
}
