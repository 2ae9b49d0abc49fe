/** The findings of a season by cause: what they cost together and in how many fields they were. */
import type { MoneyEstimate } from "../findings/findings-document.ts";
import type { Cause } from "../vocabulary/causes.ts";
import { causeName } from "../words/cause-names.ts";
import type { KeptField } from "./field-result.ts";

export interface LedgerEntry {
  cause: Cause;
  /** A farmer's name of the cause; of one that cannot be told yet, what it could be. */
  title: string;
  findings: number;
  /** Ids of the fields that have it, sorted. */
  fields: string[];
  areaHa: number;
  /** Sum over the fields; null where none is priced, or in several currencies. */
  money: MoneyEstimate | null;
}

/** Causes with most money first, then by how many fields have them. Findings that the counts cleared are left out. */
export function seasonLedger(kept: readonly KeptField[]): LedgerEntry[] {
  const byTitle = new Map<string, { entry: LedgerEntry; money: MoneyEstimate[] }>();
  for (const { id, digest } of kept) {
    for (const finding of digest.findings) {
      if (finding.basis === "cleared") continue;
      // What cannot be told yet is told apart by what it could be.
      const title = finding.cause === "undetermined" ? finding.title : causeName(finding.cause, "en").title;
      const found = byTitle.get(title) ?? {
        entry: { cause: finding.cause, title, findings: 0, fields: [], areaHa: 0, money: null },
        money: [],
      };
      byTitle.set(title, found);
      found.entry.findings++;
      found.entry.areaHa += finding.areaHa;
      if (found.entry.fields.at(-1) !== id) found.entry.fields.push(id);
      if (finding.money) found.money.push(finding.money);
    }
  }
  return [...byTitle.values()]
    .map(({ entry, money }) => ({ ...entry, money: sumOfMoney(money) }))
    .sort(
      (a, b) =>
        (b.money?.estimate ?? -1) - (a.money?.estimate ?? -1) ||
        b.fields.length - a.fields.length ||
        (a.title < b.title ? -1 : 1),
    );
}

/**
 * Sum with the sums of the limits, as if all erred the same way, because all share the response curves: wider than the level
 * asks. Null without money and where the currencies differ.
 */
export function sumOfMoney(parts: readonly MoneyEstimate[]): MoneyEstimate | null {
  const [first] = parts;
  if (!first || parts.some(({ currency }) => currency !== first.currency)) return null;
  const total = (of: (money: MoneyEstimate) => number): number =>
    parts.reduce((sum, part) => sum + of(part), 0);
  return {
    estimate: total(({ estimate }) => estimate),
    low: total(({ low }) => low),
    high: total(({ high }) => high),
    level: first.level,
    currency: first.currency,
  };
}
