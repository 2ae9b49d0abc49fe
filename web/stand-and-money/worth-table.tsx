/** Worth fixing before next spring? Loss a year against what the user says the remedy costs. */
import { type WorthFixing, worthFixing } from "../../src/cost/worth-fixing.ts";
import type { Finding, FindingsDocument } from "../../src/findings/findings-document.ts";
import { numberedFindings } from "../model/ranking.ts";
import { formatMoneyRange, groupThousands, roundMoney } from "../words/format.ts";
import { texts } from "../words/texts/texts.ts";
import { figureText, moneyIn, writeFigure } from "./figures.ts";

export function WorthTable({ document }: { document: FindingsDocument }) {
  const all = numberedFindings(document).filter(({ finding }) => finding.remedy.worth);
  if (all.length === 0) return null;
  const { name } = document.field;
  return (
    <section aria-labelledby="worth-title">
      <h3 id="worth-title">{texts.value.money.worth}</h3>
      <table>
        <caption class="small">{texts.value.money.worthSaid}</caption>
        <thead>
          <tr>
            <th scope="col">{texts.value.money.finding}</th>
            <th scope="col" class="number">
              {texts.value.money.lossAYear}
            </th>
            <th scope="col" class="number">
              {texts.value.money.remedyCosts}
            </th>
            <th scope="col">{texts.value.money.byThese}</th>
          </tr>
        </thead>
        <tbody>
          {all.map(({ number, finding }) => {
            const text = figureText(name, finding.remedy.code, finding.remedy.worth!.cost);
            const worth = worthFixing(finding.loss.money, moneyIn(text));
            return (
              <tr key={finding.id}>
                <th scope="row">
                  {number} {finding.words.title}
                </th>
                <td class="number">{lossSaid(finding)}</td>
                <td class="number">
                  <label class="figure-label">
                    <span class="visually-hidden">
                      What mending {number} {finding.words.title} costs, in{" "}
                    </span>
                    {finding.remedy.worth!.currency}{" "}
                    <input
                      class="figure"
                      inputMode="decimal"
                      size={7}
                      value={text}
                      aria-invalid={text.trim() !== "" && moneyIn(text) === null}
                      onInput={(event) => writeFigure(name, finding.remedy.code, event.currentTarget.value)}
                    />
                  </label>
                </td>
                <td aria-live="polite">{verdictSaid(worth, text, finding)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}

function lossSaid({ loss: { money } }: Finding) {
  if (!money) return texts.value.money.notPriced;
  return (
    <>
      {roundMoney(money.estimate, money.currency)} <span class="small range">{formatMoneyRange(money)}</span>
    </>
  );
}

function verdictSaid(worth: WorthFixing, text: string, { loss }: Finding): string {
  if (!loss.money) return texts.value.money.noPrice;
  if (text.trim() === "") return texts.value.money.writeCost;
  if (moneyIn(text) === null) return texts.value.money.writeFigure;
  const years = worth.years?.estimate ?? null;
  return years === null ? worth.verdict : `${worth.verdict}; made up for in ${yearsSaid(years)}`;
}

function yearsSaid(years: number): string {
  if (years < 1) return "less than a year";
  return years > 50 ? "more than 50 years" : `about ${groupThousands(years.toFixed(1))} years`;
}
