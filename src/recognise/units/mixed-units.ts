/** Stands of one file that can only have been written in another unit than the rest. */
import { median } from "../../numerics/descriptive.ts";

/**
 * Ground planted twice stands at twice the middle of the field; more is another unit: plants/ha among plants/ac is 2.47
 * times, a row length in metres among feet 3.28 times (our judgement where the limit lies).
 */
const MOST = 2.2;
/** A count on a thousandth of an acre among plants/ac is 0.001 times; bare ground is 0 (our judgement). */
const LEAST = 0.02;
/** Plants/ac among plants/ha are 0.40 times, which a poor stand may be too (our judgement how near). */
const LIKE_ACRES = [0.37, 0.44] as const;
const FEWEST_LIKE_ACRES = 3;
const FEWEST = 5;
/** So few plants counted on one spot (a hoop) may be twice the middle by chance. */
const FEW_PLANTS = 10;

export interface MixedUnits {
  /** Indices that cannot be plants on the same ground in the same unit. */
  impossible: Set<number>;
  /** Indices that may be in plants/ac among plants/ha: nothing between them and the rest; empty where it cannot be told. */
  doubtful: number[];
  /** Middle of the file, plants/ha. */
  middle: number;
}

/**
 * Looks for stands in another unit.
 * @param standPerHa plants/ha, NaN where unknown
 * @param plants plants counted at each spot, NaN where only the stand was given
 * @returns null with fewer than five stands
 */
export function findMixedUnits(standPerHa: Float64Array, plants: Float64Array): MixedUnits | null {
  const known = standPerHa.filter((value) => value > 0);
  if (known.length < FEWEST) return null;
  const middle = median(known);
  const impossible = new Set<number>();
  const low: number[] = [];
  const like: number[] = [];
  standPerHa.forEach((value, index) => {
    const times = value / middle;
    if (plants[index]! < FEW_PLANTS && times > 1) return;
    if (times > MOST || (times > 0 && times < LEAST)) impossible.add(index);
    else if (times < 0.6) low.push(index);
    if (times >= LIKE_ACRES[0] && times <= LIKE_ACRES[1]) like.push(index);
  });
  // A poor place has stands of every size on its way down; another unit leaves a gap.
  const doubtful = like.length >= FEWEST_LIKE_ACRES && low.length === like.length ? like : [];
  return { impossible, doubtful, middle };
}
