/** The order and the numbers of the ledger, shared by the ledger, the map and the tables. */
import type { Cause } from "../../src/causes/causes.ts";
import type { Finding, FindingsDocument } from "../../src/report/findings-document.ts";
import type { ValueName } from "../engine/ground.ts";

export interface NumberedFinding {
  /** As written in the ledger and on the map, from 1. */
  number: number;
  finding: Finding;
}

/** Worst money first; what cost nothing known after it, what the counts cleared last. */
export function numberedFindings(document: FindingsDocument): NumberedFinding[] {
  const rank = (finding: Finding) => (finding.basis === "cleared" ? 2 : finding.loss.money ? 0 : 1);
  return [...document.findings]
    .sort(
      (a, b) =>
        rank(a) - rank(b) ||
        (b.loss.money?.estimate ?? 0) - (a.loss.money?.estimate ?? 0) ||
        b.where.areaHa - a.where.areaHa ||
        (a.id < b.id ? -1 : 1),
    )
    .map((finding, index) => ({ number: index + 1, finding }));
}

/** The variables that show a cause best, best first; "keep" where none of the log's would. */
export function variableOfCause(cause: Cause): ValueName[] | "keep" {
  switch (cause) {
    case "too-shallow":
    case "too-deep":
    case "worn-row-unit":
      return ["seedingDepth"];
    case "uneven-depth":
      return ["depthSd", "seedingDepth"];
    case "lost-ground-contact":
    case "excess-down-force":
    case "wheel-traffic":
      return ["downForceMargin", "groundContact", "downForce"];
    case "rate-off-target":
    case "sensor-fault":
      return ["population", "misses"];
    case "misses":
    case "irregular-spacing":
      return ["misses", "singulation"];
    case "multiples":
      return ["multiples", "singulation"];
    case "excess-speed":
      return ["speed"];
    default:
      return "keep";
  }
}
