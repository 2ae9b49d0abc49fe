/** The loss of the year: by finding, soil zone, row unit and for the whole field, and seed apart. */
import type {
  Finding,
  FindingsDocument,
  MoneyEstimate,
  MoneyOfPart,
} from "../../src/findings/findings-document.ts";
import type { UnitSystem } from "../../src/quantities/format.ts";
import { numberedFindings } from "../model/ranking.ts";
import {
  formatMoneyRange,
  formatQuantity,
  formatShareEstimate,
  groupThousands,
  roundMoney,
} from "../words/format.ts";
import { texts } from "../words/texts/texts.ts";

interface Props {
  document: FindingsDocument;
  system: UnitSystem;
}

export function MoneyTables({ document, system }: Props) {
  const priced = numberedFindings(document).filter(({ finding }) => finding.loss.yieldShare);
  const { money, moneyBy } = document.summary;
  return (
    <section aria-labelledby="money-title">
      <h3 id="money-title">{texts.value.money.cost}</h3>
      {priced.length === 0 ? (
        <p class="none">{texts.value.money.noLoss}</p>
      ) : (
        <table>
          <caption class="visually-hidden">{texts.value.money.byFinding}</caption>
          <thead>
            <tr>
              <th scope="col">{texts.value.money.finding}</th>
              <th scope="col" class="number">
                {texts.value.finding.yieldLost}
              </th>
              <th scope="col" class="number">
                {texts.value.money.money}
              </th>
              <th scope="col" class="number">
                {texts.value.money.range}
              </th>
            </tr>
          </thead>
          <tbody>
            {priced.map(({ number, finding }) => (
              <tr key={finding.id}>
                <th scope="row">
                  {number} {finding.words.title}
                  {finding.basis === "predicted" && <span class="small">{texts.value.money.logOnly}</span>}
                </th>
                <td class="number">{formatShareEstimate(finding.loss.yieldShare!)}</td>
                <MoneyCells money={finding.loss.money} />
              </tr>
            ))}
          </tbody>
          {money && (
            <tfoot>
              <tr>
                <th scope="row">{texts.value.money.once}</th>
                <td />
                <MoneyCells money={money} />
              </tr>
            </tfoot>
          )}
        </table>
      )}
      {priced.length > 0 && !money && <p class="small">{texts.value.money.noMoney}</p>}
      <SeedLoss findings={document.findings} />
      <Parts
        title={texts.value.money.soilZone}
        by={texts.value.money.bySoil}
        parts={moneyBy.soilZones}
        system={system}
      />
      <Parts
        title={texts.value.money.rowUnit}
        by={texts.value.money.byRow}
        parts={moneyBy.rowUnits}
        system={system}
      />
    </section>
  );
}

function MoneyCells({ money }: { money: MoneyEstimate | null }) {
  return (
    <>
      <td class="number">
        {money ? roundMoney(money.estimate, money.currency) : texts.value.money.notPriced}
      </td>
      <td class="number">{money ? formatMoneyRange(money) : ""}</td>
    </>
  );
}

function SeedLoss({ findings }: { findings: readonly Finding[] }) {
  const wrong = findings.flatMap(({ id, words, loss }) =>
    loss.seed ? [{ id, words, seed: loss.seed }] : [],
  );
  if (wrong.length === 0) return null;
  return (
    <ul class="plain-list">
      {wrong.map(({ id, words, seed }) => (
        <li key={id}>
          {words.title}: {groupThousands(String(Math.round(Math.abs(seed.seeds) / 1000) * 1000))} seeds{" "}
          {seed.seeds > 0 ? "dropped beyond" : "saved below"} the target,{" "}
          {roundMoney(Math.abs(seed.money), seed.currency)}; not in the loss above.
        </li>
      ))}
    </ul>
  );
}

function Parts({
  title,
  by,
  parts,
  system,
}: {
  title: string;
  by: string;
  parts: readonly MoneyOfPart[];
  system: UnitSystem;
}) {
  if (parts.length === 0) return null;
  const most = Math.max(...parts.map(({ money }) => money.estimate));
  return (
    <details open={parts.length <= 6}>
      <summary>{by}</summary>
      <table>
        <thead>
          <tr>
            <th scope="col">{title}</th>
            <th scope="col" class="number">
              {texts.value.money.hurt}
            </th>
            <th scope="col" class="number">
              {texts.value.money.money}
            </th>
            <th scope="col" class="number">
              {texts.value.money.range}
            </th>
            <td />
          </tr>
        </thead>
        <tbody>
          {parts.map(({ of, areaHa, money }) => (
            <tr key={of}>
              <th scope="row">{of}</th>
              <td class="number">{formatQuantity(areaHa, "area", system)}</td>
              <MoneyCells money={money} />
              <td class="bar-cell" aria-hidden="true">
                <span class="bar" style={{ width: `${most > 0 ? (money.estimate / most) * 100 : 0}%` }} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
