/** What stands behind an entry: inside, elsewhere and target; what else it could be; how it was worked out. */
import type { Finding, Measured, MeasuredKey } from "../../src/findings/findings-document.ts";
import { type QuantityKind, unitLabel } from "../../src/quantities/format.ts";
import { causeName } from "../../src/words/cause-names.ts";
import { measuredWords, runsOf, sureText } from "../../src/words/finding-words.ts";
import { Origin } from "../controls/origin.tsx";
import { FurrowDrawing } from "../furrow/furrow-drawing.tsx";
import { furrowFrame } from "../furrow/furrow-frame.ts";
import { aroundMarked, stripOf } from "../furrow/strip-data.ts";
import { longestPassInside } from "../model/pass-choice.ts";
import * as state from "../model/state.ts";
import {
  formatBare,
  formatMoneyRange,
  formatPercent,
  formatQuantity,
  formatShareEstimate,
  roundMoney,
} from "../words/format.ts";
import { MEASURED_ORDER } from "../words/measured-order.ts";
import type { OriginName } from "../words/origins.ts";
import { texts } from "../words/texts/texts.ts";
import { measuredTitle } from "../words/variables.ts";

const SMALL_WIDTH = 350;
const SMALL_HEIGHT = 108;

export function FindingDetail({ finding }: { finding: Finding }) {
  return (
    <div class="detail">
      <Seen finding={finding} />
      <SmallStrip finding={finding} />
      <MeasuredTable finding={finding} />
      <Change finding={finding} />
      <Alternatives finding={finding} />
      {finding.words.check && (
        <p>
          <strong>{texts.value.finding.toMakeSure}</strong>
          {finding.words.check}
        </p>
      )}
      <WorkedOut finding={finding} />
    </div>
  );
}

/** What was seen beyond the figures of the table: what digs showed, that the log is clean, ground planted twice. */
function Seen({ finding }: { finding: Finding }) {
  const figures = (Object.keys(finding.measured) as MeasuredKey[]).map(
    (key) => `${measuredWords(key, state.writing.value.language).name}: `,
  );
  const lines = finding.words.seen.filter((line) => !figures.some((figure) => line.startsWith(figure)));
  if (lines.length === 0) return null;
  return (
    <div class="seen">
      <p>
        <strong>{texts.value.finding.seen}</strong>
      </p>
      <ul>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </div>
  );
}

function SmallStrip({ finding }: { finding: Finding }) {
  const ground = state.ground.value;
  const layers = state.layers.value;
  if (!ground || !layers) return null;
  const pass = longestPassInside(ground, finding, state.endRows.value);
  const whole = pass === null ? null : stripOf(ground, pass, finding);
  const showsUnits = whole !== null && whole.rowUnits.length > 0 && ground.pieces === "records";
  if (!whole || (whole.marked.length === 0 && !showsUnits)) return null;
  const strip = finding.kind === "area" ? aroundMarked(whole) : whole;
  const frame = furrowFrame(strip, ground, SMALL_WIDTH, SMALL_HEIGHT, true);
  return (
    <figure class="small-strip">
      <svg
        viewBox={`0 0 ${SMALL_WIDTH} ${SMALL_HEIGHT}`}
        role="img"
        aria-label={texts.value.finding.furrowOf(String(pass))}
      >
        <FurrowDrawing
          strip={strip}
          ground={ground}
          layers={layers}
          frame={frame}
          system={state.unitSystem.value}
          small={true}
          cursor={null}
        />
      </svg>
      <figcaption class="small">
        {showsUnits
          ? texts.value.finding.stripUnits(String(pass), runsOf(whole.rowUnits))
          : texts.value.finding.stripShaded(String(pass))}
      </figcaption>
    </figure>
  );
}

