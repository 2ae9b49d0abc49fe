/** The findings of a season by cause: what they cost together and in how many fields they were. */
import type { Cause } from "../causes/causes.ts";
import { CAUSE_NAMES } from "../report/cause-names.ts";
import type { MoneyEstimate } from "../report/findings-document.ts";
import type { KeptField } from "./field-result.ts";

export interface LedgerEntry {
  cause: Cause;
  /** A farmer's name of the cause. */
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
  const byCause = new Map<Cause, { entry: LedgerEntry; money: MoneyEstimate[] }>();
  for (const { id, extract } of kept) {
    for (const finding of extract.findings) {
      if (finding.basis === "cleared") continue;
      const { title } = CAUSE_NAMES[finding.cause];
      const found = byCause.get(finding.cause) ?? {
        entry: { cause: finding.cause, title, findings: 0, fields: [], areaHa: 0, money: null },
        money: [],
      };
      byCause.set(finding.cause, found);
      found.entry.findings++;
      found.entry.areaHa += finding.areaHa;
      if (found.entry.fields.at(-1) !== id) found.entry.fields.push(id);
      if (finding.money) found.money.push(finding.money);
    }
  }
  return [...byCause.values()]
    .map(({ entry, money }) => ({ ...entry, money: sumOfMoney(money) }))
    .sort(
      (a, b) =>
        (b.money?.estimate ?? -1) - (a.money?.estimate ?? -1) ||
        b.fields.length - a.fields.length ||
        (a.cause < b.cause ? -1 : 1),
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
