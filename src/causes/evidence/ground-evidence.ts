/**
 * What speaks for ground or weather where nothing in the log explains a deficit. Without digs, rain, cold soil or ground that is
 * wet by nature, a missing plant may as well be seed, closing, fertiliser or pests: "not in the log" keeps the larger part.
 */
import { THRESHOLDS } from "../../compare/thresholds.ts";
import type { Field } from "../../vocabulary/field.ts";
import type { WetShares } from "./wet-ground.ts";

/** Share of what the log does not explain that goes to ground or weather, by what speaks for them (our judgement). */
const SHARE = { nothing: 0.25, wetGround: 0.5, beatingRain: 0.62, coldSoil: 0.72 } as const;
/** Each further sign takes this part of what is left. */
const FURTHER = 0.4;
/** A part of the place that is wet by nature, beyond that of the rest, from which it is a sign. */
const WETTER_BY = 0.4;
const DAY_MS = 86_400_000;
/** Days after planting in which rain can crust the ground before the plants are up, and in which cold chills the seed. */
const UNTIL_UP_DAYS = 14;
const CHILL_DAYS = 2;

export type GroundSign = keyof Omit<typeof SHARE, "nothing">;

/** Signs for ground or weather on ground planted on these dates. */
export function groundSigns(
  field: Field,
  dates: readonly (string | null)[],
  wet: WetShares | null,
): GroundSign[] {
  const signs: GroundSign[] = [];
  if (wet && wet.here - wet.elsewhere >= WETTER_BY) signs.push("wetGround");
  const days = [...new Set(dates)].filter((date) => date !== null);
  if (days.some((date) => hardestRainMm(field, date) >= THRESHOLDS.beatingRain.value))
    signs.push("beatingRain");
  if (days.length > 0 && days.every((date) => coldestSoilC(field, date) < THRESHOLDS.coldSoil.value))
    signs.push("coldSoil");
  return signs;
}

/** Share of the unexplained that goes to ground or weather, 0..1. */
export function groundShare(signs: readonly GroundSign[]): number {
  const [strongest, ...rest] = signs.map((sign): number => SHARE[sign]).sort((a, b) => b - a);
  if (strongest === undefined) return SHARE.nothing;
  return rest.reduce((share) => share + FURTHER * (1 - share), strongest);
}

function hardestRainMm(field: Field, planted: string): number {
  const byDay = new Map<string, number>();
  overDays(field, planted, UNTIL_UP_DAYS, (day, i) => {
    const rain = field.weather!.rainMm[i]!;
    if (!Number.isNaN(rain)) byDay.set(day, (byDay.get(day) ?? 0) + rain);
  });
  return Math.max(0, ...byDay.values());
}

function coldestSoilC(field: Field, planted: string): number {
  let coldest = Number.POSITIVE_INFINITY;
  overDays(field, planted, CHILL_DAYS, (_, i) => {
    const soil = field.weather!.soilC[i]!;
    if (!Number.isNaN(soil)) coldest = Math.min(coldest, soil);
  });
  return coldest;
}

/** The weather entries of the planting day and the days after it. */
function overDays(
  field: Field,
  planted: string,
  days: number,
  visit: (day: string, i: number) => void,
): void {
  if (!field.weather) return;
  const start = Date.parse(planted.slice(0, 10));
  field.weather.time.forEach((time, i) => {
    const age = (Date.parse(time.slice(0, 10)) - start) / DAY_MS;
    if (age >= 0 && age <= days) visit(time.slice(0, 10), i);
  });
}