function MeasuredTable({ finding }: { finding: Finding }) {
  const system = state.unitSystem.value;
  const all = MEASURED_ORDER.map((key) => [key, finding.measured[key]] as const).filter(
    (row): row is [(typeof row)[0], Measured] => row[1] !== undefined,
  );
  const rows = all.filter(([key, measured]) => key === "standPerHa" || standsOut(key, measured));
  if (rows.length === 0) return null;
  return (
    <table class="measured">
      {rows.length < all.length && <caption class="small">{texts.value.finding.othersAlike}</caption>}
      <thead>
        <tr>
          <th scope="col">
            <span class="visually-hidden">{texts.value.finding.measured}</span>
          </th>
          <th scope="col">
            <Origin of="here">{texts.value.finding.here}</Origin>
          </th>
          <th scope="col">
            <Origin of="elsewhere">{texts.value.finding.elsewhere}</Origin>
          </th>
          <th scope="col">
            <Origin of="target">{texts.value.finding.target}</Origin>
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map(([key, measured]) => {
          const { title, kind } = measuredTitle(key);
          return (
            <tr key={key}>
              <th scope="row">
                {title}, <span class="small">{unitLabel(kind, system)}</span>
              </th>
              <td>{formatBare(measured.inside, kind, system)}</td>
              <td>{formatBare(measured.elsewhere, kind, system)}</td>
              <td>{formatBare(measured.target, kind, system)}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/**
 * A figure is shown where it lies this share of itself from what it is elsewhere, a share also half a point.
 * Our judgement, for the table only.
 */
const SHOWN_FROM = { relative: 0.08, points: 0.005 };

function standsOut(key: MeasuredKey, { inside, elsewhere }: Measured): boolean {
  if (inside === null) return false;
  if (elsewhere === null) return true;
  const apart = Math.abs(inside - elsewhere);
  if (measuredTitle(key).kind === "share" && apart < SHOWN_FROM.points) return false;
  return apart > SHOWN_FROM.relative * Math.max(Math.abs(inside), Math.abs(elsewhere));
}

/** Kind of quantity by the unit a remedy is given in. */
const KIND_OF_UNIT: Readonly<Record<string, QuantityKind>> = {
  N: "force",
  mm: "depth",
  "m/s": "speed",
  "seeds/ha": "seeds",
  share: "share",
};

/** The figures of the remedy in the units of the page, where its sentence has them in others, as in the report. */
function Change({ finding }: { finding: Finding }) {
  if (!state.wordsMissing.value || state.loadsToCome.value) return null;
  const { from, to, unit } = finding.remedy;
  const kind = KIND_OF_UNIT[unit ?? ""];
  if (!kind || from === null || to === null) return null;
  const system = state.unitSystem.value;
  return (
    <p>
      <strong>{texts.value.finding.change}</strong>
      {texts.value.finding.fromTo(formatQuantity(from, kind, system), formatQuantity(to, kind, system))}
    </p>
  );
}

function Alternatives({ finding }: { finding: Finding }) {
  if (!finding.words.otherwise) return null;
  return (
    <p>
      <strong>{texts.value.finding.otherwise}</strong>
      {finding.words.otherwise}
    </p>
  );
}

function WorkedOut({ finding }: { finding: Finding }) {
  const { where, stand, loss, pValue } = finding;
  const said = texts.value.finding;
  const { interval } = texts.value.ledger;
  const rows: [string, string, OriginName?][] = [
    [said.technical, finding.detail ? `${finding.cause}, ${finding.detail}` : finding.cause],
    [said.meaning, causeName(finding.cause, state.writing.value.language).definition],
  ];
  if (where.passes.length > 0) rows.push([said.passes, runsOf(where.passes)]);
  if (where.rowUnits.length > 0) rows.push([said.rowUnits, runsOf(where.rowUnits)]);
  if (where.soilZones.length > 0) rows.push([said.soilZones, where.soilZones.join(", ")]);
  if (stand.deficitShare) {
    rows.push([
      said.plantsShort,
      interval(formatShareEstimate(stand.deficitShare), formatPercent(stand.deficitShare.level)),
      "plantsShort",
    ]);
  }
  if (loss.yieldShare) {
    rows.push([
      said.yieldLost,
      interval(formatShareEstimate(loss.yieldShare, 1), formatPercent(loss.yieldShare.level)),
      "yieldLost",
    ]);
  }
  if (pValue !== null) {
    rows.push([
      said.chance,
      pValue < 0.001 ? said.lessThan(formatPercent(0.001, 1)) : formatPercent(pValue, 1),
      "chance",
    ]);
  }
  if (loss.money) {
    const { estimate, currency, level } = loss.money;
    rows.push([
      said.moneyLost,
      said.moneyRange(roundMoney(estimate, currency), formatMoneyRange(loss.money), formatPercent(level)),
      "money",
    ]);
  }
  if (finding.cause !== "undetermined") {
    rows.push([said.howSure, sureText(finding.probability, state.writing.value), "probability"]);
  }
  rows.push([said.area, formatQuantity(where.areaHa, "area", state.unitSystem.value), "area"]);
  rows.push([said.number, finding.id]);
  return (
    <details class="worked-out">
      <summary>{said.workedOut}</summary>
      <dl>
        {rows.map(([title, text, from]) => (
          <div key={title}>
            <dt>{title}</dt>
            <dd>{from ? <Origin of={from}>{text}</Origin> : text}</dd>
          </div>
        ))}
      </dl>
      {loss.notes.map((note) => (
        <p key={note} class="small">
          {note}
        </p>
      ))}
      <p class="small">
        {finding.basis === "predicted"
          ? said.predicted
          : finding.basis === "cleared"
            ? said.harmless
            : said.counted}
      </p>
    </details>
  );
}
