/** The farmer's sheet: what was found, what it cost, what to do and what to check first, in plain words. */
import type { NumberedFinding } from "../model/ranking.ts";
import * as state from "../model/state.ts";
import { formatMoneyRange, formatQuantity, groupThousands, roundMoney } from "../words/format.ts";
import { texts } from "../words/texts/texts.ts";
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
      <h2 id="summary-title">{texts.value.short.title}</h2>
      <Headline document={document} onPaper={false} />
      {money && (
        <p>{texts.value.short.lost(roundMoney(money.estimate, money.currency), formatMoneyRange(money))}</p>
      )}
      {shown.length > 0 && (
        <>
          {/* On the screen the ledger tells each place once; the farmer's sheet on paper stands alone. */}
          <div class="sheet-only">
            <h3>{texts.value.short.before}</h3>
            <ol class="summary-places">
              {shown.map((entry) => (
                <Place key={entry.finding.id} entry={entry} />
              ))}
            </ol>
            {wrong.length > shown.length && (
              <p>
                {texts.value.short.more(
                  wrong.length - shown.length,
                  groupThousands(String(wrong.length - shown.length)),
                )}
              </p>
            )}
          </div>
          <p class="screen-only">
            <a href="#ledger-title">
              {texts.value.short.places(wrong.length, groupThousands(String(wrong.length)))}
            </a>
            {texts.value.short.each}
          </p>
        </>
      )}
      <p class="small">{texts.value.short.caution}</p>
      <h3>{texts.value.ledger.without}</h3>
      <p>
        {texts.value.short.noFinding(
          formatQuantity(nothingFoundHa, "area", system),
          formatQuantity(document.field.areaHa, "area", system),
        )}
      </p>
      {(logOnly > 0 || notJudged.length > 0) && (
        <>
          <h3>{texts.value.short.unknown}</h3>
          <p>
            {logOnly > 0 && texts.value.short.logAlone(logOnly, groupThousands(String(logOnly)))}
            {notJudged.length > 0 &&
              texts.value.short.notJudged(notJudged.map(({ what }) => what).join(", "))}
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
      {money && texts.value.short.about(roundMoney(money.estimate, money.currency))}.
      <br />
      <span class="summary-do">{firstSentence(finding.remedy.text)}</span>
      <br />
      {finding.words.check && (
        <>
          <span>{texts.value.short.check(firstSentence(finding.words.check))}</span>
          <br />
        </>
      )}
      <span class="small">
        {sureSaid(finding.probability, finding.cause === "undetermined")}; {rests}
      </span>
    </li>
  );
}
