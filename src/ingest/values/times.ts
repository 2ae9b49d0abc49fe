/**
 * Reads dates and times of a column: ISO 8601 (date, or date and time, with or without a zone; without one it is
 * taken as UTC), dates with slashes, dots or dashes, dates with the month as a word, times of day, numbers as seconds or milliseconds since 1970 and
 * YYYYMMDD. All values of a column are read in one way.
 */
import type { NumberColumn, RawColumn } from "../layer.ts";
import { numberedMonth } from "./worded-dates.ts";

export type DayOrder = "m/d/y" | "d/m/y";

export interface TimeReading {
  /** Seconds since 1970-01-01 UTC; for `time-of-day` and `seconds` counted from midnight or an unknown start. NaN where unread. */
  seconds: Float64Array;
  /** `clock`: single moments; `date`: days only; `time-of-day`: moments without a day; `seconds`: since an unknown start. */
  resolution: "clock" | "date" | "time-of-day" | "seconds";
  /** How it was read, in plain words. */
  reason: string;
  /** Values that are there but could not be read; the first one and its 1-based record. */
  unread: { count: number; firstRecord: number; value: string } | null;
}

/** What came of reading a column as time: a reading, a choice the user has to make, or nothing. */
export type TimeResult = { reading: TimeReading } | { ambiguousDayOrder: string } | null;

const ISO =
  /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ](\d{1,2}):(\d{2})(?::(\d{2}(?:[.,]\d+)?))?\s*(Z|[-+]\d{2}:?\d{2})?)?$/i;
const SLASHED =
  /^(\d{1,2})[-/.](\d{1,2})[-/.](\d{4}|\d{2})(?:[ T,]+(\d{1,2}):(\d{2})(?::(\d{2}(?:\.\d+)?))?\s*(am|pm)?)?$/i;
const COMPACT = /^(\d{4})(\d{2})(\d{2})(?:T?(\d{2})(\d{2})(\d{2}(?:\.\d+)?)Z?)?$/;
const TIME_OF_DAY = /^(\d{1,2}):(\d{2})(?::(\d{2}(?:\.\d+)?))?\s*(am|pm)?$/i;

const SECONDS_PER_DAY = 86_400;
/** Seconds since 1970 of 1980-01-01 and 2100-01-01: the span in which numbers are taken as seconds since 1970. */
const EARLIEST_SECOND = 315_532_800;
const LATEST_SECOND = 4_102_444_800;

/** Reads a column as times; `order` settles dates such as 4/5/2026. */
export function readTimes(
  column: RawColumn,
  order: DayOrder | null = null,
  year: number | null = null,
): TimeResult {
  if (column.kind === "text") return readText(column.codes, column.labels, order);
  return gpsSeconds(column, year) ?? readNumbers(column.values);
}

/** GPS time counts from 1980-01-06 and has no leap seconds: 18 s ahead of UTC since 2017 (IS-GPS-200). */
const GPS_EPOCH_S = 315_964_800;
const GPS_AHEAD_S = 18;

/** Seconds of GPS time, where the name says so or only they lie in the year of planting; null for other numbers. */
function gpsSeconds({ name, values }: NumberColumn, year: number | null): TimeResult {
  const first = values.find((value) => !Number.isNaN(value));
  if (first === undefined || first < EARLIEST_SECOND || first >= LATEST_SECOND - GPS_EPOCH_S) return null;
  const yearOf = (seconds: number) => new Date(seconds * 1000).getUTCFullYear();
  const shift = GPS_EPOCH_S - GPS_AHEAD_S;
  const named = /gps/i.test(name) && (year === null || yearOf(first) !== year);
  if (!named && !(year !== null && yearOf(first) !== year && yearOf(first + shift) === year)) return null;
  const why = named ? "seconds of GPS time" : `seconds of GPS time: since 1970 they would not lie in ${year}`;
  return {
    reading: numberReading(
      values.map((value) => value + shift),
      "clock",
      why,
    ),
  };
}

interface Parsed {
  seconds: number;
  resolution: TimeReading["resolution"];
}

function readText(codes: Int32Array, labels: readonly string[], order: DayOrder | null): TimeResult {
  const dayOrder = order ?? dayOrderOf(labels);
  if (dayOrder === "unclear")
    return { ambiguousDayOrder: labels.find((label) => SLASHED.test(label.trim())) ?? "" };
  const parsed = labels.map((label) => parseTime(label.trim(), dayOrder ?? "m/d/y"));
  const good = parsed.filter((one) => one !== null);
  if (good.length === 0 || good.length < labels.length / 2) return null;
  const clocks = good.some((one) => one.resolution === "clock");
  const resolution = clocks ? "clock" : good[0]!.resolution;
  const seconds = new Float64Array(codes.length);
  let unread: TimeReading["unread"] = null;
  for (let index = 0; index < codes.length; index++) {
    const code = codes[index]!;
    const value = code < 0 ? null : parsed[code]!;
    const fits =
      value !== null && (value.resolution === resolution || (clocks && value.resolution === "date"));
    seconds[index] = fits ? value.seconds : Number.NaN;
    if (fits || code < 0) continue;
    unread ??= { count: 0, firstRecord: index + 1, value: labels[code]! };
    unread.count += 1;
  }
  const midnightOnly = clocks && good.every((one) => one.seconds % SECONDS_PER_DAY === 0);
  return {
    reading: {
      seconds,
      resolution: midnightOnly ? "date" : resolution,
      reason: midnightOnly
        ? "every time is midnight: dates only"
        : {
            clock: "dates with times",
            date: "dates without times",
            "time-of-day": "times of day",
            seconds: "",
          }[resolution],
      unread,
    },
  };
}

