/** A zone's load set by hand: number, buttons and slider between the same limits; beyond them a refusal with its reason. */
import { useEffect, useState } from "preact/hooks";
import { editLimits } from "../../src/prescription/edit-refusal.ts";
import type { ZoneDecision } from "../../src/prescription/prescription.ts";
import { unitLabel } from "../../src/quantities/format.ts";
import type { PrescriptionView } from "../../src/report/prescription-view.ts";
import { choices } from "../model/prescription-choices.ts";
import * as state from "../model/prescription-state.ts";
import * as page from "../model/state.ts";
import { numberLocale, readTyped } from "../words/numbers.ts";
import { loadFigure, loadNumber, loadText, typedLoadN } from "../words/rate-words.ts";
import { texts } from "../words/texts/texts.ts";

interface EditorProps {
  view: PrescriptionView;
  decision: ZoneDecision;
  triedN: number;
  id: string;
}

export function LoadEditor({ view, decision, triedN, id }: EditorProps) {
  const system = page.unitSystem.value;
  const { soilZone } = decision;
  const stepN = view.settings.rateStepN;
  const limits = editLimits(view, soilZone);
  const [typed, setTyped] = useState<string | null>(null);
  const [refusal, setRefusal] = useState<string | null>(null);
  const edited = soilZone in state.editsNow.value;
  // What was typed and refused does not outlive the choices it was typed against.
  useEffect(() => {
    setTyped(null);
    setRefusal(null);
  }, [choices.value, system, numberLocale.value]);
  if (!limits) return null;
  const steps = (loadN: number) => Math.round(loadN / stepN);
  const set = (loadN: number): boolean => {
    const said = state.setLoad(soilZone, loadN);
    setRefusal(said);
    return said === null;
  };
  const setTypedLoad = (text: string) => {
    const shown = readTyped(text, numberLocale.value);
    if (Number.isNaN(shown)) return setRefusal(texts.value.prescription.notANumber);
    if (set(typedLoadN(shown, stepN, system))) setTyped(null);
  };
  const nudge = (by: number) => set((steps(triedN) + by) * stepN);
  return (
    <fieldset class="load-editor">
      <legend class="visually-hidden">{texts.value.prescription.setLoadOf(soilZone)}</legend>
      <div class="load-row">
        <label for={`load-${id}`}>{texts.value.prescription.set}</label>
        <button
          type="button"
          aria-label={texts.value.prescription.lighter(loadText(stepN, system))}
          onClick={() => nudge(-1)}
        >
          −
        </button>
        <input
          id={`load-${id}`}
          type="text"
          inputMode="decimal"
          value={typed ?? String(loadNumber(triedN, system))}
          aria-invalid={refusal !== null}
          aria-describedby={`limits-${id}`}
          onInput={(event) => setTyped(event.currentTarget.value)}
          onChange={(event) => setTypedLoad(event.currentTarget.value)}
        />
        <span>{unitLabel("force", system)}</span>
        <button
          type="button"
          aria-label={texts.value.prescription.heavier(loadText(stepN, system))}
          onClick={() => nudge(1)}
        >
          +
        </button>
        <input
          type="range"
          aria-label={texts.value.prescription.loadOf(soilZone)}
          aria-valuetext={loadText(triedN, system)}
          min={steps(limits.lowN)}
          max={steps(limits.highN)}
          step="1"
          value={steps(triedN)}
          disabled={steps(limits.lowN) >= steps(limits.highN)}
          onInput={(event) => {
            state.draft.value = { soilZone, marginN: Number(event.currentTarget.value) * stepN };
          }}
          onChange={(event) => set(Number(event.currentTarget.value) * stepN)}
        />
      </div>
      <p id={`limits-${id}`} class="small">
        {texts.value.prescription.range(
          loadFigure(limits.lowN, system),
          loadText(limits.highN, system),
          `${loadNumber(stepN, system)} ${unitLabel("force", system)}`,
        )}
        {edited && (
          <>
            {" · "}
            <button type="button" class="link" onClick={() => state.setLoad(soilZone, null)}>
              {texts.value.prescription.backToAdvised}
            </button>
          </>
        )}
      </p>
      <p class="refusal" role="alert">
        {refusal && texts.value.prescription.notSet(refusal)}
      </p>
    </fieldset>
  );
}
