/** The counts of a field under the model: what the stages after it ask. Null where there are too few of them. */
import type { Cells } from "../cells/cells.ts";
import type { PredictedLoss } from "../cells/predicted-loss.ts";
import { median } from "../numerics/descriptive.ts";
import type { Passes } from "../passes/passes.ts";
import { referencePopulation, type Spots } from "../stand/spots.ts";
import type { Field } from "../vocabulary/field.ts";
import { rowColumn } from "./contrast-terms.ts";
import { type Exposure, exposureOf } from "./exposure.ts";
import { fitStand, type StandFit } from "./fit-stand.ts";
import { type GroundShares, groundShares, likeliestCell } from "./ground-shares.ts";
import { usualSpacing } from "./noise/covariance-fit.ts";
import { type Route, routeOf } from "./noise/route.ts";
import { MOST_POINTS, overPoints, type Points, pointsOf } from "./points.ts";
import { StandPosterior } from "./posterior.ts";
import { optionsOf, SHORTFALL_SLABS, type Term } from "./terms.ts";

/** Fewer counts than this cannot tell the field's own patchiness from a place (our judgement). */
export const FEWEST_COUNTS = 12;
/**
 * Share of the seeds dropped that stand where nothing is wrong: Iowa trials lost 4 to 7 % from seed to plant, Purdue counts on
 * 90 to 95 %; soybeans less, from memory.
 */
const EXPECTED_STAND = { corn: 0.935, soybean: 0.88, other: 0.9 } as const;
/** Prior probability that rows which depart in the log are short of plants and not of a sensor (our judgement). */
const ROW_INCLUSION = 0.75;

/** Rows that depart in the log. */
export interface DepartingRows {
  rowUnits: readonly number[];
  /** Passes on which they do; empty for all. */
  passes: readonly number[];
}

/** Error of the position of counts that come by the hundred, if they come from pictures or a good receiver, m (our judgement). */
const CLOSE_POSITION_M = 0.6;

/** How the model takes the counts; by their number where nothing is said. */
export interface CountSettings {
  route?: Route;
  /** More counts than this are pooled. */
  mostPoints?: number;
}

export interface StandView {
  spots: Spots;
  exposure: Exposure;
  points: Points;
  shares: GroundShares;
  fit: StandFit;
  posterior: StandPosterior;
  /** Stand to be expected where nothing is wrong, share of target. */
  expectedLevel: number;
  /** Usual distance from a count to the next, m. */
  spacingM: number;
  cellCount: number;
  /** Spots whose likeliest cell is among these. */
  spotsOn: (cells: ArrayLike<number>) => number[];
  /** How much patchier the surroundings of a spot are than the field. */
  patchinessOf: (spot: number) => number;
  /** Share of each spot's counted rows that departing rows k have planted, and the key of their term. */
  rowShare: (k: number) => Float64Array;
  rowKey: (k: number) => string;
}

