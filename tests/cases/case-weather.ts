/** Weather of a case, as the text of a CSV. */
import type { WeatherSetup } from "./case-setup.ts";

const DAY_MS = 86_400_000;
const DAYS_BEFORE = 14;
const DAYS_AFTER = 28;

/** A day a line, from two weeks before the date of planting to four weeks after. */
export function caseWeather(planted: string, { rainMm = {}, soilC = {}, airC = {} }: WeatherSetup): string {
  const lines = ["date,rain_mm,tmin_c,tmax_c,soil_c"];
  for (let day = -DAYS_BEFORE; day <= DAYS_AFTER; day++) {
    const date = new Date(Date.parse(planted) + day * DAY_MS).toISOString().slice(0, 10);
    lines.push([date, rainMm[date] ?? 0, ...(airC[date] ?? [7, 19]), soilC[date] ?? 13].join(","));
  }
  return `${lines.join("\n")}\n`;
}
