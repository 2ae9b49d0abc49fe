/** How the page speaks and looks: language, units, numbers, light or dark; kept in the browser. */
import type { ComponentChildren } from "preact";
import type { UnitSystem } from "../../src/quantities/format.ts";
import { Menu } from "../controls/menu.tsx";
import { LOOKS, look } from "../model/look.ts";
import { AS_LAID_OUT, paneSizes } from "../model/panes.ts";
import * as state from "../model/state.ts";
import { automaticLanguage, LANGUAGE_CHOICES, languageChoice, OWN_NAMES } from "../words/language.ts";
import { automaticSample, NUMBER_CHOICES, numberChoice } from "../words/numbers.ts";
import { texts } from "../words/texts/texts.ts";

const UNITS: readonly UnitSystem[] = ["farm", "metric"];

/** @param whole false in the report, which has no parts to lay out. */
export function Settings({ whole }: { whole: boolean }) {
  const { ledger, dock } = paneSizes.value;
  const said = texts.value.settings;
  const laidOut = ledger === AS_LAID_OUT && dock === AS_LAID_OUT;
  return (
    <Menu name="settings" title={said.title}>
      <p class="setting">
        <label for="language">{said.language}</label>
        <select
          id="language"
          value={languageChoice.value}
          aria-describedby="language-unchecked"
          onChange={(event) => {
            const chosen = event.currentTarget.value;
            languageChoice.value = LANGUAGE_CHOICES.find((choice) => choice === chosen) ?? "auto";
          }}
        >
          {LANGUAGE_CHOICES.map((choice) => (
            <option key={choice} value={choice} lang={choice === "auto" ? undefined : choice}>
              {choice === "auto"
                ? said.automaticLanguage(OWN_NAMES[automaticLanguage.value])
                : OWN_NAMES[choice]}
            </option>
          ))}
        </select>
      </p>
      <p class="small" id="language-unchecked">
        {said.unchecked}
      </p>
      <Segments
        title={said.units}
        name="units"
        offered={UNITS.map((units) => [units, said[units]] as const)}
        chosen={state.unitSystem.value}
        onChoose={(units) => {
          state.unitSystem.value = units;
        }}
      />
      <p class="setting">
        <label for="numbers">{said.numbers}</label>
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
              {choice === "auto" ? said.automaticNumbers(automaticSample()) : choice}
            </option>
          ))}
        </select>
      </p>
      <Segments
        title={said.look}
        name="look"
        offered={LOOKS.map((each) => [each, said[each]] as const)}
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
            {said.layOut}
          </button>
        </p>
      )}
      {whole && (
        <p class="small">
          <a href="THIRD-PARTY-NOTICES.txt">{said.notices}</a>
          {said.noticesSaid}
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
