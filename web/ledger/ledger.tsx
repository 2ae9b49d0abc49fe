/** The ledger: findings as numbered entries of a field book, worst money first, then what was cleared, fine, or not judged. */
import { useEffect, useRef } from "preact/hooks";
import type { FindingsDocument } from "../../src/findings/findings-document.ts";
import { sureText } from "../../src/words/finding-words.ts";
import { INPUT_DOUBTS_TITLE, inputDoubts } from "../../src/words/input-doubts.ts";
import { Origin } from "../controls/origin.tsx";
import type { NumberedFinding } from "../model/ranking.ts";
import * as state from "../model/state.ts";
import { formatMoneyRange, formatPercent, formatQuantity, plural, roundMoney } from "../words/format.ts";
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
  const wrong = state.findings.value.filter(({ finding }) => finding.basis !== "cleared");
  const cleared = state.findings.value.filter(({ finding }) => finding.basis === "cleared");
  return (
    <section class={openAll ? "ledger folded" : "ledger"} aria-labelledby="ledger-title">
      <h2 id="ledger-title">Ledger</h2>
      {!openAll && (
        <>
          <Headline document={document} />
          <AnswersForm document={document} />
          <TotalLoss document={document} />
        </>
      )}
      {openAll && <TestedOnPaper document={document} />}
      {wrong.length > 0 && (
        <p class="ledger-caution">
          Before you touch a machine, seed or a stand: the operator's manual, the product's label, the
          insurer's adjuster and local rules come first.
        </p>
      )}
      <ol class="entries">
        {wrong.map((entry) => (
          <Entry key={entry.finding.id} entry={entry} openAll={openAll} />
        ))}
      </ol>
      {cleared.length > 0 && (
        <>
          <h3 class="rule-title">Looked bad in the log, did no harm</h3>
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
          <NoteField about="field" title="Note on the whole field" />
        </div>
      )}
      {!openAll && (
        <details class="entry plain rests-on">
          <summary>What it rests on</summary>
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
      <span>Lost in all</span>
      <span class="money">
        <Origin of="moneyTotal">{roundMoney(money.estimate, money.currency)}</Origin>
      </span>
      <span class="range">
        {formatMoneyRange(money)}, {formatPercent(money.level)} interval
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
      ? "The load to carry here is being worked out\u2026"
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
        <NoteField about={finding.id} title={`Note on place ${number}`} />
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
  return undetermined ? "can't tell which" : `${sureText(probability)} sure`;
}

/** What a finding rests on, in words. */
export function restsOn(on: { basis: string; counts: number; digs: number }): string {
  if (on.basis === "predicted") return "from the log only";
  const parts: string[] = [];
  if (on.counts > 0) parts.push(plural(on.counts, "count"));
  if (on.digs > 0) parts.push(plural(on.digs, "dig"));
  const seen = parts.length > 0 ? parts.join(", ") : "counts";
  return on.basis === "cleared" ? `cleared by ${seen}` : seen;
}

function WithoutFinding({ document }: { document: FindingsDocument }) {
  const { nothingFoundHa } = document.summary;
  return (
    <div class="entry plain">
      <div class="entry-head">
        <h3 class="entry-title">Without a finding</h3>
        <span>
          <Origin of="nothingFound">{formatQuantity(nothingFoundHa, "area", state.unitSystem.value)}</Origin>
        </span>
      </div>
      <p class="entry-place">
        {document.findings.some((finding) => finding.basis !== "cleared")
          ? "on the rest of the field"
          : "on the whole field: what was tested there stands above, what could not be judged below"}
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
        <h3 class="entry-title">Ground covered</h3>
        <span>
          <Origin of="groundCovered">{area(ground.plantedHa)}</Origin>
        </span>
      </div>
      <p class="entry-place">
        planted twice {area(ground.overlapHa)}, left out {area(ground.skippedHa)} within the{" "}
        {ground.within === "boundary" ? "boundary" : "outline of the planted ground"}
        {ground.inDoubt && ": so much that the width of the bar, the positions or the boundary are in doubt"}
      </p>
    </div>
  );
}

function NotJudged({ document }: { document: FindingsDocument }) {
  const { notJudged } = document.summary;
  if (notJudged.length === 0) return null;
  return (
    <div class="entry plain">
      <h3 class="entry-title">Could not be judged</h3>
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
