/** How the page speaks and looks: units, numbers, light or dark; kept in the browser. */
import type { ComponentChildren } from "preact";
import type { UnitSystem } from "../../src/quantities/format.ts";
import { Menu } from "../controls/menu.tsx";
import { LOOKS, look } from "../model/look.ts";
import { AS_LAID_OUT, paneSizes } from "../model/panes.ts";
import * as state from "../model/state.ts";
import { automaticSample, NUMBER_CHOICES, numberChoice } from "../words/numbers.ts";

const UNITS: readonly (readonly [UnitSystem, string])[] = [
  ["farm", "acres, inches"],
  ["metric", "metric"],
];

/** @param whole false in the report, which has no parts to lay out. */
export function Settings({ whole }: { whole: boolean }) {
  const { ledger, dock } = paneSizes.value;
  const laidOut = ledger === AS_LAID_OUT && dock === AS_LAID_OUT;
  return (
    <Menu name="settings" title="Settings">
      <Segments
        title="Units"
        name="units"
        offered={UNITS}
        chosen={state.unitSystem.value}
        onChoose={(units) => {
          state.unitSystem.value = units;
        }}
      />
      <p class="setting">
        <label for="numbers">How numbers are written</label>
        <select
          id="numbers"
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
      </p>
      <Segments
        title="Light or dark"
        name="look"
        offered={LOOKS}
        chosen={look.value}
        onChoose={(chosen) => {
          look.value = chosen;
        }}
      />
      {whole && (
        <p class="setting">
          <button
            type="button"
            disabled={laidOut}
            onClick={() => {
              paneSizes.value = { ledger: AS_LAID_OUT, dock: AS_LAID_OUT };
            }}
          >
            Lay the parts out anew
          </button>
        </p>
      )}
      {whole && (
        <p class="small">
          <a href="THIRD-PARTY-NOTICES.txt">Notices</a>: software, letters and colours that are not ours
        </p>
      )}
    </Menu>
  );
}

function Segments<Value extends string>(props: {
  title: ComponentChildren;
  name: string;
  offered: readonly (readonly [Value, string])[];
  chosen: Value;
  onChoose: (value: Value) => void;
}) {
  const { title, name, offered, chosen, onChoose } = props;
  return (
    <fieldset class="setting segments">
      <legend>{title}</legend>
      {offered.map(([value, said]) => (
        <label key={value}>
          <input
            type="radio"
            name={name}
            value={value}
            checked={chosen === value}
            onChange={() => onChoose(value)}
          />
          <span>{said}</span>
        </label>
      ))}
    </fieldset>
  );
}
