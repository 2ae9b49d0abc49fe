/** One soil zone's card: its loads, what the change is expected to do, why, on what evidence, and what holds it back. */
import { useEffect, useRef } from "preact/hooks";
import type { ZoneDecision } from "../../src/prescription/prescription.ts";
import { zonesOf } from "../../src/rate-zones/zones-of-soil.ts";
import type { PrescriptionView } from "../../src/report/prescription-view.ts";
import { channelText, GRADE_WORDS } from "../../src/words/prescription-rows.ts";
import * as state from "../model/prescription-state.ts";
import * as page from "../model/state.ts";
import { formatMoneyRange, formatPercent, formatQuantity, plural, roundMoney } from "../words/format.ts";
import { loadFigure, loadText, MOISTURE_WORDS, OUTCOME_WORDS, pointsFigure } from "../words/rate-words.ts";
import { texts } from "../words/texts/texts.ts";
import { InLedger } from "./in-ledger.tsx";
import { LoadBars } from "./load-bars.tsx";
import { LoadEditor } from "./load-editor.tsx";
import type { LoadScale } from "./load-scale.ts";

interface CardProps {
  view: PrescriptionView;
  decision: ZoneDecision;
  scale: LoadScale;
  /** Number of the card, for names of its parts. */
  place: number;
  /** On paper and in the report nothing is set. */
  readOnly: boolean;
}

export function ZoneCard({ view, decision, scale, place, readOnly }: CardProps) {
  const system = page.unitSystem.value;
  const { soilZone, outcome } = decision;
  const picked = view.settings.moisture;
  const draft = state.draft.value;
  const triedN =
    draft?.soilZone === soilZone
      ? draft.marginN
      : (state.editsNow.value[soilZone] ?? decision.prescribedN[picked]);
  const chosen = state.chosenZone.value === soilZone;
  const card = useRef<HTMLElement>(null);
  useEffect(() => {
    if (chosen) card.current?.scrollIntoView({ block: "nearest" });
  }, [chosen]);
  return (
    <article
      ref={card}
      class={`zone-card${chosen ? " chosen" : ""}`}
      aria-labelledby={`zone-${place}`}
      data-zone={soilZone}
    >
      <h3 id={`zone-${place}`}>
        {soilZone}
        <span class="zone-said">
          {" "}
          {formatQuantity(decision.areaHa, "area", system)}
          {numbersSaid(view, soilZone)}
        </span>
      </h3>
      <p class="zone-step">
        <span class={`outcome ${outcome}`}>{texts.value.prescription[OUTCOME_WORDS[outcome]]}</span>
        <span>
          <StepFrom decision={decision} />
          <strong>{loadText(triedN, system)}</strong>
          {texts.value.prescription.on(MOISTURE_WORDS[picked].title.toLowerCase())}
        </span>
      </p>
      <Sent view={view} soilZone={soilZone} />
      {decision.heldBackBy.length > 0 && <HeldBack decision={decision} />}
      <LoadBars decision={decision} picked={picked} triedN={triedN} scale={scale} />
      {!readOnly && <LoadEditor view={view} decision={decision} triedN={triedN} id={String(place)} />}
      <Expected view={view} soilZone={soilZone} />
      {decision.heldBackBy.length === 0 && <p>{decision.reason}</p>}
      {decision.notMended.length > 0 && (
        <ul class="not-mended small">
          {decision.notMended.map(({ finding, words }) => (
            <li key={finding}>
              Does not mend {words}. <InLedger finding={finding} />
            </li>
          ))}
        </ul>
      )}
      <p class="small">{evidenceSaid(decision)}</p>
      <LastYear decision={decision} />
    </article>
  );
}

/** What leads to the load: a step from today's, or that today's stays and goes out in whole steps. */
function StepFrom({ decision: { currentMarginN, outcome } }: { decision: ZoneDecision }) {
  if (currentMarginN === null) return <>{texts.value.prescription.noLoad}</>;
  const today = loadText(currentMarginN, page.unitSystem.value);
  if (outcome !== "change") return <>{texts.value.prescription.staysAs(today)}</>;
  return (
    <>
      {texts.value.prescription.today(today)} <span aria-hidden="true">→</span>
      <span class="visually-hidden">, {texts.value.prescription.set.toLowerCase()}</span>{" "}
    </>
  );
}

