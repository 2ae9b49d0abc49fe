/** Small regions given to their neighbours, and regions kept to a number. */
import type { Faces } from "./partition-faces.ts";
import { bordersOf, type Regions, regionsOf } from "./partition-regions.ts";

export interface MergeLimits {
  /** Twice the smallest area of a region, square lattice units. */
  leastDoubledArea: number;
  mostRegions: number;
  /** Labels from here on stand for themselves: they take nothing in and are not given away for their size. */
  firstFixedLabel: number;
}

/**
 * Gives each region below the smallest area to the neighbour it shares the longest border with, the smallest
 * first, then the smallest of all while there are too many. Changes `labels` (one a face); regions without a
 * neighbour stay.
 */
export function mergeRegions(faces: Faces, labels: Int32Array, limits: MergeLimits): Regions {
  for (;;) {
    const regions = regionsOf(faces, labels);
    const tooMany = regions.count - limits.mostRegions;
    const order = regions.doubledArea
      .map((_, region) => region)
      .filter((region) => regions.label[region]! < limits.firstFixedLabel)
      .sort((a, b) => regions.doubledArea[a]! - regions.doubledArea[b]!);
    const small = order.filter((region) => regions.doubledArea[region]! < limits.leastDoubledArea);
    const borders = bordersOf(faces, regions);
    const moved = new Map<number, number>();
    const touched = new Set<number>();
    const giveAway = (region: number): void => {
      if (touched.has(region)) return;
      const neighbour = longestNeighbour(borders[region]!, regions, limits.firstFixedLabel);
      if (neighbour === null || touched.has(neighbour)) return;
      touched.add(region).add(neighbour);
      moved.set(region, regions.label[neighbour]!);
    };
    for (const region of small) giveAway(region);
    if (moved.size === 0 && tooMany > 0) for (const region of order) if (moved.size === 0) giveAway(region);
    if (moved.size === 0) return regions;
    for (let face = 0; face < labels.length; face++) {
      const label = moved.get(regions.ofFace[face]!);
      if (label !== undefined) labels[face] = label;
    }
  }
}

function longestNeighbour(
  borders: ReadonlyMap<number, number>,
  regions: Regions,
  firstFixedLabel: number,
): number | null {
  let best: number | null = null;
  for (const [region, length] of borders) {
    if (regions.label[region]! >= firstFixedLabel) continue;
    if (best === null || length > borders.get(best)! || (length === borders.get(best) && region < best))
      best = region;
  }
  return best;
}
