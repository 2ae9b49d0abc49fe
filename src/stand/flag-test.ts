/** Flag tests: plants flagged at each visit of one row, judged by the two published definitions of uniform. */
import type { FlaggedPlants, Weather } from "../vocabulary/field.ts";
import { dayNumber } from "./calendar.ts";
import { DEGREE_DAYS_F_PER_C, degreeDaysC } from "./degree-days.ts";
import { dailyExtremes } from "./emergence.ts";
import { type EmergedCohort, type LateShares, lateSharesOf } from "./uniformity.ts";

export interface FlagTestResult extends LateShares {
  plants: number;
  /** Days from the first plants to the last. */
  daysSpread: number;
  /** Degree days F from the first plants to the last; null where the weather does not cover them. */
  degreeDaysFSpread: number | null;
}

/**
 * Late plants of one flagged row. Degree days are those of the air, as in the definition's source; of the soil where
 * the weather has no air temperature.
 * @param visits dates and newly flagged plants, any order, at least one plant
 * @throws {ManifestError} when a date is not a date
 */
export function readFlagTest(visits: readonly FlaggedPlants[], weather: Weather | null): FlagTestResult {
  const seen = visits.filter(({ plants }) => plants > 0);
  const days = seen.map(({ isoDate }) => dayNumber(isoDate));
  const first = Math.min(...days);
  const temperatures = weather && airOrSoil(weather);
  const cohorts = seen.map(
    ({ plants }, k): EmergedCohort => ({
      plants,
      daysAfterFirst: days[k]! - first,
      degreeDaysFAfterFirst: temperatures && degreeDaysFBetween(temperatures, first, days[k]!),
    }),
  );
  const spreads = cohorts.map(({ degreeDaysFAfterFirst }) => degreeDaysFAfterFirst);
  return {
    ...lateSharesOf(cohorts),
    plants: cohorts.reduce((sum, { plants }) => sum + plants, 0),
    daysSpread: Math.max(...days) - first,
    degreeDaysFSpread: spreads.every((spread) => spread !== null) ? Math.max(...spreads) : null,
  };
}

type DailyExtremes = ReturnType<typeof dailyExtremes>;

function airOrSoil(weather: Weather): DailyExtremes {
  const air = dailyExtremes(weather, weather.minimumC, weather.maximumC);
  return air.size > 0 ? air : dailyExtremes(weather, weather.soilC, weather.soilC);
}

/** Sum over the days after `first` up to `last`, F; null where a day is missing. */
function degreeDaysFBetween(temperatures: DailyExtremes, first: number, last: number): number | null {
  let sum = 0;
  for (let day = first + 1; day <= last; day++) {
    const extremes = temperatures.get(day);
    if (!extremes) return null;
    sum += degreeDaysC(extremes[0], extremes[1]) * DEGREE_DAYS_F_PER_C;
  }
  return sum;
}
