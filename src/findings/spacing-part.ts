/** Plant spacings of the counts: multiples, misses, quality of feed, precision and spread, by a named rule. */
import { seedCountIndices, summariseSpacings, theoreticalSpacingMm } from "../compare/spacing.ts";
import { formatPercent, formatQuantity } from "../quantities/format.ts";
import { referencePopulation } from "../stand/spots.ts";
import type { Writing } from "../texts/language.ts";
import type { Field } from "../vocabulary/field.ts";

/** Spacings asked for before a comparison means much: 250 (Iowa State Univ. Extension). */
const ENOUGH_SPACINGS = 250;

const RULES = {
  bySpacings: "shares of spacings (Kachman & Smith 1995, Trans. ASAE 38(2):379-387, from memory)",
  bySeeds: "shares of seeds (ISO 7256-1, from memory)",
} as const;

/** Shares 0..1 that sum to 1; `singles` is the quality of feed. */
export interface SpacingShares {
  multiples: number;
  singles: number;
  misses: number;
}

export interface SpacingPart {
  spots: number;
  spacings: number;
  /** Spacing the target population asks for, mm. */
  theoreticalMm: number;
  meanMm: number;
  sdMm: number | null;
  /** SD of the singles over the theoretical spacing. */
  precision: number | null;
  bySpacings: SpacingShares;
  bySeeds: SpacingShares;
  rules: { bySpacings: string; bySeeds: string };
  words: string;
}

/** All spacings measured in the counts together; null where there are none, or no target or row spacing to judge them by. */
export function spacingPart(field: Field, writing: Writing): SpacingPart | null {
  const lists = (field.standCounts?.spacingsMm ?? []).filter((list) => list !== null);
  const population = referencePopulation(field);
  const { rowSpacingM } = field.planter;
  if (lists.length === 0 || population === null || rowSpacingM === null) return null;
  const all = lists.flat();
  const theoreticalMm = theoreticalSpacingMm(population, rowSpacingM);
  const summary = summariseSpacings(all, theoreticalMm);
  const { multiples, singles, misses } = summary;
  const bySeeds = seedCountIndices(all, theoreticalMm);
  const shares = (part: SpacingShares): string =>
    `skips ${formatPercent(part.misses, 0, writing.locale)}, doubles ${formatPercent(part.multiples, 0, writing.locale)}, single ${formatPercent(part.singles, 0, writing.locale)}`;
  const say = (mm: number): string => formatQuantity(mm, "depth", writing);
  const words = [
    `${all.length} plant spacings at ${lists.length} ${lists.length === 1 ? "spot" : "spots"}, ${say(theoreticalMm)} wanted, ${say(summary.meanMm)} on average.`,
    `By ${RULES.bySpacings}: ${shares(summary)}.`,
    `By ${RULES.bySeeds}: ${shares(bySeeds)}.`,
    ...(summary.sdMm === null ? [] : [`Spread (SD) ${say(summary.sdMm)}.`]),
    ...(summary.precision === null
      ? []
      : [
          `Precision (spread of the singles over the spacing wanted) ${formatPercent(summary.precision, 0, writing.locale)}.`,
        ]),
    "Plants that did not come up count as skips here. No price is put on spread: the studies disagree.",
    ...(all.length < ENOUGH_SPACINGS
      ? [`Iowa State University asks for ${ENOUGH_SPACINGS} spacings before rows or units are compared.`]
      : []),
  ].join(" ");
  return {
    spots: lists.length,
    spacings: all.length,
    theoreticalMm,
    meanMm: summary.meanMm,
    sdMm: summary.sdMm,
    precision: summary.precision,
    bySpacings: { multiples, singles, misses },
    bySeeds,
    rules: { ...RULES },
    words,
  };
}
