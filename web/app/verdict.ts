/** Which of the three headlines a document carries. */
import type { FindingsDocument } from "../../src/report/findings-document.ts";

export type Verdict = "places" | "even" | "unsettled";

/** The third form is known by the words it always begins with (`src/report/headline.ts`). */
const UNSETTLED = /^Not enough to say\b/;

export function verdictOf({ findings, summary }: Pick<FindingsDocument, "findings" | "summary">): Verdict {
  if (UNSETTLED.test(summary.sentence)) return "unsettled";
  const found =
    findings.some(({ basis }) => basis !== "cleared") ||
    summary.contrasts.some(({ verdict }) => verdict === "short");
  return found ? "places" : "even";
}
