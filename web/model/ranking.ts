/** The numbers of the ledger, shared by the ledger, the map and the tables. */
import type { Finding, FindingsDocument } from "../../src/findings/findings-document.ts";

export interface NumberedFinding {
  /** As written in the ledger and on the map, from 1. */
  number: number;
  finding: Finding;
}

/** The findings in the document's order, which is the ledger's: its first, F1, is number 1. */
export function numberedFindings(document: FindingsDocument): NumberedFinding[] {
  return document.findings.map((finding, index) => ({ number: index + 1, finding }));
}