/** Which of day and month comes first, by any value above 12; "unclear" where no value tells. */
function dayOrderOf(labels: readonly string[]): DayOrder | "unclear" | null {
  let slashed = false;
  let sameBoth = true;
  for (const label of labels) {
    const match = SLASHED.exec(label.trim());
    if (!match) continue;
    slashed = true;
    const [first, second] = [Number(match[1]), Number(match[2])];
    if (match[7]) return "m/d/y";
    if (first > 12) return "d/m/y";
    if (second > 12) return "m/d/y";
    if (first !== second) sameBoth = false;
  }
  if (!slashed) return null;
  return sameBoth ? "m/d/y" : "unclear";
}

function parseTime(text: string, order: DayOrder): Parsed | null {
  const iso = ISO.exec(text) ?? COMPACT.exec(text);
  if (iso) {
    const day = dayNumber(Number(iso[1]), Number(iso[2]), Number(iso[3]));
    if (day === null) return null;
    if (iso[4] === undefined) return { seconds: day * SECONDS_PER_DAY, resolution: "date" };
    const clock = clockSeconds(iso[4], iso[5], iso[6]?.replace(",", "."), undefined);
    if (clock === null) return null;
    return { seconds: day * SECONDS_PER_DAY + clock - zoneSeconds(iso[7]), resolution: "clock" };
  }
  const worded = numberedMonth(text);
  const slashed = SLASHED.exec(worded ?? text);
  if (slashed) {
    const [month, date] =
      worded !== null || order === "m/d/y" ? [slashed[1], slashed[2]] : [slashed[2], slashed[1]];
    const year = Number(slashed[3]) + (slashed[3]!.length === 2 ? 2000 : 0);
    const day = dayNumber(year, Number(month), Number(date));
    if (day === null) return null;
    if (slashed[4] === undefined) return { seconds: day * SECONDS_PER_DAY, resolution: "date" };
    const clock = clockSeconds(slashed[4], slashed[5], slashed[6], slashed[7]);
    return clock === null ? null : { seconds: day * SECONDS_PER_DAY + clock, resolution: "clock" };
  }
  const timeOfDay = TIME_OF_DAY.exec(text);
  if (!timeOfDay) return null;
  const clock = clockSeconds(timeOfDay[1], timeOfDay[2], timeOfDay[3], timeOfDay[4]);
  return clock === null ? null : { seconds: clock, resolution: "time-of-day" };
}

function dayNumber(year: number, month: number, date: number): number | null {
  const milliseconds = Date.UTC(year, month - 1, date);
  const back = new Date(milliseconds);
  const real = back.getUTCMonth() === month - 1 && back.getUTCDate() === date;
  return real ? milliseconds / (SECONDS_PER_DAY * 1000) : null;
}

function clockSeconds(
  hours: string | undefined,
  minutes: string | undefined,
  seconds: string | undefined,
  half: string | undefined,
): number | null {
  let hour = Number(hours);
  if (half) hour = (hour % 12) + (half.toLowerCase() === "pm" ? 12 : 0);
  const minute = Number(minutes);
  const second = Number(seconds ?? 0);
  if (!(hour < 24 && minute < 60 && second < 61)) return null;
  return hour * 3600 + minute * 60 + second;
}

function zoneSeconds(zone: string | undefined): number {
  if (zone === undefined || zone.toUpperCase() === "Z") return 0;
  const sign = zone.startsWith("-") ? -1 : 1;
  return sign * (Number(zone.slice(1, 3)) * 3600 + Number(zone.slice(-2)) * 60);
}

function readNumbers(values: Float64Array): TimeResult {
  let minimum = Number.POSITIVE_INFINITY;
  let maximum = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (value < minimum) minimum = value;
    if (value > maximum) maximum = value;
  }
  if (minimum > maximum) return null;
  if (minimum >= EARLIEST_SECOND && maximum < LATEST_SECOND) {
    return { reading: numberReading(values, "clock", "seconds since 1970") };
  }
  if (minimum >= EARLIEST_SECOND * 1000 && maximum < LATEST_SECOND * 1000) {
    return {
      reading: numberReading(
        values.map((value) => value / 1000),
        "clock",
        "milliseconds since 1970",
      ),
    };
  }
  if (
    minimum >= 19_800_101 &&
    maximum <= 21_000_101 &&
    values.every((value) => Number.isNaN(value) || Number.isInteger(value))
  ) {
    const seconds = values.map((value) => parseTime(String(value), "m/d/y")?.seconds ?? Number.NaN);
    return { reading: numberReading(seconds, "date", "dates as YYYYMMDD") };
  }
  if (minimum >= 0 && maximum < 7 * SECONDS_PER_DAY && maximum > minimum) {
    return { reading: numberReading(values, "seconds", "seconds from an unknown start") };
  }
  return null;
}

function numberReading(
  seconds: Float64Array,
  resolution: TimeReading["resolution"],
  reason: string,
): TimeReading {
  return { seconds, resolution, reason, unread: null };
}

/** Adds times of day to days. */
export function joinDateAndTime(date: TimeReading, timeOfDay: TimeReading): TimeReading {
  return {
    seconds: date.seconds.map((day, index) => day + timeOfDay.seconds[index]!),
    resolution: "clock",
    reason: "date and time of day from two columns",
    unread: date.unread ?? timeOfDay.unread,
  };
}

/** ISO date (UTC) of a second since 1970. */
export function isoDateOf(seconds: number): string {
  return new Date(seconds * 1000).toISOString().slice(0, 10);
}

/** ISO date, or date and time where it is not midnight, of a second since 1970 (UTC). */
export function isoTextOf(seconds: number): string {
  const text = new Date(seconds * 1000).toISOString();
  return seconds % SECONDS_PER_DAY === 0 ? text.slice(0, 10) : text.replace(".000Z", "Z");
}
