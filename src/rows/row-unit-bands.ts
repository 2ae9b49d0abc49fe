/** Departures of row units that matter, by variable. */
import type { RowUnitVariable } from "./row-unit-series.ts";

export interface Band {
  /** Departure that matters; half of it is the dead band of the score. All bands are our judgement. */
  matters: number;
  /** Least mean departure from the bar to call a unit that departs for a while, or a set of rows. */
  fromBar: number;
  /**
   * Least mean departure from the bar to call a unit that departs all along: nothing but its size tells it from the
   * natural spread of sound units, which is heavy-tailed (Laplace law) for all we know.
   */
  allAlong: number;
  /** Least mean departure from the unit's own usual place. */
  fromItself: number;
  relative: boolean;
}

/** 0.15 in, 25 lb, 1 point, 4 % of the rate matter (our judgement). */
export const BANDS: Record<RowUnitVariable, Band> = {
  seedingDepth: { matters: 3.81, fromBar: 3.3, allAlong: 4.2, fromItself: 2.86, relative: false },
  downForceMargin: { matters: 111, fromBar: 95, allAlong: 130, fromItself: 83, relative: false },
  misses: { matters: 0.01, fromBar: 0.009, allAlong: 0.009, fromItself: 0.0075, relative: false },
  multiples: { matters: 0.01, fromBar: 0.009, allAlong: 0.009, fromItself: 0.0075, relative: false },
  singulation: { matters: 0.01, fromBar: 0.009, allAlong: 0.009, fromItself: 0.0075, relative: false },
  population: { matters: 0.04, fromBar: 0.036, allAlong: 0.036, fromItself: 0.03, relative: true },
};

/** Noise is never taken to be less than this share of what matters: rounded readings can repeat exactly. */
export const SMALLEST_NOISE = 0.02;
