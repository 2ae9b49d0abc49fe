/**
 * Counted spots joined to the records beneath them: which pass, which row units, and how many plants of
 * the target population stand there.
 */
import type { Field } from "../field/field.ts";
import { mean, median } from "../numerics/descriptive.ts";
import { footprintCentre } from "../passes/covered-ground.ts";
import type { Passes } from "../passes/passes.ts";
import type { RecordGroups } from "../passes/record-groups.ts";
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
    const present = source?.filter((value) => value > 0);
    if (present && present.length > 0) return median(present);
  }
  return null;
}

const BIN_M = 10;

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
  const index = binRecords(field, passes);
  const moved = passes.distanceM.filter((value) => value > 0);
  const typicalStepM = moved.length > 0 ? median(moved) : 5;
  const spacingM = field.planter.rowSpacingM ?? 0.762;

  const source: number[] = [];
  const nearest: number[] = [];
  const members: number[][] = [];
  const rates: { mean: number; spread: number }[] = [];
  for (let s = 0; s < counts.spotCount; s++) {
    const x = counts.x[s]!;
    const y = counts.y[s]!;
    const near = index.nearest(x, y, 30);
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
    const beneath = recordsBeneath(passes, index, window);
    if (beneath.length === 0) continue;
    source.push(s);
    nearest.push(near);
    members.push(beneath);
    rates.push(
      seedRate(field.log.values.population, (dx, dy) =>
        recordsBeneath(passes, index, { ...window, x: x + dx, y: y + dy }),
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

/** Records whose ground lies beneath the counted rows, on the pass of the nearest record and its neighbours. */
function recordsBeneath(passes: Passes, index: RecordBins, spot: SpotWindow): number[] {
  const heading = (passes.headingDeg[spot.near]! * Math.PI) / 180;
  const sine = Math.sin(heading);
  const cosine = Math.cos(heading);
  const reach = Math.hypot(spot.halfLengthM, spot.halfWidthM + 20);
  const beneath: number[] = [];
  for (const i of index.within(spot.x, spot.y, reach)) {
    const dx = index.x[i]! - spot.x;
    const dy = index.y[i]! - spot.y;
    const along = dx * sine + dy * cosine;
    const across = Math.abs(dx * cosine - dy * sine);
    if (Math.abs(along) > spot.halfLengthM) continue;
    const halfRecord = passes.widthM[i]! / 2;
    const unit = passes.rowUnitOf[i]!;
    if (spot.rowUnit > 0 && unit > 0) {
      // The count names its row unit: trust that, position only tells the pass.
      if (unit === spot.rowUnit && passes.passOf[i] === passes.passOf[spot.near]) beneath.push(i);
    } else if (across < spot.halfWidthM + (unit > 0 ? 0 : halfRecord)) {
      beneath.push(i);
    }
  }
  if (beneath.length === 0) beneath.push(spot.near);
  return beneath;
}

/** Bins the middles of the ground that the records stand for: row units may share the logged position of the bar. */
function binRecords(field: Field, passes: Passes): RecordBins {
  const x = new Float64Array(field.log.recordCount).fill(Number.NaN);
  const y = new Float64Array(field.log.recordCount).fill(Number.NaN);
  for (let i = 0; i < x.length; i++) {
    if (passes.passOf[i] !== 0) [x[i], y[i]] = footprintCentre(field, passes, i);
  }
  return new RecordBins(x, y, passes.passOf);
}

/** Square bins over the records on passes, for "which records lie near here". */
class RecordBins {
  private readonly bins = new Map<number, number[]>();
  readonly x: Float64Array;
  readonly y: Float64Array;
  constructor(x: Float64Array, y: Float64Array, passOf: Int32Array) {
    this.x = x;
    this.y = y;
    for (let i = 0; i < x.length; i++) {
      if (passOf[i] === 0) continue;
      const key = binKey(Math.floor(x[i]! / BIN_M), Math.floor(y[i]! / BIN_M));
      const bin = this.bins.get(key);
      if (bin) bin.push(i);
      else this.bins.set(key, [i]);
    }
  }

  /** Records within `radiusM` of the place, in record order. */
  within(x: number, y: number, radiusM: number): number[] {
    const found: number[] = [];
    const reach = Math.ceil(radiusM / BIN_M);
    const column = Math.floor(x / BIN_M);
    const row = Math.floor(y / BIN_M);
    for (let r = row - reach; r <= row + reach; r++) {
      for (let c = column - reach; c <= column + reach; c++) {
        for (const i of this.bins.get(binKey(c, r)) ?? []) {
          if (Math.hypot(this.x[i]! - x, this.y[i]! - y) <= radiusM) found.push(i);
        }
      }
    }
    return found.sort((a, b) => a - b);
  }

  /** Nearest record within `radiusM`, -1 where none. */
  nearest(x: number, y: number, radiusM: number): number {
    let best = -1;
    let bestDistance = Number.POSITIVE_INFINITY;
    for (const i of this.within(x, y, radiusM)) {
      const distance = Math.hypot(this.x[i]! - x, this.y[i]! - y);
      if (distance < bestDistance) {
        bestDistance = distance;
        best = i;
      }
    }
    return best;
  }
}

function binKey(column: number, row: number): number {
  return column * 1_000_003 + row;
}
