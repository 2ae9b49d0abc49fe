/** Daily weather of the invented field's spring. */
import { normal } from "../src/numerics/random.ts";
import { streamOf } from "./noise.ts";

const FIRST_DAY = "2026-04-10";
const LAST_DAY = "2026-05-31";
const DAY_MS = 86_400_000;

/** Days with rain, mm; dry before planting, wet between the two days, a downpour on 3 May. */
const RAIN_MM: Readonly<Record<string, number>> = {
  "2026-04-11": 6,
  "2026-04-12": 2,
  "2026-04-16": 1,
  "2026-04-25": 9,
  "2026-05-03": 31,
  "2026-05-11": 7,
  "2026-05-15": 12,
  "2026-05-19": 4,
  "2026-05-25": 15,
  "2026-05-29": 6,
};
/** Hot days after the downpour, minimum and maximum, degrees Celsius. */
const HOT_C: Readonly<Record<string, [number, number]>> = {
  "2026-05-04": [15, 29],
  "2026-05-05": [17, 31],
  "2026-05-06": [17, 32],
  "2026-05-07": [16, 30],
};
/** Mean air temperature on the first day, its rise a day, half the ordinary daily range, all Celsius. */
const MEAN_C = 10.2;
const RISE_C = 0.17;
const HALF_RANGE_C = 6.2;
const DAY_SD_C = 1.3;
const RAIN_COOLING_C = 1.5;
/** Soil follows the air slowly: share of the way in one day. */
const SOIL_FOLLOWS = 0.3;

/** The weather as CSV text: date, rain, least and greatest air temperature, mean soil temperature at 10 cm. */
export function makeWeather(seed: number): string {
  const random = streamOf(seed, "weather");
  const lines = ["date,rain_mm,tmin_c,tmax_c,soil_c"];
  let soilC = MEAN_C + 0.8;
  const firstMs = Date.parse(FIRST_DAY);
  for (let day = 0; firstMs + day * DAY_MS <= Date.parse(LAST_DAY); day++) {
    const date = new Date(firstMs + day * DAY_MS).toISOString().slice(0, 10);
    const rain = RAIN_MM[date] ?? 0;
    const mean = MEAN_C + RISE_C * day + DAY_SD_C * normal(random) - (rain > 0 ? RAIN_COOLING_C : 0);
    const halfRange = HALF_RANGE_C + 0.6 * normal(random) - (rain > 0 ? 1.5 : 0);
    const [least, greatest] = HOT_C[date] ?? [mean - halfRange, mean + halfRange];
    soilC += SOIL_FOLLOWS * ((least + greatest) / 2 + 0.8 - soilC);
    lines.push([date, rain, least.toFixed(1), greatest.toFixed(1), soilC.toFixed(1)].join());
  }
  return `${lines.join("\n")}\n`;
}
