/** Weather by the hour: which entries lie in the hours after planting, and when it rained. */
import { median } from "../numerics/descriptive.ts";
import type { Weather } from "../vocabulary/field.ts";

const SECONDS_PER_HOUR = 3600;
const SECONDS_PER_DAY = 86_400;

/** Entries at most this far apart count as weather by the hour, h (our judgement). */
const LONGEST_STEP_H = 3;
/** Dry hours that end a rain, h (common practice, no source). */
const DRY_HOURS_BETWEEN_RAINS = 6;
/** Hours after planting in which cold soil counts, h: the later limit of the first 24 to 48 hours (Purdue Univ.). */
export const COLD_HOURS = 48;

/** Seconds since 1970 of each entry. */
function secondsOf(weather: Weather): Float64Array {
  return Float64Array.from(weather.time, (time) => Date.parse(time) / 1000);
}

/** Usual step between entries, seconds, where the weather is by the hour; null where by day. */
export function hourlyStep(weather: Weather): number | null {
  const sorted = [...new Set(secondsOf(weather))].sort((a, b) => a - b);
  if (sorted.length < 2) return null;
  const step = median(sorted.slice(1).map((value, i) => value - sorted[i]!));
  return step <= LONGEST_STEP_H * SECONDS_PER_HOUR ? step : null;
}

/** Lowest soil temperature (C) in the {@link COLD_HOURS} after a moment (seconds since 1970); null without readings. */
export function lowestSoilAfter(weather: Weather, fromSecond: number): number | null {
  const until = fromSecond + COLD_HOURS * SECONDS_PER_HOUR;
  let lowest: number | null = null;
  secondsOf(weather).forEach((second, i) => {
    const soilC = weather.soilC[i]!;
    if (second < fromSecond || second > until || Number.isNaN(soilC)) return;
    lowest = lowest === null ? soilC : Math.min(lowest, soilC);
  });
  return lowest;
}

export interface RainSpell {
  /** First and last entry with rain, seconds since 1970. */
  first: number;
  last: number;
  /** What was planted to `clearBefore` was planted before it, what from `clearAfter` on, after it; seconds since 1970. */
  clearBefore: number;
  clearAfter: number;
  rainMm: number;
}

/**
 * Rains of at least `leastMm`, in order. By the hour: entries with rain less than six dry hours apart are one rain, and
 * a step of the file on either side is neither before nor after, since an entry may stand for the hour before or behind
 * it. By day: a day of that much rain, such days in a row taken together.
 */
export function rainSpells(weather: Weather, leastMm: number): RainSpell[] {
  const step = hourlyStep(weather);
  const rainAt = new Map<number, number>();
  secondsOf(weather).forEach((second, i) => {
    const rain = weather.rainMm[i]!;
    if (!(rain > 0)) return;
    const at = step === null ? Math.floor(second / SECONDS_PER_DAY) * SECONDS_PER_DAY : second;
    rainAt.set(at, (rainAt.get(at) ?? 0) + rain);
  });
  const spells: RainSpell[] = [];
  const longestGap = step === null ? SECONDS_PER_DAY : DRY_HOURS_BETWEEN_RAINS * SECONDS_PER_HOUR + step;
  for (const [at, rain] of [...rainAt].sort(([a], [b]) => a - b)) {
    if (step === null && rain < leastMm) continue;
    const before = spells.at(-1);
    const clearAfter = at + (step ?? SECONDS_PER_DAY);
    if (before && (step === null ? at - before.last <= longestGap : at - before.last < longestGap)) {
      before.rainMm += rain;
      before.last = at;
      before.clearAfter = clearAfter;
    } else {
      spells.push({ first: at, last: at, clearBefore: at - (step ?? 0), clearAfter, rainMm: rain });
    }
  }
  return spells.filter(({ rainMm }) => rainMm >= leastMm);
}
