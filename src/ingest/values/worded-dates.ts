/** Dates with the month as a word: "Apr 24, 2026", "24 April 2026", "24-Apr-26", "Fri, April 24th 2026 3:20 PM". */

const MONTHS = [
  "january",
  "february",
  "march",
  "april",
  "may",
  "june",
  "july",
  "august",
  "september",
  "october",
  "november",
  "december",
];
const WEEKDAY = /^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,?\s+/i;
const DAY_FIRST = /^(\d{1,2})(?:st|nd|rd|th)?[\s\-.,]*([a-z]{3,9})\.?[\s\-.,]*(\d{4}|\d{2})(?!\d)(.*)$/i;
const MONTH_FIRST = /^([a-z]{3,9})\.?[\s\-.]*(\d{1,2})(?:st|nd|rd|th)?[\s\-,]+(\d{4})(?!\d)(.*)$/i;

/** The date with its month as a number, month first ("4/24/2026 3:20 PM"); null where the text is no such date. */
export function numberedMonth(text: string): string | null {
  const bare = text.replace(WEEKDAY, "");
  const dayFirst = DAY_FIRST.exec(bare);
  const monthFirst = dayFirst ? null : MONTH_FIRST.exec(bare);
  const [day, word, year, rest] = dayFirst
    ? dayFirst.slice(1)
    : monthFirst
      ? [monthFirst[2], monthFirst[1], monthFirst[3], monthFirst[4]]
      : [];
  if (day === undefined || word === undefined || year === undefined) return null;
  // Written out, or cut to three or more of its letters.
  const month = MONTHS.findIndex((name) => name.startsWith(word.toLowerCase()));
  return month < 0 ? null : `${month + 1}/${day}/${year}${rest ?? ""}`;
}
