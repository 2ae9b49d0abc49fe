/** The ledger: findings as numbered entries of a field book, worst money first, then what was cleared, fine, or not judged. */
import { useEffect, useRef } from "preact/hooks";
import type { FindingsDocument } from "../../src/findings/findings-document.ts";
import { sureText } from "../../src/words/finding-words.ts";
import { INPUT_DOUBTS_TITLE, inputDoubts } from "../../src/words/input-doubts.ts";
import { Origin } from "../controls/origin.tsx";
import type { NumberedFinding } from "../model/ranking.ts";
import * as state from "../model/state.ts";
import {
  formatMoneyRange,
  formatPercent,
  formatQuantity,
  groupThousands,
  roundMoney,
} from "../words/format.ts";
import { texts } from "../words/texts/texts.ts";
import { AnswersForm } from "./answers-form.tsx";
import { FindingDetail } from "./finding-detail.tsx";
import { Headline, TestedOnPaper } from "./headline.tsx";
import { Inputs } from "./inputs.tsx";
import { NoteField } from "./notes.tsx";

/**
 * @param openAll in the report: what is said first stands before it, and every entry carries what stands behind it, on
 * paper for all to see and on the screen for the chosen one.
 */
export function Ledger({ openAll = false }: { openAll?: boolean }) {
  const document = state.findingsDocument.value;
  if (!document) return null;
  const said = texts.value.ledger;
  const wrong = state.findings.value.filter(({ finding }) => finding.basis !== "cleared");
  const cleared = state.findings.value.filter(({ finding }) => finding.basis === "cleared");
  return (
    <section class={openAll ? "ledger folded" : "ledger"} aria-labelledby="ledger-title">
      <h2 id="ledger-title">{said.title}</h2>
      {!openAll && (
        <>
          <Headline document={document} />
          <AnswersForm document={document} />
          <TotalLoss document={document} />
        </>
      )}
      {openAll && <TestedOnPaper document={document} />}
      {wrong.length > 0 && <p class="ledger-caution">{said.caution}</p>}
      <ol class="entries">
        {wrong.map((entry) => (
          <Entry key={entry.finding.id} entry={entry} openAll={openAll} />
        ))}
      </ol>
      {cleared.length > 0 && (
        <>
          <h3 class="rule-title">{said.cleared}</h3>
          <ol class="entries" start={wrong.length + 1}>
            {cleared.map((entry) => (
              <Entry key={entry.finding.id} entry={entry} openAll={openAll} />
            ))}
          </ol>
        </>
      )}
      <WithoutFinding document={document} />
      <GroundCovered document={document} />
      <NotJudged document={document} />
      <InputDoubts document={document} />
      {!openAll && (
        <div class="entry plain">
          <NoteField about="field" title={said.fieldNote} />
        </div>
      )}
      {!openAll && (
        <details class="entry plain rests-on">
          <summary>{said.restsOn}</summary>
          <Inputs />
        </details>
      )}
    </section>
  );
}

function TotalLoss({ document }: { document: FindingsDocument }) {
  const money = document.summary.money;
  if (!money) return null;
  return (
    <p class="ledger-total">
      <span>{texts.value.ledger.lost}</span>
      <span class="money">
        <Origin of="moneyTotal">{roundMoney(money.estimate, money.currency)}</Origin>
      </span>
      <span class="range">
        {texts.value.ledger.interval(formatMoneyRange(money), formatPercent(money.level))}
      </span>
    </p>
  );
}

function Entry({ entry: { number, finding }, openAll }: { entry: NumberedFinding; openAll: boolean }) {
  const chosen = state.selectedId.value === finding.id;
  const pointed = state.hoveredId.value === finding.id;
  const opened = chosen || openAll;
  const place = useRef<HTMLLIElement>(null);
  // Chosen on the map, the entry may lie out of sight.
  useEffect(() => {
    if (chosen) place.current?.scrollIntoView({ block: "nearest" });
  }, [chosen]);
  const money = finding.loss.money;
  const system = state.unitSystem.value;
  const remedy =
    state.loadsToCome.value && finding.remedy.parameter === "downForceMargin"
      ? texts.value.ledger.loadToCome
      : finding.remedy.text;
  return (
    <li
      class={`entry${chosen ? " chosen" : ""}${pointed ? " pointed" : ""}`}
      id={`entry-${finding.id}`}
      ref={place}
    >
      <button
        type="button"
        class="entry-button"
        aria-expanded={chosen}
        onClick={() => state.selectFinding(chosen ? null : finding.id)}
        onMouseEnter={() => {
          state.hoveredId.value = finding.id;
        }}
        onMouseLeave={() => {
          state.hoveredId.value = null;
        }}
        onFocus={() => {
          state.hoveredId.value = finding.id;
        }}
        onBlur={() => {
          state.hoveredId.value = null;
        }}
      >
        <span class="entry-number">{number}</span>
        <span class="entry-head">
          <span class="entry-title">{finding.words.title}</span>
          {money && finding.basis !== "cleared" && (
            <span class="money">{roundMoney(money.estimate, money.currency)}</span>
          )}
        </span>
        <span class="entry-place">
          {formatQuantity(finding.where.areaHa, "area", system)} · {finding.words.place}
        </span>
        <span class="entry-sure">
          <span>
            {sureSaid(finding.probability, finding.cause === "undetermined")} · {restsOn(entryOf(finding))}
          </span>
          {money && finding.basis !== "cleared" && <span class="range">{formatMoneyRange(money)}</span>}
        </span>
      </button>
      {opened && <p class="entry-do entry-whole">{remedy}</p>}
      {(openAll || !opened) && <p class="entry-do entry-short">{firstSentence(remedy)}</p>}
      {opened && finding.words.caution && <p class="entry-caution">{finding.words.caution}</p>}
      {opened && <FindingDetail finding={finding} />}
      {(opened || state.notes.value[finding.id]) && (
        <NoteField about={finding.id} title={texts.value.ledger.placeNote(number)} />
      )}
    </li>
  );
}

