/** The findings as a ledger in plain text, for a terminal. */
import type { Estimate, Finding, FindingsDocument, MoneyEstimate } from "../findings/findings-document.ts";
import {
  formatMoney,
  formatPercent,
  formatQuantity,
  groupThousands,
  roundMoney,
} from "../quantities/format.ts";
import { contrastLines } from "./contrast-words.ts";
import { sureText } from "./finding-words.ts";
import { INPUT_DOUBTS_TITLE, inputDoubts } from "./input-doubts.ts";
import { plain, wrapped } from "./wrapped-text.ts";

export interface LedgerTextOptions {
  /** Columns to wrap at, at least 40. */
  width: number;
  /** Marks headings, e.g. bold on a terminal; the text itself never depends on it. */
  emphasise: (text: string) => string;
}

/** An entry stands under its number; its labels make a column of their own. */
const ENTRY_INDENT = 4;
const LABEL_WIDTH = 13;

/** Narrower than this, a finding does not fit on one line of an overview. */
const OVERVIEW_WIDTH = 72;

/** The findings in ranked order, what was found sound, and what could not be judged. */
export function ledgerText(document: FindingsDocument, { width, emphasise }: LedgerTextOptions): string {
  const { field, summary, findings } = document;
  const troubles = findings.filter((finding) => finding.basis !== "cleared");
  const cleared = findings.filter((finding) => finding.basis === "cleared");
  const lines: string[] = [];
  const write = (text: string) => lines.push(...wrapped(text, width, "", 2));
  const heading = (text: string, lead = "") =>
    lines.push(...wrapped(text, width, lead, lead.length).map(emphasise));
  const item = (text: string) =>
    lines.push(...wrapped(text, width, " ".repeat(ENTRY_INDENT), ENTRY_INDENT + 2));
  const row = (label: string, text: string) => {
    const lead = " ".repeat(ENTRY_INDENT) + plain(label).padEnd(LABEL_WIDTH);
    lines.push(...wrapped(text, width, lead, ENTRY_INDENT + LABEL_WIDTH));
  };

  heading([field.name, field.season, field.crop, areaText(field.areaHa)].filter(Boolean).join(" · "));
  if (summary.stand) write(summary.stand.words);
  write(summary.sentence);
  for (const line of contrastLines(summary.contrasts)) write(line);
  if (troubles.length > 1 && width >= OVERVIEW_WIDTH) {
    lines.push("", ...troubles.map((finding, index) => overviewLine(finding, index, width)));
  }
  troubles.forEach((finding, index) => {
    lines.push("");
    heading(finding.words.title, numberText(index));
    for (const [label, text] of entryRows(finding)) row(label, text);
  });
  // With no finding at all the sentence at the top has said it.
  if (findings.some(({ basis }) => basis !== "cleared")) {
    lines.push("");
    write(`No finding on the other ${areaText(summary.nothingFoundHa)}.`);
  }
  if (summary.money && troubles.length > 1) write(`All together: ${moneyText(summary.money)}.`);
  const { emergence } = summary;
  if (emergence) {
    lines.push("");
    heading("Coming up");
    for (const { words } of emergence.days) item(words);
    if (emergence.flagTests) item(emergence.flagTests.words);
    for (const { words } of emergence.rain) item(words);
  }
  if (summary.spacing) {
    lines.push("");
    heading("Plant spacing");
    item(summary.spacing.words);
  }
  if (cleared.length > 0) {
    lines.push("");
    heading("Looked bad in the log, the counts show no harm");
    for (const finding of cleared) item(`${finding.words.title}: ${finding.words.place}`);
  }
  if (summary.notJudged.length > 0) {
    lines.push("");
    heading("Could not be judged");
    for (const { what, why } of summary.notJudged) item(`${what}: ${why}`);
  }
  const doubts = inputDoubts(document.inputs);
  if (doubts.length > 0) {
    lines.push("");
    heading(INPUT_DOUBTS_TITLE);
    for (const doubt of doubts) item(doubt);
  }
  return `${lines.join("\n")}\n`;
}

/** Number, title, area, money, how sure: the answer in ten seconds. A long title is cut; it stands below in full. */
function overviewLine(finding: Finding, index: number, width: number): string {
  const { money } = finding.loss;
  const figures = [
    areaText(finding.where.areaHa).padStart(18),
    (money ? formatMoney(money.estimate, money.currency) : "").padStart(12),
    sureText(finding.probability).padStart(10),
  ].join("");
  const room = width - figures.length - ENTRY_INDENT - 1;
  const title = plain(finding.words.title);
  const cut = title.length > room ? `${title.slice(0, room - 4).trimEnd()} ...` : title;
  return `${numberText(index)}${cut.padEnd(room)} ${figures}`;
}

function numberText(index: number): string {
  return `${String(index + 1).padStart(2)}  `;
}

function entryRows(finding: Finding): [label: string, text: string][] {
  const { words, where, loss, stand, remedy } = finding;
  const rows: [string, string][] = [["Where", `${words.place}; ${areaText(where.areaHa)}`]];
  rows.push(["Loss", loss.money ? moneyText(loss.money) : "not put into money"]);
  if (loss.yieldShare) {
    // What rounds to nothing is said in words: "0.0 % less (0.0 to 0.0)" reads like a mistake.
    const none = loss.yieldShare.high < 0.0005;
    rows.push([
      "Yield there",
      none ? "no loss by the published tables" : percentText(loss.yieldShare, "less"),
    ]);
  }
  for (const note of loss.notes) rows.push(["", note]);
  if (stand.deficitShare) rows.push(["Plants", percentText(stand.deficitShare, "short")]);
  rows.push(["How sure", `${sureText(finding.probability)}, ${basisText(finding)}`]);
  if (words.otherwise) rows.push(["", words.otherwise]);
  words.seen.forEach((seen, index) => {
    rows.push([index === 0 ? "Seen" : "", seen]);
  });
  rows.push(["What to do", remedy.text]);
  if (remedy.worth && remedy.worth.verdict !== "unknown") rows.push(["", remedy.worth.words]);
  if (words.check) rows.push(["Check first", words.check]);
  if (words.caution) rows.push(["Caution", words.caution]);
  return rows;
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

/** "7.0 % less (4.0 to 10.0; 90 % interval)". */
function percentText(share: Estimate, word: string): string {
  const percent = (value: number) => groupThousands((value * 100).toFixed(1));
  const range = `${percent(share.low)} to ${percent(share.high)}; ${levelText(share)}`;
  return `${formatPercent(share.estimate, 1)} ${word} (${range})`;
}

/** "USD 1,300 (180 to 1,400; 90 % interval)". */
function moneyText(money: MoneyEstimate): string {
  const [low, high] = [money.low, money.high].map((value) => groupThousands(roundMoney(value).toFixed(0)));
  return `${formatMoney(money.estimate, money.currency)} (${low} to ${high}; ${levelText(money)})`;
}

function levelText(estimate: Estimate): string {
  return `${formatPercent(estimate.level)} interval`;
}
