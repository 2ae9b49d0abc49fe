/** The prescription beside the map: what to mend first, what is expected, a card a soil zone, limits, digs, files. */
import { useEffect } from "preact/hooks";
import type { PrescriptionView } from "../../src/report/prescription-view.ts";
import { nextRedo, nextUndo, redo, undo } from "../model/history.ts";
import * as state from "../model/prescription-state.ts";
import * as page from "../model/state.ts";
import { effectSaid, summarySaid } from "../words/prescription-words.ts";
import { texts } from "../words/texts/texts.ts";
import { ChannelChoice, GroundOnTheDay } from "./choice-of-ground.tsx";
import { Files } from "./files.tsx";
import { LimitsForm } from "./limits-form.tsx";
import { Cautions, DigList, FirstList, GuardList, WorkedOut } from "./lists.tsx";
import { BarSigns } from "./load-bars.tsx";
import { loadScale } from "./load-scale.ts";
import { ZoneCard } from "./zone-card.tsx";

export function PrescriptionPanel() {
  const view = state.view.value;
  const trouble = state.trouble.value;
  useEffect(() => {
    // The map is drawn elsewhere; it shows the loads before the choice that cannot be.
    document.documentElement.classList.toggle("loads-stale", state.isStale.value);
    return () => document.documentElement.classList.remove("loads-stale");
  }, [state.isStale.value]);
  return (
    <section
      class={`prescription${state.isStale.value ? " is-stale" : ""}`}
      aria-labelledby="prescription-title"
    >
      <h2 id="prescription-title">{texts.value.prescription.title}</h2>
      {trouble && (
        <div class="trouble" role="alert">
          <p>{trouble.words}</p>
          {state.anythingChosen.value && (
            <button type="button" onClick={state.reset}>
              {texts.value.prescription.back}
            </button>
          )}
        </div>
      )}
      {view ? <Whole view={view} /> : !trouble && <p role="status">{texts.value.prescription.working}</p>}
    </section>
  );
}

function Whole({ view }: { view: PrescriptionView }) {
  const scale = loadScale(view, page.unitSystem.value);
  return (
    <>
      <p class="prescription-summary">{summarySaid(view)}</p>
      <FirstList view={view} />
      <GroundOnTheDay />
      <div class="setting">
        <EffectLine view={view} />
        <BarSigns />
        {view.decisions.map((decision, place) => (
          <ZoneCard
            key={decision.soilZone}
            view={view}
            decision={decision}
            scale={scale}
            place={place + 1}
            readOnly={false}
          />
        ))}
        <Cautions view={view} open={false} />
      </div>
      <LimitsForm view={view} />
      <GuardList view={view} open={false} />
      <WorkedOut view={view} />
      <DigList view={view} />
      <ChannelChoice view={view} />
      {!state.isStale.value && <Files view={view} />}
      {view.notes.length > 0 && (
        <ul class="advice small">
          {view.notes.map(({ reason, effect }) => (
            <li key={`${reason} ${effect}`}>
              {reason}: {effect}
            </li>
          ))}
        </ul>
      )}
    </>
  );
}

/** What all of it is expected to do, in view while loads are set, with the way back. */
function EffectLine({ view }: { view: PrescriptionView }) {
  return (
    <div class="effect">
      <p role="status">{effectSaid(view)}</p>
      <div class="effect-actions">
        <button type="button" disabled={nextUndo.value === null} title={nextUndo.value ?? ""} onClick={undo}>
          {texts.value.header.undo}
        </button>
        <button type="button" disabled={nextRedo.value === null} title={nextRedo.value ?? ""} onClick={redo}>
          {texts.value.header.redo}
        </button>
        <button type="button" disabled={!state.anythingChosen.value} onClick={state.reset}>
          {texts.value.prescription.back}
        </button>
      </div>
    </div>
  );
}
