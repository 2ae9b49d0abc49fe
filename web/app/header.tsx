/** The top line: whose field, how large, and the few things one can do with the page. */
import { formatQuantity, type UnitSystem } from "../../src/report/format.ts";
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
        {field && (
          <button type="button" class="for-desk" onClick={() => window.print()}>
            Print
          </button>
        )}
        {field && (
          <button
            type="button"
            class="for-desk"
            onClick={() => saveJson("findings.json", state.findingsDocument.value)}
          >
            Save findings
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

function UnitsSwitch() {
  return (
    <fieldset class="units">
      <legend class="visually-hidden">Units</legend>
      <UnitChoice system="farm" title="acres, inches" />
      <UnitChoice system="metric" title="metric" />
    </fieldset>
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
