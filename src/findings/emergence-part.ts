/** Emergence in the findings document: expected by planting day, with cold and rain; flag tests where given. */
import type { Draft } from "../causes/draft.ts";
import { THRESHOLDS } from "../compare/thresholds.ts";
import { isMeasuredDepth } from "../field/depth-source.ts";
import { mean } from "../numerics/descriptive.ts";
import type { Pass } from "../passes/passes.ts";
import { formatPercent, formatQuantity } from "../quantities/format.ts";
import { convert } from "../quantities/units.ts";
import { type FlagTestResult, readFlagTest } from "../stand/flag-test.ts";
import { type PlantingDayWeather, plantingDayWeather } from "../stand/planting-day-weather.ts";
import { compareAroundRain } from "../stand/rain-comparison.ts";
import { LATE_AFTER_DAYS, LATE_AFTER_DEGREE_DAYS } from "../stand/uniformity.ts";
import { hourlyStep, lowestSoilAfter } from "../stand/weather-hours.ts";
import { type Writing, writingOf } from "../texts/language.ts";
import type { DocumentParts } from "./document-parts.ts";
import { type RainAtPlanting, rainAtPlanting } from "./rain-at-planting.ts";

export interface EmergenceDay {
  planted: string;
  /** ISO dates on which emergence is to be expected; null where the weather ends before. */
  expected: string | null;
  earliest: string | null;
  latest: string | null;
  degreeDaysF: { low: number; estimate: number; high: number };
  basis: "soil" | "air";
  /**
   * Lowest soil temperature, C, and whether it lies under 50 F: of the 48 hours after each pass where log and weather
   * know the hour, else of the planting day and the next.
   */
  lowestSoilC: number | null;
  coldStart: boolean | null;
  /** Passes of that day with soil under 50 F in their own 48 hours; null where the hour is not known. */
  coldPasses: { cold: number; of: number } | null;
  rainMm: number;
  heaviestRain: { date: string; rainMm: number; beating: boolean } | null;
  words: string;
}

export interface FlagTests {
  spots: number;
  plants: number;
  /** Late by either definition, share of the flagged plants; null where the weather does not allow it. */
  lateShareByDays: number | null;
  lateShareByDegreeDays: number | null;
  definitions: { byDays: string; byDegreeDays: string };
  words: string;
}

export interface EmergencePart {
  /** One entry a planting day; empty without weather or dates. */
  days: EmergenceDay[];
  flagTests: FlagTests | null;
  /** Stand before and after a rain on the same soil; empty where the counts do not allow it. */
  rain: RainAtPlanting[];
}

/** Null where there is neither weather for a planting day of a crop we know nor a flag test nor a rain to compare. */
export function emergencePart(parts: DocumentParts): EmergencePart | null {
  const days = plantingDates(parts).flatMap((date) => {
    const read = weatherOf(parts, date);
    return read ? [dayOf(read, coldOf(parts, read, passesOf(parts, date)), writingOf(parts))] : [];
  });
  const flagTests = flagTestsOf(parts);
  const rain = rainOf(parts);
  return days.length > 0 || flagTests || rain.length > 0 ? { days, flagTests, rain } : null;
}

/** What the weather has to say of a place that soil or weather explains: cold soil, beating rain; a line each. */
export function weatherSeen(parts: DocumentParts, draft: Draft): string[] {
  if ((draft.cause !== "soil-or-weather" && draft.cause !== "not-in-the-log") || !parts.field.weather)
    return [];
  const { passes } = parts.passes;
  const dates = new Set(draft.passes.map((number) => passes[number - 1]!.date));
  const lines: string[] = [];
  for (const date of [...dates].filter((one) => one !== null).sort()) {
    const read = weatherOf(parts, date);
    if (!read) continue;
    const own = passesOf(parts, date).filter(({ number }) => draft.passes.includes(number));
    const cold = coldOf(parts, read, own);
    const { heaviestRain, coldStart, planted } = dayOf(read, cold, writingOf(parts));
    if (coldStart)
      lines.push(
        `planted ${planted}: soil down to ${temperature(cold.lowestSoilC!, writingOf(parts))} in the first ${cold.passes ? "48 hours" : "two days"}`,
      );
    if (heaviestRain?.beating)
      lines.push(
        `planted ${planted}: ${formatQuantity(heaviestRain.rainMm, "depth", writingOf(parts))} of rain on ${heaviestRain.date}, before emergence, which was to be expected ${whenWords(read)}`,
      );
    else if (draft.detail === "crust")
      lines.push(
        `planted ${planted}: no day of beating rain in the weather file before emergence; a shower may have missed the gauge`,
      );
  }
  return lines;
}

