/** The season on a terminal, in short. */
import { formatQuantity } from "../quantities/format.ts";
import { MACHINE_CAUTION } from "../words/finding-words.ts";
import { wrapped } from "../words/wrapped-text.ts";
import type { SeasonDocument } from "./season-document.ts";
import {
  counted,
  driverWords,
  evidenceWords,
  moneyWords,
  neglectWords,
  repairWords,
  seasonHeadline,
  slopeLines,
  wantedLines,
} from "./season-words.ts";

export interface SeasonTextOptions {
  width: number;
  emphasise: (text: string) => string;
}

const INDENT = 4;
/** So many fields that are left out are named; the page names all. */
const MOST_NAMED = 12;

export function seasonText(document: SeasonDocument, { width, emphasise }: SeasonTextOptions): string {
  const units = "farm";
  const lines: string[] = [];
  const heading = (text: string) => lines.push("", ...wrapped(text, width, "", 2).map(emphasise));
  const item = (text: string) => lines.push(...wrapped(text, width, " ".repeat(INDENT), INDENT + 2));
  const { name, season, fields, areaHa, repairs, ledger, leftOut, notes, drivers } = document;
  const title = [name, season, counted(fields.length, "field"), formatQuantity(areaHa, "area", units)];
  lines.push(...wrapped(title.filter(Boolean).join(" · "), width, "", 2).map(emphasise));
  lines.push(...wrapped(seasonHeadline(document, units), width, "", 2));
  if (repairs.length > 0) {
    heading("Before next spring");
    for (const repair of repairs) {
      lines.push(...wrapped(`${repair.planter}, row unit ${repair.rowUnit}`, width, "  ", 4).map(emphasise));
      for (const effect of repair.evidence) item(evidenceWords(effect, units));
      item(repairWords(repair));
      item(neglectWords(repair));
    }
    item(MACHINE_CAUTION);
  }
  const faster = [...drivers.map((effect) => driverWords(effect, units))];
  const follows = slopeLines(document, units);
  if (faster.length + follows.length > 0) {
    heading("Driving");
    for (const words of [...faster, ...follows]) item(words);
  }
  if (ledger.length > 0) {
    heading("The ledger of the season");
    for (const entry of ledger) {
      const money = entry.money ? moneyWords(entry.money) : "not put into money";
      item(
        `${entry.title}: ${money}; in ${counted(entry.fields.length, "field")}, ${formatQuantity(entry.areaHa, "area", units)}`,
      );
    }
  }
  const wanted = wantedLines(document);
  if (wanted.length > 0) {
    heading('Not said, and would tell more; answer once under "defaults" in season.json');
    for (const line of wanted) item(line);
  }
  if (notes.length > 0) {
    heading("To know");
    for (const note of notes) item(note);
  }
  if (leftOut.length > 0) {
    heading(`Left out: ${counted(leftOut.length, "field")}`);
    for (const { label, path, reason } of leftOut.slice(0, MOST_NAMED))
      item(`${label === path ? label : `${label} (${path})`}: ${reason}`);
    if (leftOut.length > MOST_NAMED) item(`and ${leftOut.length - MOST_NAMED} more, on the season's page`);
  }
  return `${lines.join("\n")}\n`;
}
