/** The prescription in one sentence, and what all of it is expected to do. */
import type { PrescriptionView } from "../../src/report/prescription-view.ts";
import { formatMoneyRange, roundMoney } from "./format.ts";
import { pointsFigure } from "./rate-words.ts";
import { texts } from "./texts/texts.ts";

/** "2 of 4 soil zones get another load, 1 keeps today's, 1 is held back." */
export function summarySaid({ decisions }: Pick<PrescriptionView, "decisions">): string {
  const of = (outcome: string) => decisions.filter((decision) => decision.outcome === outcome).length;
  const said = texts.value.prescription;
  return said.summary(of("change"), decisions.length, of("keep"), of("held-back"), of("no-evidence"));
}

export function effectSaid({ effect }: Pick<PrescriptionView, "effect">): string {
  const { gainShare, money } = effect;
  const said = texts.value.prescription;
  if (!gainShare) return said.effectUnknown;
  if (gainShare.low === 0 && gainShare.high === 0) return said.effectNone;
  const worth = money ? said.worth(roundMoney(money.estimate, money.currency), formatMoneyRange(money)) : "";
  const [middle, low, high] = [gainShare.estimate, gainShare.low, gainShare.high].map(pointsFigure);
  return said.effect(middle!, low!, high!, worth);
}