/** Planting days of the log in order, else the one of the manifest. */
function plantingDates({ field, passes }: DocumentParts): string[] {
  const dates = new Set(passes.passes.map((pass) => pass.date).filter((date) => date !== null));
  if (dates.size === 0 && field.planted) dates.add(field.planted);
  return [...dates].sort();
}

function weatherOf(parts: DocumentParts, date: string): PlantingDayWeather | null {
  const { weather, crop } = parts.field;
  if (!weather || crop === "other") return null;
  const seedingDepthMm = depthOf(parts, date);
  return plantingDayWeather(weather, date, { crop, ...(seedingDepthMm === null ? {} : { seedingDepthMm }) });
}

/** Mean depth sensed or dug on that day, else the target. */
function depthOf({ field, passes }: DocumentParts, date: string): number | null {
  const { log, targets } = field;
  const depth = log.values.seedingDepth;
  if (depth && isMeasuredDepth(log.depthSource)) {
    const values = depth.filter((value, i) => {
      const pass = passes.passOf[i]!;
      return pass > 0 && passes.passes[pass - 1]!.date === date && !Number.isNaN(value);
    });
    if (values.length > 0) return mean(values);
  }
  return targets.seedingDepthMm;
}

function passesOf({ passes }: DocumentParts, date: string): Pass[] {
  return passes.passes.filter((pass) => pass.date === date);
}

/** How cold the soil was after planting; `passes` is null where the hour of planting or of the weather is not known. */
interface ColdStart {
  lowestSoilC: number | null;
  passes: { cold: number; of: number } | null;
}

/** By each pass's own hour where log and weather have hours, else by day. */
function coldOf({ field }: DocumentParts, read: PlantingDayWeather, passes: readonly Pass[]): ColdStart {
  const { weather, log } = field;
  const starts = passes.map(({ startTime }) => startTime).filter((second) => second !== null);
  if (!weather || log.clockFromZero || starts.length === 0 || hourlyStep(weather) === null)
    return { lowestSoilC: read.lowestSoilC, passes: null };
  const lowest = starts.map((second) => lowestSoilAfter(weather, second)).filter((soilC) => soilC !== null);
  if (lowest.length === 0) return { lowestSoilC: null, passes: null };
  const cold = lowest.filter((soilC) => soilC < THRESHOLDS.coldSoil.value).length;
  return { lowestSoilC: Math.min(...lowest), passes: { cold, of: lowest.length } };
}

function rainOf(parts: DocumentParts): RainAtPlanting[] {
  const { field, passes, causes } = parts;
  const writing = writingOf(parts);
  if (!causes.spots) return [];
  // What the planting did wrong in a place, no rain did.
  const faulty = causes.drafts.filter(
    ({ basis, cause }) =>
      basis === "counted" &&
      cause !== "soil-or-weather" &&
      cause !== "not-in-the-log" &&
      cause !== "sensor-fault",
  );
  const leftOut = new Set(faulty.flatMap((draft) => draft.spots));
  const compared = compareAroundRain(field, passes, causes.spots, THRESHOLDS.wetRain.value, leftOut);
  return compared.map((one) => rainAtPlanting(one, field.soilZones!.names[one.zone]!, writing));
}

