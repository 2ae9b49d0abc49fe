/** What a number of plants more would be worth: the sum people do at the kitchen table, and its limits. */
import { standLoss } from "../stand/missing-plants.ts";
import { CORN_ILLINOIS_1994, type StandDateTable } from "../stand/published-tables.ts";
import { standCurveOf } from "../stand/yield-potential.ts";

export interface WorthOfPlants {
  /** Share of the yield at the full stand; each plant counted at the full stand's mean (common practice, no source). */
  wholePlants: number;
  /** As share of the yield, the plants gone from a full row in gaps, their neighbours making up for some. */
  inGaps: number | null;
  /** As share of the yield, the row evenly thinner: what the published table says. */
  evenlyThinner: number | null;
}

/**
 * Worth of `plantsPerHa` productive plants more, up to a stand of `fullStandPerHa`, three ways; multiply by the yield
 * and the price. The usual sum divides the yield by the plants (200 to 245 bu/ac over 35,000 plants: 2,000 more are
 * worth 11.4 to 14 bu/ac). It is right for plants that stand but bear nothing and take their neighbours' water and light.
 * Plants that are missing cost less, because their neighbours make up for some of them; a row evenly thinner by that
 * number costs next to nothing at normal stands, because the published tables are flat there. Neither is wrong: they
 * answer different questions, so all three are given.
 * @throws {RangeError} when the stand is not positive or the plants are more than the stand
 * @throws {ManifestError} when the date is not a date
 */
export function worthOfPlants(
  plantsPerHa: number,
  fullStandPerHa: number,
  plantedIsoDate: string,
  table: StandDateTable = CORN_ILLINOIS_1994,
): WorthOfPlants {
  if (!(fullStandPerHa > 0) || !(plantsPerHa >= 0) || plantsPerHa > fullStandPerHa)
    throw new RangeError(`${plantsPerHa} of ${fullStandPerHa} plants/ha cannot be missing`);
  const curve = standCurveOf(plantedIsoDate, table);
  const lost = (gapWeight: number): number | null =>
    standLoss({
      standElsewherePerHa: fullStandPerHa,
      standInsidePerHa: fullStandPerHa - plantsPerHa,
      curve,
      gapWeight,
    });
  return { wholePlants: plantsPerHa / fullStandPerHa, inGaps: lost(1), evenlyThinner: lost(0) };
}
