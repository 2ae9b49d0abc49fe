/** What a row unit is judged by over a season. */
import { BANDS } from "../cluster/row-unit-bands.ts";
import type { PlantingVariable } from "../field/variables.ts";

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

interface UnitBand {
  /** Mean departure over a season below which a unit is left alone, in the unit of the departure. */
  matters: number;
  /** Departures are shares of the bar's median. */
  relative: boolean;
}

/**
 * A season shows smaller departures than one field; what does not matter on a field does not matter over many either. Half of
 * the field's band is taken, because a fault that comes and goes is thinned by the fields it spared. Spacing and ground
 * contact have no band on a field: 2 points. All our judgement.
 */
export const UNIT_BANDS: Record<UnitVariable, UnitBand> = {
  misses: half("misses"),
  multiples: half("multiples"),
  singulation: half("singulation"),
  population: half("population"),
  downForceMargin: half("downForceMargin"),
  seedingDepth: half("seedingDepth"),
  spacingVariation: { matters: 0.02, relative: false },
  groundContact: { matters: 0.02, relative: false },
};

function half(variable: keyof typeof BANDS): UnitBand {
  const { matters, relative } = BANDS[variable];
  return { matters: matters / 2, relative };
}
