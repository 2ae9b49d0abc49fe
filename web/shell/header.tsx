/** The top line: whose field, how large, and the few things one can do with the page. */
import { print } from "../controls/print.ts";
import { nextRedo, nextUndo, redo, undo } from "../model/history.ts";
import { pane } from "../model/prescription-pane.ts";
import * as state from "../model/state.ts";
import { formatQuantity } from "../words/format.ts";
import { texts } from "../words/texts/texts.ts";
import { Settings } from "./settings.tsx";
import { TakeAlong } from "./take-along.tsx";

/** @param onOpen null in the report, which is one field's. @param report true in the report. */
export function Header({ onOpen, report = false }: { onOpen: (() => void) | null; report?: boolean }) {
  const field = state.findingsDocument.value?.field;
  const { header } = texts.value;
  const said = field
    ? [
        field.season === null ? null : String(field.season),
        formatQuantity(field.areaHa, "area", state.unitSystem.value),
        field.crop,
        field.planted ? header.planted(field.planted) : null,
      ].filter((part) => part !== null)
    : [];
  return (
    <header class="top">
      <p class="brand">Evenstand</p>
      <h1>
        {field ? field.name : header.noField}
        {said.length > 0 && <span class="field-said"> {said.join(" · ")}</span>}
      </h1>
      <div class="actions">
        <UndoButtons />
        {report ? <PrintButtons /> : <TakeAlong />}
        <Settings whole={!report} />
        {onOpen && (
          <button type="button" onClick={onOpen}>
            {header.open}
          </button>
        )}
      </div>
    </header>
  );
}

/** The report on paper: whole, or the farmer's two pages. */
function PrintButtons() {
  return (
    <>
      <button type="button" onClick={() => print("short")}>
        {texts.value.header.printTwo}
      </button>
      <button type="button" onClick={() => print("whole")}>
        {texts.value.header.printAll}
      </button>
    </>
  );
}

/** Shown once there is something to undo. */
function UndoButtons() {
  const [before, after] = [nextUndo.value, nextRedo.value];
  // The pane of the loads has them beside what they undo.
  if ((before === null && after === null) || pane.value === "prescription") return null;
  return (
    <>
      <button type="button" disabled={before === null} title={before ?? undefined} onClick={undo}>
        {texts.value.header.undo}
      </button>
      <button type="button" disabled={after === null} title={after ?? undefined} onClick={redo}>
        {texts.value.header.redo}
      </button>
    </>
  );
}
