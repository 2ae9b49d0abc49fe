/** Keep or replant, as plain text for a terminal. */
import type { KeepOrReplant, ReplantVerdict } from "../cost/replant.ts";
import { formatPercent, formatQuantity, groupThousands } from "../quantities/format.ts";
import { convert } from "../quantities/units.ts";
import { wrapped } from "../words/wrapped-text.ts";
import type { ReplantPlace, ReplantPlan } from "./replant-plan.ts";

export const VERDICT_WORDS: Readonly<Record<ReplantVerdict, string>> = {
  keep: "keep the stand",
  replant: "replanting pays by these figures",
  "about even": "about even: within the error of the tables, so keep and spare the work",
  either: "may go either way: the counts do not know the stand well enough",
  unknown: "no sum without price, yield and a readable table",
};

export interface ReplantTextOptions {
  width: number;
  emphasise: (text: string) => string;
}

/** The plan in words: cautions first, since they stand before any step. */
export function replantText(plan: ReplantPlan, { width, emphasise }: ReplantTextOptions): string {
  const { field, settings } = plan;
  const lines: string[] = [];
  const write = (text: string, lead = "", hang = lead.length + 2) =>
    lines.push(...wrapped(text, width, lead, hang));
  lines.push(emphasise(`${field.name} · ${field.crop} · keep or replant`));
  write(`Planted ${field.planted}; replanting on ${field.replanted}.`);
  write(
    `Stand after replanting ${formatQuantity(settings.replantStandPerHa, "plants", "farm")}; cost ${perAcre(settings.costPerAcre, settings.currency)}; ${settings.grainPerBushel === null ? "no grain price" : `${settings.currency} ${settings.grainPerBushel.toFixed(2)}/bu`}, ${settings.expectedBushelPerAcre === null ? "no expected yield" : `${settings.expectedBushelPerAcre.toFixed(0)} bu/ac`}; gaps in the stand: ${settings.gaps}.`,
  );
  lines.push("", emphasise("Before anything is destroyed"));
  for (const caution of plan.cautions) write(caution, "  - ", 4);
  for (const place of plan.places) {
    lines.push("", emphasise(headingOf(place)));
    const { estimate, low, high } = place.standPerHa;
    const range =
      high > low
        ? ` (${plantsPerAcre(low)} to ${plantsPerAcre(high)}; 90 % interval, ${place.counts} counts)`
        : "";
    write(`Stand ${formatQuantity(estimate, "plants", "farm")}${range}.`, "  ");
    const [first, ...others] = place.byTable;
    for (const text of first ? resultLines(first, settings.currency) : []) write(text, "  ");
    for (const result of others) write(otherLine(result, settings.currency), "  ");
    for (const note of place.notes) write(note, "  - ", 4);
  }
  lines.push("", emphasise("Taken for granted"));
  for (const note of plan.notes) write(note, "  - ", 4);
  return `${lines.join("\n")}\n`;
}

function headingOf({ id, title, areaHa }: ReplantPlace): string {
  const area = formatQuantity(areaHa, "area", "farm");
  return id === "field" ? `${title} (${area})` : `${id} ${title} (${area})`;
}

/** The first table in full. */
function resultLines(result: KeepOrReplant, currency: string): string[] {
  const { netPerAcre, worksheet, breakEvenStandPerHa } = result;
  const lines = [summaryOf(result)];
  if (!netPerAcre) return lines;
  const range =
    netPerAcre.high - netPerAcre.low >= 1
      ? ` (${signed(netPerAcre.low)} to ${signed(netPerAcre.high)} over the range of stand and late plants)`
      : "";
  lines.push(`Replanting brings ${currency} ${signed(netPerAcre.estimate)}/ac after its cost${range}.`);
  const stand =
    breakEvenStandPerHa === null
      ? "no stand, however thin, is worth it at that cost"
      : `below a stand of ${formatQuantity(breakEvenStandPerHa, "plants", "farm")}`;
  const price = worksheet?.breakEvenPrice ?? null;
  lines.push(
    `Replanting breaks even ${stand}; ${price === null ? "at no price (it brings no more bushels)" : `from ${currency} ${price.toFixed(2)}/bu`}.`,
  );
  return lines;
}

/** Another table on one line. */
function otherLine(result: KeepOrReplant, currency: string): string {
  const { netPerAcre } = result;
  return `${summaryOf(result)}${netPerAcre ? ` ${currency} ${signed(netPerAcre.estimate)}/ac.` : ""}`;
}

function summaryOf({ table, keepShare, replantShare, lateShareLost, verdict }: KeepOrReplant): string {
  if (keepShare === null || replantShare === null)
    return `By ${table}: the source could not be read at this stand and date.`;
  const late = lateShareLost
    ? ` (late plants take ${formatPercent(lateShareLost.estimate)}, studies ${formatPercent(lateShareLost.low)} to ${formatPercent(lateShareLost.high)})`
    : "";
  return `By ${table}: keep ${formatPercent(keepShare)} of the best yield${late}, replant ${formatPercent(replantShare)}: ${VERDICT_WORDS[verdict]}.`;
}

function perAcre(money: number, currency: string): string {
  return `${currency} ${money.toFixed(2)}/ac`;
}

function plantsPerAcre(perHa: number): string {
  return groupThousands((Math.round(convert(perHa, "plants/ha", "plants/ac") / 100) * 100).toFixed(0));
}

/** "+98", "-109": whole money an acre. */
function signed(money: number): string {
  const whole = Math.round(money);
  return whole > 0 ? `+${groupThousands(String(whole))}` : groupThousands(String(whole));
}
