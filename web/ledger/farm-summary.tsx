/** The farmer's sheet: what was found, what it cost, what to do and what to check first, in plain words. */
import type { NumberedFinding } from "../model/ranking.ts";
import * as state from "../model/state.ts";
import { formatMoneyRange, formatQuantity, plural, roundMoney } from "../words/format.ts";
import { Headline } from "./headline.tsx";
import { firstSentence, restsOn, sureSaid } from "./ledger.tsx";

/** More places do not fit on the sheet; the others stand in the ledger behind it. */
const MOST_PLACES = 6;

export function FarmSummary() {
  const document = state.findingsDocument.value;
  if (!document) return null;
  const system = state.unitSystem.value;
  const wrong = state.findings.value.filter(({ finding }) => finding.basis !== "cleared");
  const shown = wrong.slice(0, MOST_PLACES);
  const { money, nothingFoundHa, notJudged } = document.summary;
  const logOnly = wrong.filter(({ finding }) => finding.basis === "predicted").length;
  return (
    <section class="farm-summary" aria-labelledby="summary-title">
      <h2 id="summary-title">In short</h2>
      <Headline document={document} onPaper={false} />
      {money && (
        <p>
          Lost in all: about {roundMoney(money.estimate, money.currency)}; it may be {formatMoneyRange(money)}
          .
        </p>
      )}
      {shown.length > 0 && (
        <>
          {/* On the screen the ledger tells each place once; the farmer's sheet on paper stands alone. */}
          <div class="sheet-only">
            <h3>Before next spring, worst first</h3>
            <ol class="summary-places">
              {shown.map((entry) => (
                <Place key={entry.finding.id} entry={entry} />
              ))}
            </ol>
            {wrong.length > shown.length && (
              <p>
                And {plural(wrong.length - shown.length, "more place")}: see the ledger on the next pages.
              </p>
            )}
          </div>
          <p class="screen-only">
            <a href="#ledger-title">{plural(wrong.length, "place")} below the map</a>, each with what to do,
            worst first.
          </p>
        </>
      )}
      <p class="small">
        Before you touch a machine, treated seed or a stand: the operator's manual, the product's label, the
        insurer's adjuster and local rules come first. Money is an estimate with its range, not a bill.
      </p>
      <h3>Without a finding</h3>
      <p>
        No finding on {formatQuantity(nothingFoundHa, "area", system)} of{" "}
        {formatQuantity(document.field.areaHa, "area", system)}.
      </p>
      {(logOnly > 0 || notJudged.length > 0) && (
        <>
          <h3>What is not known yet</h3>
          <p>
            {logOnly > 0 &&
              `${plural(logOnly, "place")} ${logOnly === 1 ? "rests" : "rest"} on the log alone: counting plants there would settle ${logOnly === 1 ? "it" : "them"}. `}
            {notJudged.length > 0 && `Could not be judged: ${notJudged.map(({ what }) => what).join(", ")}.`}
          </p>
        </>
      )}
    </section>
  );
}

function Place({ entry: { finding, number } }: { entry: NumberedFinding }) {
  const money = finding.loss.money;
  const area = formatQuantity(finding.where.areaHa, "area", state.unitSystem.value);
  const { basis, stand } = finding;
  const rests = restsOn({ basis, counts: stand.counts, digs: stand.digs });
  return (
    <li value={number}>
      <strong>{finding.words.title}</strong>, {area}, {finding.words.place}
      {money && `, about ${roundMoney(money.estimate, money.currency)}`}.
      <br />
      <span class="summary-do">{firstSentence(finding.remedy.text)}</span>
      <br />
      {finding.words.check && (
        <>
          <span>Check first: {firstSentence(finding.words.check)}</span>
          <br />
        </>
      )}
      <span class="small">
        {sureSaid(finding.probability, finding.cause === "undetermined")}; {rests}
      </span>
    </li>
  );
}
