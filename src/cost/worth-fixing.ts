/** Whether mending the cause pays, against the user's own figure for what the mending costs. */
import type { LossMoney } from "./money.ts";

export interface WorthFixing {
  /**
   * "pays within a year": even the low limit of the loss exceeds the cost; "does not pay within a year": not even the
   * high limit reaches it; "may pay within a year": between; "unknown": a figure is missing.
   */
  verdict: "pays within a year" | "may pay within a year" | "does not pay within a year" | "unknown";
  /** Years of the same loss that make up the cost; `high` is null where the loss may be nothing. Null when unknown. */
  years: { estimate: number | null; low: number | null; high: number | null } | null;
  note: string;
}

/**
 * Loss a year against the cost of the remedy. Supposes that next year would lose as much as this one and that the remedy
 * ends all of it; both are generous to the remedy, and the note says so.
 * @param lossPerYear loss of the finding in money; null where it could not be priced
 * @param remedyCost what the user says the remedy costs, same currency, >= 0; null where not given (none is made up)
 */
export function worthFixing(lossPerYear: LossMoney | null, remedyCost: number | null): WorthFixing {
  if (!lossPerYear || remedyCost === null || !(remedyCost >= 0)) {
    const lacking = lossPerYear ? "the cost of the remedy" : "the loss in money";
    return { verdict: "unknown", years: null, note: `${lacking} is not known` };
  }
  const years = (loss: number): number | null => (loss > 0 ? remedyCost / loss : null);
  return {
    verdict:
      lossPerYear.low >= remedyCost
        ? "pays within a year"
        : lossPerYear.high < remedyCost
          ? "does not pay within a year"
          : "may pay within a year",
    years: {
      estimate: years(lossPerYear.estimate),
      low: years(lossPerYear.high),
      high: years(lossPerYear.low),
    },
    note: "supposes the same loss every year and a remedy that ends all of it",
  };
}
