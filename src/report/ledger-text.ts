/** The findings as a ledger in plain text, for a terminal. */
import type { Estimate, Finding, FindingsDocument, MoneyEstimate } from "./findings-document.ts";
import { formatMoney, formatPercent, formatQuantity } from "./format.ts";

export interface LedgerTextOptions {
  /** Columns to wrap at, at least 40. */
  width: number;
  /** Marks headings, e.g. bold on a terminal; the text itself never depends on it. */
  emphasise: (text: string) => string;
}

const INDENT = "    ";

/** The findings in ranked order, what was found sound, and what could not be judged. */
export function ledgerText(document: FindingsDocument, options: LedgerTextOptions): string {
  const { field, summary, findings } = document;
  const lines: string[] = [];
  const write = (text: string, indent = "") => lines.push(...wrapped(text, options.width, indent));
  const heading = (text: string) => {
    for (const line of wrapped(text, options.width, "")) lines.push(options.emphasise(line));
  };

  heading([field.name, field.season, field.crop, areaText(field.areaHa)].filter(Boolean).join(" · "));
  write(summary.sentence);
  const troubles = findings.filter((finding) => finding.basis !== "cleared");
  const cleared = findings.filter((finding) => finding.basis === "cleared");
  troubles.forEach((finding, index) => {
    lines.push("");
    heading(`${String(index + 1).padStart(2)}  ${finding.words.title}`);
    writeFinding(finding, (text) => write(text, INDENT));
  });

  lines.push("");
  write(`Nothing wrong found on ${areaText(summary.nothingFoundHa)}.`);
  if (summary.money && troubles.length > 1) write(`All together: ${moneyText(summary.money)}.`);
  if (cleared.length > 0) {
    lines.push("");
    heading("Looked bad in the log, the counts show no harm");
    for (const finding of cleared) write(`${finding.words.title}: ${finding.words.place}`, INDENT);
  }
  if (summary.notJudged.length > 0) {
    lines.push("");
    heading("Could not be judged");
    for (const { what, why } of summary.notJudged) write(`${what}: ${why}`, INDENT);
  }
  return `${lines.join("\n")}\n`;
}

function writeFinding(finding: Finding, write: (text: string) => void): void {
  const { words, where, loss, stand, remedy } = finding;
  write(words.place);
  write(areaText(where.areaHa));
  if (loss.money)
    write(
      `Loss: ${moneyText(loss.money)}${loss.yieldShare ? `; yield ${percentText(loss.yieldShare)} there` : ""}`,
    );
  else if (loss.yieldShare) write(`Loss: yield ${percentText(loss.yieldShare)} there`);
  else write("Loss: not estimated");
  if (stand.deficitShare) write(`Plants short: ${percentText(stand.deficitShare)}`);
  write(`How sure: ${formatPercent(finding.probability)}, ${basisText(finding)}`);
  for (const seen of words.seen) write(`Seen: ${seen}`);
  if (words.otherwise) write(words.otherwise);
  write(`What to do: ${remedy.text}`);
  if (words.check) write(`Check: ${words.check}`);
  if (words.caution) write(`Caution: ${words.caution}`);
}

function basisText(finding: Finding): string {
  if (finding.basis === "predicted") return "from the log only";
  const parts: string[] = [];
  if (finding.stand.counts > 0) parts.push(counted(finding.stand.counts, "count"));
  if (finding.stand.digs > 0) parts.push(counted(finding.stand.digs, "dig"));
  return parts.length > 0 ? `rests on ${parts.join(" and ")}` : "rests on the counts";
}

function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? "" : "s"}`;
}

function areaText(areaHa: number): string {
  return `${formatQuantity(areaHa, "area", "metric")} (${formatQuantity(areaHa, "area", "farm")})`;
}

function percentText(share: Estimate): string {
  const range = `${formatPercent(share.low, 1)} to ${formatPercent(share.high, 1)}`;
  return `${formatPercent(share.estimate, 1)} (${range}, ${levelText(share)})`;
}

/** Money is shown to about two significant figures: an estimate carries no more. */
function moneyText(money: MoneyEstimate): string {
  const amount = (value: number) => {
    const step = Math.abs(value) >= 1000 ? 100 : Math.abs(value) >= 100 ? 10 : 1;
    return formatMoney(Math.round(value / step) * step, money.currency);
  };
  return `${amount(money.estimate)} (${amount(money.low)} to ${amount(money.high)}, ${levelText(money)})`;
}

function levelText(estimate: Estimate): string {
  return `${formatPercent(estimate.level)} interval`;
}

/** Breaks text at spaces; a continued line is indented two columns more. A word longer than a line stands alone. */
function wrapped(text: string, width: number, indent: string): string[] {
  const lines: string[] = [];
  let line = indent;
  // Control characters from a file must not reach a terminal.
  for (const word of plain(text).split(/\s+/).filter(Boolean)) {
    const joined = line.trim() === "" ? line + word : `${line} ${word}`;
    if (joined.length <= width || line.trim() === "") {
      line = joined;
    } else {
      lines.push(line);
      line = `${indent}  ${word}`;
    }
  }
  lines.push(line);
  return lines;
}

/** Text without control characters (C0, C1 and the bidirectional ones), each replaced by a space. */
export function plain(text: string): string {
  return text.replace(/[\p{Cc}\p{Cf}]/gu, " ");
}
