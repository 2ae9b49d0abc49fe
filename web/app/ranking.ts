/** The numbers of the ledger, shared by the ledger, the map and the tables. */
import type { Cause } from "../../src/causes/causes.ts";
import type { Finding, FindingsDocument } from "../../src/report/findings-document.ts";
import type { ValueName } from "../engine/ground.ts";

export interface NumberedFinding {
  /** As written in the ledger and on the map, from 1. */
  number: number;
  finding: Finding;
}

/** The findings in the document's order, which is the ledger's: its first, F1, is number 1. */
export function numberedFindings(document: FindingsDocument): NumberedFinding[] {
  return document.findings.map((finding, index) => ({ number: index + 1, finding }));
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
