/** The top line: whose field, how large, and the few things one can do with the page. */
import type { UnitSystem } from "../../src/report/format.ts";
import { formatQuantity } from "../words/format.ts";
import { automaticSample, NUMBER_CHOICES, numberChoice } from "../words/numbers.ts";
import { nextRedo, nextUndo, redo, undo } from "./history.ts";
import { sessionNow } from "./kept.ts";
import { saveJson } from "./save-json.ts";
import * as state from "./state.ts";

export function Header({ onOpen }: { onOpen: (() => void) | null }) {
  const field = state.findingsDocument.value?.field;
  const said = field
    ? [
        field.season === null ? null : String(field.season),
        formatQuantity(field.areaHa, "area", state.unitSystem.value),
        field.crop,
        field.planted ? `planted ${field.planted}` : null,
      ].filter((part) => part !== null)
    : [];
  return (
    <header class="top">
      <p class="brand">Evenstand</p>
      <h1>
        {field ? field.name : "No field open"}
        {said.length > 0 && <span class="field-said"> {said.join(" · ")}</span>}
      </h1>
      <div class="actions">
        <UnitsSwitch />
        <NumbersChoice />
        <UndoButtons />
        {field && (
          <button type="button" class="for-desk" onClick={() => window.print()}>
            Print
          </button>
        )}
        {field && state.manifest.value && (
          <button
            type="button"
            class="for-desk"
            onClick={() => saveJson("findings.json", state.writtenDocument.value)}
          >
            Save findings
          </button>
        )}
        {field && state.manifest.value && (
          <button
            type="button"
            title="Choices and notes as a file; your data stay in their own files"
            onClick={() => saveJson(`${fileName(field.name)}.session.json`, sessionNow())}
          >
            Save session
          </button>
        )}
        {onOpen && (
          <button type="button" onClick={onOpen}>
            Open…
          </button>
        )}
      </div>
    </header>
  );
}

/** A field's name as far as a file system takes it. */
function fileName(name: string): string {
  return (
    name
      .replaceAll(/[^\p{L}\p{N} _-]+/gu, "")
      .trim()
      .slice(0, 80) || "field"
  );
}

/** Shown once there is something to undo. */
function UndoButtons() {
  const [before, after] = [nextUndo.value, nextRedo.value];
  if (before === null && after === null) return null;
  return (
    <>
      <button type="button" disabled={before === null} title={before ?? undefined} onClick={undo}>
        Undo
      </button>
      <button type="button" disabled={after === null} title={after ?? undefined} onClick={redo}>
        Redo
      </button>
    </>
  );
}

function UnitsSwitch() {
  return (
    <fieldset class="units">
      <legend class="visually-hidden">Units</legend>
      <UnitChoice system="farm" title="acres, inches" />
      <UnitChoice system="metric" title="metric" />
    </fieldset>
  );
}

function NumbersChoice() {
  return (
    <select
      class="numbers"
      aria-label="How numbers are written"
      value={numberChoice.value}
      onChange={(event) => {
        const chosen = event.currentTarget.value;
        numberChoice.value = NUMBER_CHOICES.find((choice) => choice === chosen) ?? "auto";
      }}
    >
      {NUMBER_CHOICES.map((choice) => (
        <option key={choice} value={choice}>
          {choice === "auto" ? `${automaticSample()} (automatic)` : choice}
        </option>
      ))}
    </select>
  );
}

function UnitChoice({ system, title }: { system: UnitSystem; title: string }) {
  return (
    <label>
      <input
        type="radio"
        name="units"
        value={system}
        checked={state.unitSystem.value === system}
        onChange={() => {
          state.unitSystem.value = system;
        }}
      />
      <span>{title}</span>
    </label>
  );
}
