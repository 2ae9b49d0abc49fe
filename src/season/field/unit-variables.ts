/** What a row unit is judged by over a season. */
import { BANDS, type Band } from "../../rows/row-unit-bands.ts";
import type { PlantingVariable } from "../../vocabulary/variables.ts";

export const UNIT_VARIABLES = [
  "misses",
  "multiples",
  "singulation",
  "spacingVariation",
  "population",
  "downForceMargin",
  "groundContact",
  "seedingDepth",
] as const satisfies readonly PlantingVariable[];

export type UnitVariable = (typeof UNIT_VARIABLES)[number];

/** Spacing and ground contact have no band on a field: 3 points (our judgement). */
const THREE_POINTS: Band = {
  matters: 0.03,
  fromBar: 0.03,
  allAlong: 0.03,
  fromItself: 0.025,
  relative: false,
};

/**
 * The bands of a single field. A season shows smaller departures with certainty, but sound units differ for good by as much,
 * and what is harmless on one field is harmless on many.
 */
export const UNIT_BANDS: Record<UnitVariable, Band> = {
  misses: BANDS.misses,
  multiples: BANDS.multiples,
  singulation: BANDS.singulation,
  population: BANDS.population,
  downForceMargin: BANDS.downForceMargin,
  seedingDepth: BANDS.seedingDepth,
  spacingVariation: THREE_POINTS,
  groundContact: THREE_POINTS,
};