/** Fits the model to the counts; null with fewer than twelve of them, or where they lie on fewer pieces of ground. */
export function viewOfStand(
  field: Field,
  passes: Passes,
  cells: Cells,
  cellOf: Int32Array,
  spots: Spots | null,
  losses: PredictedLoss,
  departing: readonly DepartingRows[],
  swathWidthM: number,
  settings: CountSettings = {},
): StandView | null {
  if (!spots || spots.count < FEWEST_COUNTS) return null;
  const points = pointsOf(withoutSurplus(field, spots), settings.mostPoints);
  // However many counts lie on a few pieces of ground, they tell of those alone.
  if (points.count < FEWEST_COUNTS) return null;
  const exposure = exposureOf(field, passes, spots);
  const closeExposure = spots.count > MOST_POINTS ? exposureOf(field, passes, spots, CLOSE_POSITION_M) : null;
  const shares = groundShares(points, exposure, cellOf);
  const rowShares = departing.map((rows) => shareOfRows(spots, exposure, passes, rows));
  const rowKey = (k: number): string => `row-unit ${k}`;
  const rowTerms = departing.flatMap((rows, k): Term[] => {
    const own = new Set(rows.rowUnits);
    const column =
      rows.passes.length === 0
        ? rowColumn(points, exposure, (row) => own.has(row))
        : overPoints(points, (spot) => rowShares[k]![spot]!);
    if (!column.some((value) => value > 0.05)) return [];
    return [
      {
        kind: "row-unit",
        name: `${k}`,
        inclusion: ROW_INCLUSION,
        options: optionsOf({ points: column, cells: null }, "place", 1, SHORTFALL_SLABS),
      },
    ];
  });
  const level = expectedLevel(field);
  const fit = fitStand({
    field,
    passes,
    cells,
    cellOf,
    shares,
    points,
    exposure,
    closeExposure,
    swathWidthM,
    losses,
    rowTerms,
    expectedLevel: level,
    route: settings.route ?? routeOf(points.count),
  });
  const pointOfSpot = new Int32Array(spots.count);
  for (let p = 0; p < points.count; p++)
    for (let k = points.start[p]!; k < points.start[p + 1]!; k++) pointOfSpot[points.spot[k]!] = p;
  const cellOfPoint = likeliestCell(shares);
  return {
    spots,
    exposure,
    points,
    shares,
    fit,
    posterior: new StandPosterior(fit, cells, shares, points.misfitSd),
    expectedLevel: level,
    spacingM: usualSpacing(points.x, points.y),
    cellCount: cells.count,
    spotsOn: (members) => {
      const inside = new Set(Array.from(members));
      return [...cellOfPoint.keys()]
        .filter((p) => inside.has(cellOfPoint[p]!))
        .flatMap((p) => [...points.spot.subarray(points.start[p]!, points.start[p + 1]!)])
        .sort((a, b) => a - b);
    },
    patchinessOf: (spot) => fit.model.patchiness[pointOfSpot[spot]!]!,
    rowShare: (k) => rowShares[k]!,
    rowKey,
  };
}

/** Seeds beyond the usual rate by more than this share are a surplus: less is how meters vary (our judgement). */
const SURPLUS = 0.05;

/**
 * Counts on ground that was given more seed than the rest as its usual rate would stand there: else the rest would look short
 * beside it. Ground given less keeps what is missing, and a rate that follows its logged target is no surplus.
 */
function withoutSurplus(field: Field, spots: Spots): Spots {
  const dropped = field.log.values.population?.filter((value) => value > 0);
  if (field.log.values.targetPopulation || !dropped || dropped.length === 0) return spots;
  const usual = median(dropped);
  return {
    ...spots,
    response: spots.response.map((value, spot) => {
      const ratio = spots.seedsPerHa[spot]! / usual;
      return ratio > 1 + SURPLUS ? value / ratio : value;
    }),
  };
}

/** Stand to be expected of the seeds dropped, share of the target. */
function expectedLevel(field: Field): number {
  const dropped = field.log.values.population?.filter((value) => value > 0);
  const reference = referencePopulation(field);
  const rate = dropped && dropped.length > 0 && reference ? median(dropped) / reference : 1;
  // A field far off its rate is a finding of its own; it does not move what is expected here.
  return EXPECTED_STAND[field.crop] * Math.min(1.05, Math.max(0.95, rate));
}

/** Share of each spot's counted rows that these rows planted on these passes. */
function shareOfRows(spots: Spots, exposure: Exposure, passes: Passes, rows: DepartingRows): Float64Array {
  const units = new Set(rows.rowUnits);
  const onPasses = new Set(rows.passes);
  return Float64Array.from({ length: spots.count }, (_, s) => {
    let ofRows = 0;
    for (let row = 1; row <= exposure.rowUnits; row++)
      if (units.has(row)) ofRows += exposure.rowShare[s * exposure.rowUnits + row - 1]!;
    if (onPasses.size === 0) return ofRows;
    let ofRecords = 0;
    for (let k = exposure.start[s]!; k < exposure.start[s + 1]!; k++) {
      const record = exposure.record[k]!;
      if (units.has(passes.rowUnitOf[record]!) && onPasses.has(passes.passOf[record]!))
        ofRecords += exposure.share[k]!;
    }
    return ofRecords;
  });
}
