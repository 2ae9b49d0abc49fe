/** What the page says beyond single quantities: missing values, targets, intervals, runs of numbers. */
import type { Estimate, MoneyEstimate } from "../../src/findings/findings-document.ts";
import * as library from "../../src/quantities/format.ts";
import { type QuantityKind, type UnitSystem, unitLabel } from "../../src/quantities/format.ts";
import { numberLocale } from "./numbers.ts";
import { texts } from "./texts/texts.ts";

const EN_DASH = "\u2013";

// The figures of the library, written as the reader writes numbers.

export function formatNumber(value: number, kind: QuantityKind, system: UnitSystem): string {
  return library.formatNumber(value, kind, system, numberLocale.value);
}

export function formatQuantity(value: number, kind: QuantityKind, system: UnitSystem): string {
  return library.formatQuantity(value, kind, system, numberLocale.value);
}

export function formatPercent(share: number, decimals = 0): string {
  return library.formatPercent(share, decimals, numberLocale.value);
}

/** A plain decimal figure ("1234.5"). */
export function groupThousands(digits: string): string {
  return library.groupThousands(digits, numberLocale.value);
}

/** A quantity with its unit; "not known" where there is none. */
export function formatKnown(
  value: number | null | undefined,
  kind: QuantityKind,
  system: UnitSystem,
): string {
  if (value === null || value === undefined || !Number.isFinite(value)) return texts.value.map.notKnown;
  return formatQuantity(value, kind, system);
}

/** One target, or low to high. */
export function formatTarget(
  target: number | [number, number] | null | undefined,
  kind: QuantityKind,
  system: UnitSystem,
): string {
  if (target === null || target === undefined) return texts.value.map.noneSet;
  if (typeof target === "number") return formatQuantity(target, kind, system);
  const [low, high] = target.map((value) => formatNumber(value, kind, system));
  return `${low}${EN_DASH}${high} ${unitLabel(kind, system)}`;
}

/** The figure alone, or low to high, for a table whose rows name the unit; a dash where there is none. */
export function formatBare(
  value: number | [number, number] | null | undefined,
  kind: QuantityKind,
  system: UnitSystem,
): string {
  if (value === null || value === undefined) return EN_DASH;
  return [value]
    .flat()
    .map((each) => (Number.isFinite(each) ? formatNumber(each, kind, system) : EN_DASH))
    .join(EN_DASH);
}

/** Money as an estimate carries it: two figures of a large sum, whole units of a small one. */
export function roundMoney(value: number, currency: string): string {
  return library.formatMoney(value, currency, numberLocale.value);
}

/** "USD 180 to 440", "180 to 440 USD" where the currency stands behind. */
export function formatMoneyRange({ low, high, currency }: MoneyEstimate): string {
  const [first, last] = [roundMoney(low, currency), roundMoney(high, currency)];
  const bare = (value: number) => groupThousands(library.roundMoney(value).toFixed(0));
  return first.startsWith(currency)
    ? texts.value.map.between(first, bare(high))
    : texts.value.map.between(bare(low), last);
}

/** Share in percent with its interval: "12 % (8 to 16)". */
export function formatShareEstimate(estimate: Estimate, decimals = 0): string {
  const ends = [estimate.low, estimate.high].map((end) => groupThousands((end * 100).toFixed(decimals)));
  return `${formatPercent(estimate.estimate, decimals)} (${texts.value.map.between(ends[0]!, ends[1]!)})`;
}

export function plural(count: number, one: string, many = `${one}s`): string {
  return `${groupThousands(String(count))} ${count === 1 ? one : many}`;
}
