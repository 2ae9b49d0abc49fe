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

interface Props {
  document: FindingsDocument;
  system: UnitSystem;
}

export function MoneyTables({ document, system }: Props) {
  const priced = numberedFindings(document).filter(({ finding }) => finding.loss.yieldShare);
  const { money, moneyBy } = document.summary;
  return (
    <section aria-labelledby="money-title">
      <h3 id="money-title">What it cost this year</h3>
      {priced.length === 0 ? (
        <p class="none">No finding has a loss that could be worked out.</p>
      ) : (
        <table>
          <caption class="visually-hidden">Loss by finding</caption>
          <thead>
            <tr>
              <th scope="col">Finding</th>
              <th scope="col" class="number">
                Yield lost there
              </th>
              <th scope="col" class="number">
                Money
              </th>
              <th scope="col" class="number">
                Range
              </th>
            </tr>
          </thead>
          <tbody>
            {priced.map(({ number, finding }) => (
              <tr key={finding.id}>
                <th scope="row">
                  {number} {finding.words.title}
                  {finding.basis === "predicted" && <span class="small"> from the log only</span>}
                </th>
                <td class="number">{formatShareEstimate(finding.loss.yieldShare!)}</td>
                <MoneyCells money={finding.loss.money} />
              </tr>
            ))}
          </tbody>
          {money && (
            <tfoot>
              <tr>
                <th scope="row">Whole field, ground under two findings once</th>
                <td />
                <MoneyCells money={money} />
              </tr>
            </tfoot>
          )}
        </table>
      )}
      {priced.length > 0 && !money && (
        <p class="small">
          No money: write a grain price and an expected yield into "prices" of the manifest.
        </p>
      )}
      <SeedLoss findings={document.findings} />
      <Parts title="Soil zone" parts={moneyBy.soilZones} system={system} />
      <Parts title="Row unit" parts={moneyBy.rowUnits} system={system} />
    </section>
  );
}

function MoneyCells({ money }: { money: MoneyEstimate | null }) {
  return (
    <>
      <td class="number">{money ? roundMoney(money.estimate, money.currency) : "not priced"}</td>
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
  parts,
  system,
}: {
  title: string;
  parts: readonly MoneyOfPart[];
  system: UnitSystem;
}) {
  if (parts.length === 0) return null;
  const most = Math.max(...parts.map(({ money }) => money.estimate));
  return (
    <details open={parts.length <= 6}>
      <summary>Money by {title.toLowerCase()}</summary>
      <table>
        <thead>
          <tr>
            <th scope="col">{title}</th>
            <th scope="col" class="number">
              Ground hurt
            </th>
            <th scope="col" class="number">
              Money
            </th>
            <th scope="col" class="number">
              Range
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
