/** The prescription in one sentence, and what all of it is expected to do. */
import type { PrescriptionView } from "../../src/report/prescription-view.ts";
import { formatMoneyRange, plural, roundMoney } from "./format.ts";
import { pointsFigure } from "./rate-words.ts";

/** "2 of 4 soil zones get another load, 1 keeps today's, 1 is held back." */
export function summarySaid({ decisions }: Pick<PrescriptionView, "decisions">): string {
  const of = (outcome: string) => decisions.filter((decision) => decision.outcome === outcome).length;
  const parts = [
    `${of("change")} of ${plural(decisions.length, "soil zone")} get${of("change") === 1 ? "s" : ""} another load`,
  ];
  if (of("keep") > 0) parts.push(`${of("keep")} keep${of("keep") === 1 ? "s" : ""} today's`);
  if (of("held-back") > 0) parts.push(`${of("held-back")} held back until something else is settled`);
  if (of("no-evidence") > 0) parts.push(`${of("no-evidence")} without counts to go by`);
  return `${parts.join(", ")}.`;
}

export function effectSaid({ effect }: Pick<PrescriptionView, "effect">): string {
  const { gainShare, money } = effect;
  if (!gainShare)
    return "What these loads do on the whole field cannot be told: no load or no count to compare with.";
  if (gainShare.low === 0 && gainShare.high === 0) return "Whole field: today's loads, nothing changed.";
  const points = `Whole field against today: ${pointsFigure(gainShare.estimate)} plants in 100 (${pointsFigure(gainShare.low)} to ${pointsFigure(gainShare.high)})`;
  const worth = money
    ? `, ${roundMoney(money.estimate, money.currency)} a season (${formatMoneyRange(money)})`
    : "";
  return `${points}${worth}.`;
}
