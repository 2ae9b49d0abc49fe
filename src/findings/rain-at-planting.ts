/** The same soil planted before and after a rain, as the findings document says it. */
import { formatPercent, formatQuantity, groupThousands } from "../quantities/format.ts";
import type { RainComparison, RainSide } from "../stand/rain-comparison.ts";
import { FARM_ENGLISH, type Writing } from "../texts/language.ts";

export interface RainAtPlanting extends Omit<RainComparison, "zone" | "first" | "last"> {
  soilZone: string;
  /** First and last entry of the weather with rain: ISO dates, with the hour where timed by the hour. */
  rainFrom: string;
  rainTo: string;
  words: string;
}

export function rainAtPlanting(
  compared: RainComparison,
  soilZone: string,
  writing: Writing = FARM_ENGLISH,
): RainAtPlanting {
  const { zone: _, first, last, ...figures } = compared;
  const said = (second: number): string =>
    new Date(second * 1000).toISOString().slice(0, compared.timedBy === "hour" ? 16 : 10);
  const part = { soilZone, rainFrom: said(first), rainTo: said(last), ...figures };
  return { ...part, words: rainWords(part, writing) };
}

/** The comparison in words; the page says it in the units and the figures it shows. */
export function rainWords(part: Omit<RainAtPlanting, "words">, writing: Writing): string {
  const { before, after, difference, low, high } = part;
  const when =
    part.rainFrom === part.rainTo ? `on ${part.rainFrom}` : `from ${part.rainFrom} to ${part.rainTo}`;
  const side = ({ share, counts, passes }: RainSide): string =>
    `${formatPercent(share, 0, writing.locale)} (${counts} counts on ${passes} passes)`;
  const points = (share: number): string =>
    groupThousands((100 * share).toFixed(0).replace(/^-0$/, "0"), writing.locale);
  return [
    `${part.soilZone}, planted before and after ${formatQuantity(part.rainMm, "depth", writing)} of rain ${when.replaceAll("T", " ")}:`,
    `plants of the ${part.shareOf === "seeds" ? "seeds dropped" : "target"} ${side(before)} before, ${side(after)} after;`,
    `difference ${points(difference)} points (${formatPercent(part.level, 0, writing.locale)} interval ${points(low)} to ${points(high)}${low <= 0 && high >= 0 ? ", so it may be none" : ""}).`,
    ...(part.leftOut > 0 ? [`Counts in places with another cause are left out (${part.leftOut}).`] : []),
    "This is an association: other things change by day too.",
  ].join(" ");
}
