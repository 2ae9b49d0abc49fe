/** The stand of one soil where it was planted before a rain against where it was planted after it. */
import { mean } from "../numerics/descriptive.ts";
import { welchDifference } from "../numerics/welch.ts";
import type { Passes } from "../passes/passes.ts";
import type { Field } from "../vocabulary/field.ts";
import type { Spots } from "./spots.ts";
import { hourlyStep, type RainSpell, rainSpells } from "./weather-hours.ts";

/** Counts and passes that each side needs (our judgement; two passes are the fewest that have a spread). */
export const LEAST_COUNTS = 4;
const LEAST_PASSES = 2;
const LEVEL = 0.95;
const SECONDS_PER_DAY = 86_400;

export interface RainSide {
  /** Plants / seeds dropped, or plants / target: mean of the passes, each the mean of its counts. */
  share: number;
  counts: number;
  passes: number;
}

export interface RainComparison {
  /** Index of the soil zone. */
  zone: number;
  /** Rain between the two plantings: first and last entry with rain (seconds since 1970), and how much, mm. */
  first: number;
  last: number;
  rainMm: number;
  timedBy: "hour" | "day";
  /** Whether the share is of the seeds dropped at the counts or, where the log has no rate there, of the target. */
  shareOf: "seeds" | "target";
  before: RainSide;
  after: RainSide;
  /** After less before, share, with its interval. */
  difference: number;
  low: number;
  high: number;
  level: number;
  /** Counts of the zone that were left out as asked. */
  leftOut: number;
}

/**
 * Compares, soil zone by soil zone, the counts planted between one rain and the next with those planted after that
 * next rain. Counts planted while it rained (by day: on a day of rain) are left out. Counts of one pass are alike, so
 * that each pass is one value, the mean of its counts; the interval is that of Welch ({@link welchDifference}), 95 %.
 * Log and weather are taken to keep one clock. It is an association: what else changed between the two is in it.
 * @param leastRainMm rain from which a rain counts, mm
 * @param leftOut counts (indices into `spots`) that are not to be compared: what is wrong there has another cause
 * @returns one entry a zone and rain with at least four counts on two passes on each side; none without rain
 */
export function compareAroundRain(
  field: Field,
  passes: Passes,
  spots: Spots,
  leastRainMm: number,
  leftOut: ReadonlySet<number> = new Set(),
): RainComparison[] {
  const { weather, log } = field;
  const time = log.values.time;
  if (!weather || !time || log.clockFromZero) return [];
  const spells = rainSpells(weather, leastRainMm);
  const timedBy = log.hasClockTime && hourlyStep(weather) !== null ? "hour" : "day";
  const byZone = new Map<number, Map<number, number[]>>();
  const leftOutOf = new Map<number, number>();
  for (let spot = 0; spot < spots.count; spot++) {
    const zone = spots.zone[spot]!;
    if (leftOut.has(spot)) {
      leftOutOf.set(zone, (leftOutOf.get(zone) ?? 0) + 1);
      continue;
    }
    const between = spellsBefore(spells, plantedAt(spots, spot, time, log.hasClockTime));
    if (zone < 0 || between === null) continue;
    const windows = byZone.get(zone) ?? new Map<number, number[]>();
    byZone.set(zone, windows.set(between, [...(windows.get(between) ?? []), spot]));
  }
  const comparisons: RainComparison[] = [];
  for (const [zone, windows] of [...byZone].sort(([a], [b]) => a - b)) {
    const ordered = [...windows].sort(([a], [b]) => a - b);
    for (let k = 1; k < ordered.length; k++) {
      const [from, before] = ordered[k - 1]!;
      const [to, after] = ordered[k]!;
      const compared = compareSides(field, passes, spots, before, after);
      if (!compared) continue;
      const rains = spells.slice(from, to);
      comparisons.push({
        zone,
        first: rains[0]!.first,
        last: rains.at(-1)!.last,
        rainMm: rains.reduce((sum, { rainMm }) => sum + rainMm, 0),
        timedBy,
        leftOut: leftOutOf.get(zone) ?? 0,
        ...compared,
      });
    }
  }
  return comparisons;
}

/** First and last moment at which the ground beneath a count was planted, whole days where the log has no clock. */
function plantedAt(spots: Spots, spot: number, time: Float64Array, hasClockTime: boolean): [number, number] {
  const { start, records } = spots.beneath;
  let [first, last] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let at = start[spot]!; at < start[spot + 1]!; at++) {
    const second = time[records[at]!]!;
    if (Number.isNaN(second)) continue;
    first = Math.min(first, second);
    last = Math.max(last, second);
  }
  if (hasClockTime) return [first, last];
  const dayOf = (second: number): number => Math.floor(second / SECONDS_PER_DAY) * SECONDS_PER_DAY;
  return [dayOf(first), dayOf(last) + SECONDS_PER_DAY];
}

/** How many rains were over when it was planted; null where it was planted during one, or at an unknown time. */
function spellsBefore(spells: readonly RainSpell[], [first, last]: [number, number]): number | null {
  if (!Number.isFinite(first)) return null;
  const over = spells.filter(({ clearAfter }) => clearAfter <= first).length;
  const next = spells[over];
  return next && next.clearBefore < last ? null : over;
}

function compareSides(
  field: Field,
  { passes }: Passes,
  spots: Spots,
  before: readonly number[],
  after: readonly number[],
): Omit<RainComparison, "zone" | "first" | "last" | "rainMm" | "timedBy" | "leftOut"> | null {
  if (before.length < LEAST_COUNTS || after.length < LEAST_COUNTS) return null;
  const knowsSeeds = [...before, ...after].every((spot) => spots.seedsPerHa[spot]! > 0);
  const shareAt = (spot: number): number =>
    knowsSeeds
      ? field.standCounts!.standPerHa[spots.source[spot]!]! / spots.seedsPerHa[spot]!
      : spots.response[spot]!;
  const passMeans = (side: readonly number[]): number[] =>
    passes.flatMap(({ number }) => {
      const own = side.filter((spot) => spots.pass[spot] === number);
      return own.length > 0 ? [mean(own.map(shareAt))] : [];
    });
  const first = passMeans(before);
  const second = passMeans(after);
  if (first.length < LEAST_PASSES || second.length < LEAST_PASSES) return null;
  const { difference, low, high } = welchDifference(first, second, LEVEL);
  return {
    shareOf: knowsSeeds ? "seeds" : "target",
    before: { share: mean(first), counts: before.length, passes: first.length },
    after: { share: mean(second), counts: after.length, passes: second.length },
    difference,
    low,
    high,
    level: LEVEL,
  };
}
