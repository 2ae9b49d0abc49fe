/** Days counted from ISO dates, without a clock. */
import { ManifestError } from "../errors.ts";

const MS_PER_DAY = 86_400_000;

/**
 * Whole days since 1970-01-01 of an ISO date; what follows the date (a time of day) is ignored.
 * @throws {ManifestError} naming the text when it is not a date of the calendar
 */
export function dayNumber(isoDate: string): number {
  const match = /^(\d{4})-(\d{2})-(\d{2})(?:$|[T ])/.exec(isoDate);
  const day = match ? Date.UTC(Number(match[1]), Number(match[2]) - 1, Number(match[3])) : Number.NaN;
  if (!match || new Date(day).toISOString().slice(0, 10) !== isoDate.slice(0, 10)) {
    throw new ManifestError(`"${isoDate}" is not a date; write year-month-day as in 2026-04-24`, {
      value: isoDate,
      accepted: "year-month-day as in 2026-04-24",
    });
  }
  return day / MS_PER_DAY;
}

/** ISO date of a whole number of days since 1970-01-01. */
export function isoDateOf(day: number): string {
  return new Date(day * MS_PER_DAY).toISOString().slice(0, 10);
}

/**
 * Days after 1 March of the date's own year: the same for a date in every year, leap or not.
 * @throws {ManifestError} when the text is not a date
 */
export function daysAfterMarchFirst(isoDate: string): number {
  return dayNumber(isoDate) - dayNumber(`${isoDate.slice(0, 4)}-03-01`);
}
