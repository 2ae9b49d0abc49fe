/** The two things only the user knows: the state of the ground on the day, and what the machine's channel takes. */
import { CHANNELS } from "../../src/prescription/prescription.ts";
import { PASCAL_PER_PSI } from "../../src/prescription/pressure.ts";
import { unitLabel } from "../../src/quantities/format.ts";
import { convert } from "../../src/quantities/units.ts";
import type { PrescriptionView } from "../../src/report/prescription-view.ts";
import { MOISTURES, type Moisture } from "../../src/vocabulary/moisture.ts";
import * as state from "../model/prescription-state.ts";
import * as page from "../model/state.ts";
import { numberLocale, readTyped, toType } from "../words/numbers.ts";
import { channelWords, MOISTURE_WORDS, PUTTY_WORDS } from "../words/rate-words.ts";
import { texts } from "../words/texts/texts.ts";
import { FieldRefusal } from "./field-refusal.tsx";

export function GroundOnTheDay() {
  const picked = state.moisture.value;
  return (
    <fieldset class="pick-ground">
      <legend>{texts.value.prescription.ground}</legend>
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
      <legend>{texts.value.prescription.channel}</legend>
      <p class="small">{texts.value.prescription.channelCaution}</p>
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
            <strong>{each ? channelWords(each).title : texts.value.prescription.dontKnow}</strong>
            <span class="small"> {each ? channelWords(each).said : texts.value.prescription.thenOnly}</span>
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

/** The user's own figures: two forces and the pressures they take, as gauge and manual say them. */
function Cylinder({ view }: { view: PrescriptionView }) {
  const units = page.unitSystem.value;
  const { cylinder, system } = view.settings;
  const pressure = units === "farm" ? PASCAL_PER_PSI : 1000;
  const force = units === "farm" ? convert(1, "lbf", "N") : 1;
  const points = cylinder
    ? cylinder.forceN.map((forceN) => [
        Number((forceN / force).toFixed(1)),
        Number(((cylinder.pascalAtNoForce + cylinder.pascalPerNewton * forceN) / pressure).toFixed(1)),
      ])
    : [];
  const locale = numberLocale.value;
  const shown = (point: number, part: number) => {
    const figure = points[point]?.[part];
    return figure === undefined ? "" : toType(figure, locale);
  };
  const names = ["low-force", "low-pressure", "high-force", "high-pressure"] as const;
  const set = (form: HTMLFormElement) => {
    const data = new FormData(form);
    const [lowForce, lowPressure, highForce, highPressure] = names.map((name) =>
      readTyped(String(data.get(name) ?? ""), locale),
    ) as [number, number, number, number];
    if (![lowForce, lowPressure, highForce, highPressure].every((figure) => figure >= 0)) return;
    const slope = ((highPressure - lowPressure) * pressure) / ((highForce - lowForce) * force);
    state.change("Cylinder", {
      cylinder: {
        pascalPerNewton: slope,
        pascalAtNoForce: lowPressure * pressure - slope * lowForce * force,
        forceN: [lowForce * force, highForce * force],
      },
    });
  };
  const titles = [
    `Lower force added to a row unit, ${unitLabel("force", units)}`,
    `Pressure it takes, ${units === "farm" ? "psi" : "kPa"}`,
    `Higher force added to a row unit, ${unitLabel("force", units)}`,
    `Pressure it takes, ${units === "farm" ? "psi" : "kPa"}`,
  ];
  return (
    <>
      <SystemChoice system={system} />
      <form
        class="cylinder"
        key={JSON.stringify([points, locale, units])}
        onSubmit={(event) => event.preventDefault()}
        onChange={(event) => set(event.currentTarget)}
      >
        {names.map((name, k) => (
          <label key={name}>
            {titles[k]}
            <input
              name={name}
              type="text"
              inputMode="decimal"
              defaultValue={shown(Math.floor(k / 2), k % 2)}
            />
          </label>
        ))}
        <FieldRefusal of="cylinder" />
        <p class="small">
          From the operator's manual, or weighed under one row unit. No pressure is written beyond these two
          points. 1 bar is 100 kPa, 1 psi 6.895 kPa.
        </p>
      </form>
    </>
  );
}

/** The kind of system: its lag, and which pressures it can have. */
export function SystemChoice({ system }: { system: PrescriptionView["settings"]["system"] }) {
  return (
    <label class="system-choice">
      <span>Kind of system</span>
      <select
        value={system ?? ""}
        onChange={(event) =>
          state.change("Kind of system", {
            system: (event.currentTarget.value || null) as PrescriptionView["settings"]["system"],
          })
        }
      >
        <option value="">not said</option>
        <option value="air">air bags: follow in 15 to 40 s</option>
        <option value="hydraulic">hydraulic cylinders: follow in 1 to 5 s</option>
      </select>
    </label>
  );
}
