/** What the weather did to one planting day: when its plants should be up, how cold it began, how hard it rained. */
import type { Weather } from "../vocabulary/field.ts";
import { dayNumber, isoDateOf } from "./calendar.ts";
import { type ExpectedEmergence, expectedEmergence, type Seedbed } from "./emergence.ts";

export interface PlantingDayWeather {
  plantedIsoDate: string;
  emergence: ExpectedEmergence;
  /** Lowest soil temperature of the planting day and the next, the first 24 to 48 hours, C; null without readings. */
  lowestSoilC: number | null;
  /** Rain from the day after planting to the latest date of emergence (or the end of the weather), mm. */
  rainMm: number;
  /** The wettest of those days; null where it did not rain or no day has a figure. */
  heaviestRain: { isoDate: string; rainMm: number } | null;
}

/**
 * Reads the weather for one planting day. Rain of the planting day itself is left out: it may have fallen before.
 * @throws {ManifestError} when a date is not a date
 */
export function plantingDayWeather(
  weather: Weather,
  plantedIsoDate: string,
  seedbed: Seedbed = {},
): PlantingDayWeather {
  const emergence = expectedEmergence(weather, plantedIsoDate, seedbed);
  const planted = dayNumber(plantedIsoDate);
  const until = emergence.latest === null ? Number.POSITIVE_INFINITY : dayNumber(emergence.latest);
  const rainOfDay = new Map<number, number>();
  let lowestSoilC: number | null = null;
  weather.time.forEach((time, i) => {
    const day = dayNumber(time);
    const soilC = weather.soilC[i]!;
    if ((day === planted || day === planted + 1) && !Number.isNaN(soilC))
      lowestSoilC = lowestSoilC === null ? soilC : Math.min(lowestSoilC, soilC);
    const rain = weather.rainMm[i]!;
    if (day > planted && day <= until && rain > 0) rainOfDay.set(day, (rainOfDay.get(day) ?? 0) + rain);
  });
  let heaviest: [number, number] | null = null;
  let rainMm = 0;
  for (const [day, rain] of rainOfDay) {
    rainMm += rain;
    if (heaviest === null || rain > heaviest[1]) heaviest = [day, rain];
  }
  return {
    plantedIsoDate,
    emergence,
    lowestSoilC,
    rainMm,
    heaviestRain: heaviest && { isoDate: isoDateOf(heaviest[0]), rainMm: heaviest[1] },
  };
}