function dayOf(read: PlantingDayWeather, soil: ColdStart, writing: Writing): EmergenceDay {
  const { emergence, heaviestRain, plantedIsoDate } = read;
  const { lowestSoilC } = soil;
  const { requirementF } = emergence;
  return {
    planted: plantedIsoDate,
    expected: emergence.date,
    earliest: emergence.earliest,
    latest: emergence.latest,
    degreeDaysF: { low: requirementF.low, estimate: requirementF.estimate, high: requirementF.high },
    basis: emergence.basis,
    lowestSoilC,
    coldStart: lowestSoilC === null ? null : lowestSoilC < THRESHOLDS.coldSoil.value,
    coldPasses: soil.passes,
    rainMm: read.rainMm,
    heaviestRain: heaviestRain && {
      date: heaviestRain.isoDate,
      rainMm: heaviestRain.rainMm,
      beating: heaviestRain.rainMm >= THRESHOLDS.beatingRain.value,
    },
    words: dayWords(read, soil, writing),
  };
}

function dayWords(read: PlantingDayWeather, soil: ColdStart, writing: Writing): string {
  const { emergence, heaviestRain, plantedIsoDate } = read;
  const { lowestSoilC, passes } = soil;
  const when = passes ? `first 48 hours after ${passes.cold} of ${passes.of} passes` : "first two days";
  const parts = [
    `Planted ${plantedIsoDate}: emergence to be expected ${whenWords(read)}; ${emergence.requirementF.estimate.toFixed(0)} degree days F by ${emergence.basis} temperature.`,
  ];
  if (lowestSoilC !== null && lowestSoilC < THRESHOLDS.coldSoil.value)
    parts.push(`Cold start: soil down to ${temperature(lowestSoilC, writing)} in the ${when}.`);
  if (heaviestRain && heaviestRain.rainMm >= THRESHOLDS.beatingRain.value)
    parts.push(
      `${formatQuantity(heaviestRain.rainMm, "depth", writing)} of rain on ${heaviestRain.isoDate}, before emergence: bare ground may have crusted.`,
    );
  return parts.join(" ");
}

/** "about 2026-05-07 (2026-05-05 to 2026-05-10)". */
function whenWords({ emergence }: PlantingDayWeather): string {
  const { date, earliest, latest } = emergence;
  if (date === null) return earliest === null ? "after the weather file ends" : `from ${earliest} on`;
  return `about ${date} (${earliest} to ${latest ?? "after the weather file ends"})`;
}

function temperature(celsius: number, writing: Writing): string {
  return writing.units === "farm" ? `${convert(celsius, "C", "F").toFixed(0)} F` : `${celsius.toFixed(0)} C`;
}

/** All flagged rows together, each plant with equal weight. */
function flagTestsOf({ field, ...asked }: DocumentParts): FlagTests | null {
  const { locale } = writingOf(asked);
  const lists = (field.standCounts?.flagged ?? []).filter((list) => list !== null);
  const results = lists
    .filter((list) => list.some(({ plants }) => plants > 0))
    .map((list) => readFlagTest(list, field.weather));
  if (results.length === 0) return null;
  const plants = results.reduce((sum, result) => sum + result.plants, 0);
  const pooled = (shareOf: (result: FlagTestResult) => number | null): number | null => {
    let late = 0;
    for (const result of results) {
      const share = shareOf(result);
      if (share === null) return null;
      late += share * result.plants;
    }
    return late / plants;
  };
  const lateShareByDays = pooled(({ byDays }) => byDays);
  const lateShareByDegreeDays = pooled(({ byDegreeDays }) => byDegreeDays);
  const say = (share: number | null): string =>
    share === null ? "not known" : formatPercent(share, 0, locale);
  const spots = results.length;
  return {
    spots,
    plants,
    lateShareByDays,
    lateShareByDegreeDays,
    definitions: { byDays: LATE_AFTER_DAYS.source, byDegreeDays: LATE_AFTER_DEGREE_DAYS.source },
    words: `Flag tests, ${plants} plants at ${spots} ${spots === 1 ? "spot" : "spots"}: late by more than 3 days ${say(lateShareByDays)}, late by more than 25 degree days F ${say(lateShareByDegreeDays)}. Two published definitions of an even stand; they are not the same thing.`,
  };
}
