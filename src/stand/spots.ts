/**
 * Counted spots joined to the records beneath them: which pass, which row units, and how many plants of
 * the target population stand there.
 */
import { mean, median } from "../numerics/descriptive.ts";
import { PointBins } from "../numerics/point-bins.ts";
import { positiveOf } from "../numerics/present.ts";
import { footprintCentre } from "../passes/covered-ground.ts";
import type { Passes } from "../passes/passes.ts";
import type { RecordGroups } from "../passes/record-groups.ts";
import type { Field } from "../vocabulary/field.ts";
import { lateShareAt } from "./late-share.ts";

/** One entry a spot that lies on planted ground, in the order of the counts. */
export interface Spots {
  count: number;
  /** Index into field.standCounts. */
  source: Int32Array;
  x: Float64Array;
  y: Float64Array;
  /** Plants as a share of the target population (1 = every targeted plant stands). */
  response: Float64Array;
  /** Variance of the response from counting few plants (binomial at the seeds dropped there); 0 where unknown. */
  countingVariance: Float64Array;
  /** Our pass number and distance along it. */
  pass: Int32Array;
  alongM: Float64Array;
  /** Soil zone index of the nearest record, -1 where none. */
  zone: Int32Array;
  /** Records beneath the counted rows. */
  beneath: RecordGroups;
  /** Seeds dropped at the very spot, seeds/ha, NaN where the log has no rate there. */
  seedsPerHa: Float64Array;
  /** SD of that rate over places {@link POSITION_ERROR_M} away, as a share of it: the counted rows may be the next ones. */
  seedsSpread: Float64Array;
  /** Share of plants late, counted or by a flag test; NaN where neither. */
  lateShare: Float64Array;
  /** Number of counts that lie off the planted ground and are not used. */
  offGround: number;
}

/** Population (plants/ha) that a full stand would have: the target, or where none is given the usual rate dropped. */
export function referencePopulation(field: Field): number | null {
  if (field.targets.populationPerHa) return field.targets.populationPerHa;
  for (const source of [field.log.values.targetPopulation, field.log.values.population]) {
    const usual = source && usualRate(source);
    if (usual) return usual;
  }
  return null;
}

/** What a column of the log was found to be: it is asked for each count and each zone, and is a median of the whole log. */
const usualRates = new WeakMap<Float64Array, number | null>();

function usualRate(column: Float64Array): number | null {
  const known = usualRates.get(column);
  if (known !== undefined) return known;
  const present = positiveOf(column);
  const usual = present.length > 0 ? median(present) : null;
  usualRates.set(column, usual);
  return usual;
}

const BIN_M = 10;
/** A count further from every record than this is off the planted ground, m (our judgement). */
const NEAREST_M = 30;
/** Half a bar, m: how far across its middle a record may reach or be told from by its row unit (our judgement). */
const HALF_BAR_M = 20;
const ROUNDING_M = 1e-6;

/** Error of the position of a count, m each way: a receiver in the hand (our judgement). */
export const POSITION_ERROR_M = 2;
const SIDES = [
  [POSITION_ERROR_M, 0],
  [-POSITION_ERROR_M, 0],
  [0, POSITION_ERROR_M],
  [0, -POSITION_ERROR_M],
] as const;

/**
 * Joins the counts to the log.
 * @param zoneOfRecord soil zone of each record
 * @returns null when there are no counts or no population to compare them with
 */
export function joinCounts(field: Field, passes: Passes, zoneOfRecord: Int32Array): Spots | null {
  const counts = field.standCounts;
  const reference = referencePopulation(field);
  if (!counts || counts.spotCount === 0 || reference === null) return null;
  const places = placesOf(field, passes);
  const moved = positiveOf(passes.distanceM);
  const typicalStepM = moved.length > 0 ? median(moved) : 5;
  const spacingM = field.planter.rowSpacingM ?? 0.762;

  const source: number[] = [];
  const nearest: number[] = [];
  const members: number[][] = [];
  const rates: { mean: number; spread: number }[] = [];
  for (let s = 0; s < counts.spotCount; s++) {
    const x = counts.x[s]!;
    const y = counts.y[s]!;
    const near = places.bins.nearest(x, y, NEAREST_M);
    if (near < 0) continue;
    const rows = Number.isNaN(counts.rowsCounted[s]!) ? 1 : counts.rowsCounted[s]!;
    const lengthM = Number.isNaN(counts.rowLengthM[s]!) ? 0 : counts.rowLengthM[s]!;
    const window = {
      x,
      y,
      near,
      halfLengthM: Math.max(lengthM / 2, 1.5 * typicalStepM),
      halfWidthM: (rows * spacingM) / 2,
      rowUnit: counts.rowUnit[s]!,
      spacingM,
    };
    const beneath = recordsBeneath(passes, places, window);
    if (beneath.length === 0) continue;
    source.push(s);
    nearest.push(near);
    members.push(beneath);
    rates.push(
      seedRate(field.log.values.population, (dx, dy) =>
        recordsBeneath(passes, places, { ...window, x: x + dx, y: y + dy }),
      ),
    );
  }

  const count = source.length;
  const start = new Int32Array(count + 1);
  members.forEach((list, g) => {
    start[g + 1] = start[g]! + list.length;
  });
  const spots: Spots = {
    count,
    source: Int32Array.from(source),
    x: Float64Array.from(source, (s) => counts.x[s]!),
    y: Float64Array.from(source, (s) => counts.y[s]!),
    response: Float64Array.from(source, (s) => counts.standPerHa[s]! / reference),
    countingVariance: new Float64Array(count),
    pass: Int32Array.from(nearest, (i) => passes.passOf[i]!),
    alongM: Float64Array.from(nearest, (i) => passes.alongM[i]!),
    zone: Int32Array.from(nearest, (i) => zoneOfRecord[i]!),
    beneath: { start, records: Int32Array.from(members.flat()) },
    seedsPerHa: Float64Array.from(rates, ({ mean }) => mean),
    seedsSpread: Float64Array.from(rates, ({ spread }) => spread),
    lateShare: Float64Array.from(source, (s) => lateShareAt(counts, s)),
    offGround: counts.spotCount - count,
  };
  for (let g = 0; g < count; g++) {
    const s = source[g]!;
    spots.countingVariance[g] = countingVariance(counts.plants[s]!, counts.standPerHa[s]!, reference);
  }
  return spots;
}

