/** Yield left at a stand and a planting date, read from a published table. */
import type { Crop } from "../quantities/crops.ts";
import { ACRES_PER_HECTARE } from "../quantities/units.ts";
import { daysAfterMarchFirst } from "./calendar.ts";
import { CORN_ILLINOIS_1994, SOYBEAN_EXTENSION, type StandDateTable } from "./published-tables.ts";

export interface YieldShare {
  /** Share of the best yield, 0..1; null where the source's cells around the point could not be read. */
  share: number | null;
  /** True where the stand or the date lies outside the table and its edge was used. */
  standClamped: boolean;
  dateClamped: boolean;
  table: StandDateTable;
}

/** The table used for a crop unless another is asked for; null where we know of none. */
export function standDateTableFor(crop: Crop): StandDateTable | null {
  return crop === "corn" ? CORN_ILLINOIS_1994 : crop === "soybean" ? SOYBEAN_EXTENSION : null;
}

/** One planting date's line of a table: the response to the stand alone. */
export interface StandCurve {
  table: StandDateTable;
  /** Percent of the best yield, one entry a stand of the table; null where the source could not be read. */
  percent: readonly (number | null)[];
  dateClamped: boolean;
}

/**
 * The table at one planting date, between the dates in proportion to the days.
 * @throws {ManifestError} when the date is not a date
 */
export function standCurveOf(plantedIsoDate: string, table: StandDateTable = CORN_ILLINOIS_1994): StandCurve {
  // The year is of no account: days are counted from 1 March of the date's own year.
  const knots = table.dates.map((monthDay) => daysAfterMarchFirst(`2001-${monthDay}`));
  const date = placeAmong(knots, daysAfterMarchFirst(plantedIsoDate));
  return {
    table,
    percent: table.thousandPlantsPerAcre.map((_, column) =>
      mixed(date, (row) => table.percent[row]?.[column] ?? null),
    ),
    dateClamped: date.clamped,
  };
}

/**
 * Share of the best yield left at a stand, between the table's stands in a straight line, outside it the edge's value.
 * @param standPerHa plants/ha, >= 0
 * @throws {RangeError} when the stand is negative or not a number
 */
export function yieldShareOnCurve(standPerHa: number, curve: StandCurve): YieldShare {
  if (!(standPerHa >= 0)) throw new RangeError(`stand must be 0 or more plants/ha, not ${standPerHa}`);
  const { table, percent, dateClamped } = curve;
  const stand = placeAmong(table.thousandPlantsPerAcre, standPerHa / ACRES_PER_HECTARE / 1000);
  const found = mixed(stand, (column) => percent[column] ?? null);
  return {
    share: found === null ? null : found / 100,
    standClamped: stand.clamped,
    dateClamped,
    table,
  };
}

/**
 * Share of the best yield left at a stand and a planting date: bilinear between the table's rows (by day) and
 * columns (by plants per area); outside the table its edge value, and the flags say so. Straight lines between
 * printed values are our choice; a published example reads the nearest row instead (May 29 from the row of May 30).
 * @param standPerHa plants/ha, >= 0
 * @param plantedIsoDate planting date, ISO
 * @throws {RangeError} when the stand is negative or not a number
 * @throws {ManifestError} when the date is not a date
 */
export function yieldShareOf(
  standPerHa: number,
  plantedIsoDate: string,
  table: StandDateTable = CORN_ILLINOIS_1994,
): YieldShare {
  return yieldShareOnCurve(standPerHa, standCurveOf(plantedIsoDate, table));
}

/** Lowest stand a table speaks of, plants/ha. */
export function lowestStandPerHa(table: StandDateTable): number {
  return (table.thousandPlantsPerAcre[0] ?? 0) * 1000 * ACRES_PER_HECTARE;
}

interface Place {
  /** The knots on both sides of the value, the upper one's weight 0..1. */
  lower: number;
  upper: number;
  weight: number;
  clamped: boolean;
}

function placeAmong(knots: readonly number[], value: number): Place {
  const last = knots.length - 1;
  // A stand converted to plants/ha and back may miss an edge by a rounding error: that is not outside.
  const tolerance = 1e-9 * Math.max(1, Math.abs(value));
  const held = Math.min(Math.max(value, knots[0]!), knots[last]!);
  let upper = 1;
  while (upper < last && knots[upper]! < held) upper++;
  const below = knots[upper - 1]!;
  const raw = (held - below) / (knots[upper]! - below);
  // On a knot to within rounding is on the knot, or an unread neighbour would spoil a printed value.
  const weight = Math.abs(raw - Math.round(raw)) < 1e-9 ? Math.round(raw) : raw;
  return {
    lower: upper - 1,
    upper,
    weight,
    clamped: Math.abs(value - held) > tolerance,
  };
}

/** Mean of two knots' values by weight; null where one that counts is null. */
function mixed({ lower, upper, weight }: Place, valueAt: (knot: number) => number | null): number | null {
  if (weight === 0) return valueAt(lower);
  if (weight === 1) return valueAt(upper);
  const below = valueAt(lower);
  const above = valueAt(upper);
  return below === null || above === null ? null : below + weight * (above - below);
}