function LastYear({ decision: { lastAdvisedN, currentMarginN } }: { decision: ZoneDecision }) {
  const system = page.unitSystem.value;
  if (lastAdvisedN === null) return null;
  return (
    <p class="small">
      {texts.value.prescription.lastYear(
        loadText(lastAdvisedN, system),
        currentMarginN === null ? null : loadText(currentMarginN, system),
      )}
    </p>
  );
}

function evidenceSaid(decision: ZoneDecision): string {
  const system = page.unitSystem.value;
  const { spots, digs, marginRangeN, informative } = decision.evidence;
  const counted =
    spots + digs === 0 ? "no counts or digs here" : `${plural(spots, "count")}, ${plural(digs, "dig")}`;
  const range = marginRangeN
    ? `, at loads of ${loadFigure(marginRangeN[0], system)} to ${loadText(marginRangeN[1], system)}${informative ? "" : ", too few or too alike to learn from"}`
    : "";
  const { loggedMoisture, loggedMoistureFrom } = decision;
  const ground = loggedMoisture
    ? ` Planted ${MOISTURE_WORDS[loggedMoisture].title.toLowerCase()} (${loggedMoistureFrom}).`
    : "";
  return `Evidence: ${GRADE_WORDS[decision.grade]}: ${counted}${range}.${ground}`;
}

/** What the machine is told here where that is not the load itself. */
function Sent({ view, soilZone }: { view: PrescriptionView; soilZone: string }) {
  const { quantity } = view.channel;
  const [own] = zonesOf(view.zones, soilZone).zones;
  if (!own || quantity === null || quantity === "margin") return null;
  const words = quantity === "pressure" ? "pressure" : "added force";
  return (
    <p class="small">
      Sent to the machine: {channelText(own.rates, view, page.writing.value)} {words}
    </p>
  );
}

function HeldBack({ decision }: { decision: ZoneDecision }) {
  return (
    <div class="held-back-by">
      <p>
        <strong>{texts.value.prescription.settleFirst}</strong>
        {texts.value.prescription.staysUntil}
      </p>
      <ul>
        {decision.heldBackBy.map(({ finding, words }) => (
          <li key={words}>
            {words}
            {finding && <InLedger finding={finding} />}
          </li>
        ))}
      </ul>
    </div>
  );
}

/** What the change does here, against keeping today's load. */
function Expected({ view, soilZone }: { view: PrescriptionView; soilZone: string }) {
  const effect = view.effect.zones.find((zone) => zone.soilZone === soilZone);
  const gain = effect?.gainShare;
  if (!gain || (gain.estimate === 0 && gain.low === 0 && gain.high === 0)) return null;
  const money = effect.money;
  return (
    <p class="expected">
      <strong>{texts.value.prescription.plantsInHundred(pointsFigure(gain.estimate))}</strong>
      <span>
        {" "}
        {texts.value.prescription.pointsRange(
          pointsFigure(gain.low),
          pointsFigure(gain.high),
          formatPercent(gain.level),
        )}
      </span>
      {money && (
        <>
          {", "}
          <strong>{roundMoney(money.estimate, money.currency)}</strong>
          <span> ({formatMoneyRange(money)})</span>
        </>
      )}{" "}
      {texts.value.prescription.against}
    </p>
  );
}

/** ", zones 2 and 5 on the map" by the numbers in the files; strips of today's load apart. */
function numbersSaid(view: PrescriptionView, soilZone: string): string {
  const own = zonesOf(view.zones, soilZone);
  const numbers = (part: typeof own.zones) => [...new Set(part.map(({ number }) => number))];
  const [zones, strips] = [numbers(own.zones), numbers(own.strips)];
  const said = [
    zones.length > 0 ? `${zones.length === 1 ? "zone" : "zones"} ${zones.join(", ")} on the map` : "",
    strips.length > 0 ? `proof strip ${strips.join(", ")}` : "",
  ].filter((part) => part !== "");
  return said.length > 0 ? ` · ${said.join(", ")}` : "";
}