/**
 * Mean rate beneath the spot, and its relative SD for an error of position along either axis: root of the mean squared
 * difference to the places on both sides, the two axes added. NaN and 0 without rates.
 */
function seedRate(
  dropped: Float64Array | undefined,
  beneathAt: (dx: number, dy: number) => number[],
): { mean: number; spread: number } {
  if (!dropped) return { mean: Number.NaN, spread: 0 };
  const rateAt = (dx: number, dy: number): number => {
    const rates = beneathAt(dx, dy)
      .map((record) => dropped[record]!)
      .filter((rate) => rate > 0);
    return rates.length > 0 ? mean(rates) : Number.NaN;
  };
  const here = rateAt(0, 0);
  if (Number.isNaN(here)) return { mean: here, spread: 0 };
  const differences = SIDES.map(([dx, dy]) => rateAt(dx, dy) - here).filter((value) => !Number.isNaN(value));
  // Four differences, two to an axis: half their sum of squares is the mean of one axis plus that of the other.
  const squares = differences.reduce((sum, value) => sum + value ** 2, 0);
  return { mean: here, spread: Math.sqrt(squares / 2) / here };
}

/**
 * Variance of plants / target population from counting: binomial with the emergence share capped at 0.98,
 * expressed on the counted ground (plants / stand is its area).
 */
function countingVariance(plants: number, standPerHa: number, referencePerHa: number): number {
  if (!(plants > 0) || !(standPerHa > 0)) return 0;
  const areaHa = plants / standPerHa;
  const seeds = referencePerHa * areaHa;
  const emerged = Math.min(0.98, plants / seeds);
  return (emerged * (1 - emerged)) / seeds;
}

interface SpotWindow {
  x: number;
  y: number;
  /** Index of the nearest record: gives heading and pass. */
  near: number;
  halfLengthM: number;
  halfWidthM: number;
  /** Row unit named by the count, 0 where not. */
  rowUnit: number;
  spacingM: number;
}

/** Records whose ground lies beneath the counted rows, on the pass of the nearest record and its neighbours; ascending. */
function recordsBeneath(passes: Passes, places: RecordPlaces, spot: SpotWindow): number[] {
  const heading = (passes.headingDeg[spot.near]! * Math.PI) / 180;
  const sine = Math.sin(heading);
  const cosine = Math.cos(heading);
  const reach = Math.hypot(spot.halfLengthM, spot.halfWidthM + HALF_BAR_M);
  // A count that names its row unit may lie rows away from it.
  const halfAcross = spot.rowUnit > 0 ? reach : Math.min(reach, spot.halfWidthM + places.halfWidestM);
  const halfX = Math.abs(sine) * spot.halfLengthM + Math.abs(cosine) * halfAcross + ROUNDING_M;
  const halfY = Math.abs(cosine) * spot.halfLengthM + Math.abs(sine) * halfAcross + ROUNDING_M;
  const beneath: number[] = [];
  places.bins.forEachAbout(spot.x - halfX, spot.y - halfY, spot.x + halfX, spot.y + halfY, (i) => {
    const dx = places.x[i]! - spot.x;
    const dy = places.y[i]! - spot.y;
    const along = dx * sine + dy * cosine;
    if (Math.abs(along) > spot.halfLengthM) return;
    const across = Math.abs(dx * cosine - dy * sine);
    const halfRecord = passes.widthM[i]! / 2;
    const unit = passes.rowUnitOf[i]!;
    // The count names its row unit: trust that, position only tells the pass.
    const isBeneath =
      spot.rowUnit > 0 && unit > 0
        ? unit === spot.rowUnit && passes.passOf[i] === passes.passOf[spot.near]
        : across < spot.halfWidthM + (unit > 0 ? 0 : halfRecord);
    if (isBeneath && Math.hypot(dx, dy) <= reach) beneath.push(i);
  });
  if (beneath.length === 0) beneath.push(spot.near);
  return beneath.sort((a, b) => a - b);
}

/** Middles of the ground that the records stand for: row units may share the logged position of the bar. */
interface RecordPlaces {
  x: Float64Array;
  y: Float64Array;
  bins: PointBins;
  /** Half the width of the widest record that stands for more than a row unit, m; 0 where every record is of one. */
  halfWidestM: number;
}

function placesOf(field: Field, passes: Passes): RecordPlaces {
  const x = new Float64Array(field.log.recordCount).fill(Number.NaN);
  const y = new Float64Array(field.log.recordCount).fill(Number.NaN);
  let halfWidestM = 0;
  for (let i = 0; i < x.length; i++) {
    if (passes.passOf[i] === 0) continue;
    [x[i], y[i]] = footprintCentre(field, passes, i);
    if (passes.rowUnitOf[i] === 0 && passes.widthM[i]! / 2 > halfWidestM) halfWidestM = passes.widthM[i]! / 2;
  }
  return { x, y, bins: new PointBins(x, y, BIN_M), halfWidestM };
}
