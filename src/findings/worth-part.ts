/** Whether mending a finding's cause pays before next spring, and what a wrong rate cost in seed. */
import type { Draft } from "../causes/draft.ts";
import type { Remedy } from "../causes/evidence/remedies.ts";
import type { Figures } from "../causes/measure.ts";
import type { Loss } from "../cost/loss.ts";
import { seedMoney } from "../cost/money.ts";
import { type WorthFixing, worthFixing } from "../cost/worth-fixing.ts";
import { formatMoney, groupThousands } from "../quantities/format.ts";
import { SQUARE_METRES_PER_HECTARE } from "../quantities/units.ts";
import type { Writing } from "../texts/language.ts";
import type { Field } from "../vocabulary/field.ts";

export interface RemedyWorth extends WorthFixing {
  /** What the user says the remedy costs; null where not given. */
  cost: number | null;
  currency: string;
  words: string;
}

export interface SeedCost {
  /** Price of the seed beyond the target (> 0) or saved below it (< 0), and how many seeds. */
  money: number;
  seeds: number;
  currency: string;
}

/** Loss a year against the cost of the remedy; null where nothing is to be mended. */
export function remedyWorth(
  field: Field,
  draft: Draft,
  remedy: Remedy,
  loss: Loss | null,
  writing: Writing,
): RemedyWorth | null {
  if (draft.basis === "cleared" || !loss) return null;
  const { currency, remedyCosts } = field.prices;
  const cost = remedyCosts?.[remedy.code] ?? null;
  const worth = worthFixing(loss.money, cost);
  return { ...worth, cost, currency, words: worthWords(worth, cost, currency, writing) };
}

function worthWords(worth: WorthFixing, cost: number | null, currency: string, writing: Writing): string {
  if (cost === null || worth.years === null) return `Whether mending it pays cannot be told: ${worth.note}.`;
  const { estimate } = worth.years;
  const years = estimate === null ? "" : `, made up for in about ${yearsText(estimate, writing)}`;
  return `Worth fixing before next spring? At ${formatMoney(cost, currency, writing.locale)} it ${worth.verdict}${years}; this ${worth.note}.`;
}

function yearsText(years: number, writing: Writing): string {
  if (years < 1) return "less than a year";
  return years > 50 ? "more than 50 years" : `${groupThousands(years.toFixed(1), writing.locale)} years`;
}

/** Seed dropped beyond or below the target by a wrong rate; null for other causes, or without figures or a price. */
export function seedCost(field: Field, draft: Draft, measured: Figures): SeedCost | null {
  if (draft.cause !== "rate-off-target") return null;
  const figure = measured.populationPerHa;
  if (!figure || figure.inside === null || typeof figure.target !== "number") return null;
  return seedMoney(figure.inside, figure.target, draft.areaM2 / SQUARE_METRES_PER_HECTARE, field.prices);
}

/** "seed beyond the target: 12,000 seeds, USD 45"; the loss of yield is apart. */
export function seedWords({ money, seeds, currency }: SeedCost, writing: Writing): string {
  const count = groupThousands(String(Math.round(Math.abs(seeds) / 1000) * 1000), writing.locale);
  return `seed ${seeds > 0 ? "dropped beyond" : "saved below"} the target: ${count} seeds, ${formatMoney(Math.abs(money), currency, writing.locale)}; not in the loss above`;
}