function entryOf(finding: NumberedFinding["finding"]) {
  return { basis: finding.basis, counts: finding.stand.counts, digs: finding.stand.digs };
}

/** The first sentence, for a closed entry; a figure's decimal point does not end one. */
export function firstSentence(text: string): string {
  return /^.*?\.(?=\s|$)/s.exec(text)?.[0] ?? text;
}

/** How sure a cause is, in words. */
export function sureSaid(probability: number, undetermined: boolean): string {
  const said = texts.value.ledger;
  return undetermined ? said.cantTell : said.sure(sureText(probability, state.writing.value));
}

/** What a finding rests on, in words. */
export function restsOn(on: { basis: string; counts: number; digs: number }): string {
  const said = texts.value.ledger;
  if (on.basis === "predicted") return said.logOnly;
  const parts: string[] = [];
  if (on.counts > 0) parts.push(said.countsOf(on.counts, groupThousands(String(on.counts))));
  if (on.digs > 0) parts.push(said.digsOf(on.digs, groupThousands(String(on.digs))));
  const seen = parts.length > 0 ? parts.join(", ") : said.counts;
  return on.basis === "cleared" ? said.clearedBy(seen) : seen;
}

function WithoutFinding({ document }: { document: FindingsDocument }) {
  const { nothingFoundHa } = document.summary;
  return (
    <div class="entry plain">
      <div class="entry-head">
        <h3 class="entry-title">{texts.value.ledger.without}</h3>
        <span>
          <Origin of="nothingFound">{formatQuantity(nothingFoundHa, "area", state.unitSystem.value)}</Origin>
        </span>
      </div>
      <p class="entry-place">
        {document.findings.some((finding) => finding.basis !== "cleared")
          ? texts.value.ledger.onRest
          : texts.value.ledger.onWhole}
      </p>
    </div>
  );
}

/** Ground planted twice and left out: shown where it was worked out, whatever it cost. */
function GroundCovered({ document }: { document: FindingsDocument }) {
  const { ground } = document.summary;
  if (!ground) return null;
  const system = state.unitSystem.value;
  const area = (hectares: number) => formatQuantity(hectares, "area", system);
  return (
    <div class="entry plain">
      <div class="entry-head">
        <h3 class="entry-title">{texts.value.ledger.covered}</h3>
        <span>
          <Origin of="groundCovered">{area(ground.plantedHa)}</Origin>
        </span>
      </div>
      <p class="entry-place">
        {texts.value.ledger.coveredSaid(
          area(ground.overlapHa),
          area(ground.skippedHa),
          ground.within === "boundary" ? "boundary" : "planted",
          ground.inDoubt,
        )}
      </p>
    </div>
  );
}

function NotJudged({ document }: { document: FindingsDocument }) {
  const { notJudged } = document.summary;
  if (notJudged.length === 0) return null;
  return (
    <div class="entry plain">
      <h3 class="entry-title">{texts.value.ledger.notJudged}</h3>
      <ul class="not-judged">
        {notJudged.map(({ what, why }) => (
          <li key={what}>
            {what}: {why}
          </li>
        ))}
      </ul>
    </div>
  );
}

/** What was assumed about the files stands here, not only beside each file. */
function InputDoubts({ document }: { document: FindingsDocument }) {
  const doubts = inputDoubts(document.inputs);
  if (doubts.length === 0) return null;
  return (
    <div class="entry plain">
      <h3 class="entry-title">{INPUT_DOUBTS_TITLE}</h3>
      <ul class="not-judged">
        {doubts.map((doubt) => (
          <li key={doubt}>{doubt}</li>
        ))}
      </ul>
    </div>
  );
}
