/** The two things only the user knows: the state of the ground on the day, and what the machine's channel takes. */
import { CHANNELS, MOISTURES, type Moisture } from "../../src/prescription/prescription.ts";
import type { PrescriptionView } from "../../src/report/prescription-view.ts";
import { numberLocale, readTyped, toType } from "../words/numbers.ts";
import * as state from "./state.ts";
import { CHANNEL_WORDS, MOISTURE_WORDS, PUTTY_WORDS } from "./words.ts";

export function GroundOnTheDay() {
  const picked = state.moisture.value;
  return (
    <fieldset class="pick-ground">
      <legend>Ground on the day, by squeeze and dig</legend>
      {MOISTURES.map((each: Moisture) => (
        <label key={each} class={each === picked ? "picked" : ""}>
          <input
            type="radio"
            name="moisture"
            value={each}
            checked={each === picked}
            onChange={() => state.change(`${MOISTURE_WORDS[each].title} ground`, { moisture: each })}
          />
          <span>
            <strong>{MOISTURE_WORDS[each].title}</strong>
            <span class="small"> {MOISTURE_WORDS[each].squeeze}</span>
          </span>
        </label>
      ))}
      <p class="small">{PUTTY_WORDS}</p>
    </fieldset>
  );
}

export function ChannelChoice({ view }: { view: PrescriptionView }) {
  const { channel } = view.settings;
  return (
    <fieldset class="pick-channel">
      <legend>What your machine's channel takes</legend>
      <p class="small">
        Weight left on the gauge wheels is not the force added: the ground carries part of the row unit's own
        weight and of what is added. A weight written where a force is expected would be wrong by hundreds of
        pounds. Look it up in the operator's manual.
      </p>
      {[null, ...CHANNELS].map((each) => (
        <label key={each ?? "none"}>
          <input
            type="radio"
            name="channel"
            value={each ?? ""}
            checked={each === channel}
            onChange={() => state.change("What the channel takes", { channel: each })}
          />
          <span>
            <strong>{each ? CHANNEL_WORDS[each].title : "I do not know"}</strong>
            <span class="small">
              {" "}
              {each ? CHANNEL_WORDS[each].said : "then only the sheet for the cab and the map layer are made"}
            </span>
          </span>
        </label>
      ))}
      {channel === "pressure" && <Cylinder view={view} />}
      {view.channel.formula && (
        <ul class="formula">
          {view.channel.formula.split("; ").map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
      {view.channel.reason && channel !== null && <p class="refusal">{view.channel.reason}</p>}
    </fieldset>
  );
}

/** The user's own figures; in kPa, as gauges are read in bar or psi these are named beside. */
function Cylinder({ view }: { view: PrescriptionView }) {
  const { cylinder } = view.settings;
  const at = {
    none: cylinder ? cylinder.pascalAtNoForce / 1000 : null,
    hundred: cylinder ? (cylinder.pascalAtNoForce + 100 * cylinder.pascalPerNewton) / 1000 : null,
  };
  const set = (none: number | null, hundred: number | null) => {
    const whole = none !== null && hundred !== null && hundred > none;
    state.change("Cylinder", {
      cylinder: whole
        ? { pascalAtNoForce: none * 1000, pascalPerNewton: ((hundred - none) * 1000) / 100 }
        : null,
    });
  };
  return (
    <CylinderFields
      key={`${at.none} ${at.hundred} ${numberLocale.value}`}
      none={at.none}
      hundred={at.hundred}
      onSet={set}
    />
  );
}

function CylinderFields(props: {
  none: number | null;
  hundred: number | null;
  onSet: (none: number | null, hundred: number | null) => void;
}) {
  const shown = (figure: number | null) => (figure === null ? "" : toType(figure, numberLocale.value));
  const read = (form: HTMLFormElement, name: string): number | null => {
    const figure = readTyped(String(new FormData(form).get(name) ?? ""), numberLocale.value);
    return figure >= 0 ? figure : null;
  };
  return (
    <form
      class="cylinder"
      onSubmit={(event) => event.preventDefault()}
      onChange={(event) => {
        const form = event.currentTarget;
        const [none, hundred] = [read(form, "none"), read(form, "hundred")];
        if (none !== null && hundred !== null) props.onSet(none, hundred);
      }}
    >
      <label>
        Gauge at no added force, kPa
        <input name="none" type="text" inputMode="decimal" defaultValue={shown(props.none)} />
      </label>
      <label>
        Gauge at 100 N added a row, kPa
        <input name="hundred" type="text" inputMode="decimal" defaultValue={shown(props.hundred)} />
      </label>
      <p class="small">
        From the operator's manual, or weighed under one row unit. 100 N is 22.5 lb; 1 bar is 100 kPa, 1 psi
        6.895 kPa.
      </p>
    </form>
  );
}
