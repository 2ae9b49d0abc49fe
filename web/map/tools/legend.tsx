/** What the passes are coloured by, with numbers and units, and what the signs mean. */
import type { Signal } from "@preact/signals";
import { useState } from "preact/hooks";
import type { MapLayers } from "../../../src/report/map-layers.ts";
import { scaleOf } from "../../colours/colour-scale.ts";
import { GroundSwatch } from "../../colours/soil-swatch.tsx";
import { printing } from "../../controls/print.ts";
import * as state from "../../model/state.ts";
import type { ValueName } from "../../protocol/ground.ts";
import { formatPercent } from "../../words/format.ts";
import { texts } from "../../words/texts/texts.ts";
import { VARIABLES } from "../../words/variables.ts";
import { countsShown } from "../counts-shown.ts";
import { SHORT_SHARES } from "../map-data.ts";
import { zoneWords } from "../zone-words.ts";
import { FilterPanel, ShownLine } from "./filter-panel.tsx";
import { LayerList } from "./layer-list.tsx";
import { Ramp, RampWords } from "./ramp.tsx";

/** @param second the legend of the map beside the first: only what that map has of its own. */
export function Legend({
  signsOpen,
  variable,
  second,
}: {
  signsOpen: boolean;
  variable: Signal<ValueName | null>;
  second: boolean;
}) {
  const layers = state.layers.value;
  const [opened, setOpen] = useState(signsOpen);
  // On the farmer's two pages the signs explain themselves.
  const onPaper = printing.value === "short";
  const open = opened || onPaper;
  if (!layers) return null;
  const choice = (
    <label class="legend-choice">
      <span>{second ? texts.value.map.secondBy : texts.value.map.colouredBy}</span>
      <select
        value={variable.value ?? ""}
        onChange={(event) => {
          const chosen = event.currentTarget.value;
          variable.value = state.variablesAtHand.value.find((name) => name === chosen) ?? null;
        }}
      >
        {state.variablesAtHand.value.map((name) => (
          <option key={name} value={name}>
            {VARIABLES[name].title}
          </option>
        ))}
        {!second && <option value="">{texts.value.map.linesOnly}</option>}
      </select>
    </label>
  );
  if (second) {
    return (
      <div class="map-bar">
        {choice}
        <MapRamp variable={variable.value} />
        <button
          type="button"
          onClick={() => {
            variable.value = null;
          }}
        >
          {texts.value.map.closeMap}
        </button>
      </div>
    );
  }
  return (
    <>
      <div class="map-bar">
        {choice}
        <MapRamp variable={state.variable.value} />
        <button
          type="button"
          aria-expanded={open}
          aria-controls="map-legend"
          onClick={() => setOpen(!opened)}
        >
          {texts.value.map.legend}
        </button>
        <ShownLine />
      </div>
      <div id="map-legend" class="legend" hidden={!open}>
        {open && <Opened signsOpen={signsOpen || onPaper} layers={layers} />}
      </div>
    </>
  );
}

/** What stands one press behind the ramp: what it means, what is drawn, which part of the field. */
function Opened({ signsOpen, layers }: { signsOpen: boolean; layers: MapLayers }) {
  const zones = new Map(layers.zones.features.map(({ properties }) => [properties.name, properties]));
  return (
    <>
      <RampWords variable={state.variable.value} />
      {state.cellsAtHand.value && (
        <label class="filter-choice">
          <span>{texts.value.map.drawnAs}</span>
          <select
            value={state.drawnAs.value}
            onChange={(event) => {
              state.drawnAs.value = event.currentTarget.value === "cells" ? "cells" : "records";
            }}
          >
            <option value="records">{texts.value.map.everyRecord}</option>
            <option value="cells">{texts.value.map.means}</option>
          </select>
        </label>
      )}
      <FilterPanel />
      <LayerList />
      <details class="legend-signs" open={signsOpen}>
        <summary>{texts.value.map.signs}</summary>
        <ul class="signs">
          {[...zones.values()].map((zone) => (
            <li key={zone.name}>
              <GroundSwatch texture={zone.texture} /> {zoneWords(zone)}
            </li>
          ))}
          {layers.counts.features.length > 0 && <CountSigns />}
          {layers.countsInAll !== undefined && <li>{countsShown(layers)}</li>}
          {layers.digs.features.length > 0 && (
            <li>
              <svg width="14" height="12" aria-hidden="true">
                <path d="M1.5 1.5H12.5L7 10.5Z" class="sign-dig" />
              </svg>{" "}
              {texts.value.map.dug}
            </li>
          )}
        </ul>
        <p class="small">{texts.value.map.narrow}</p>
      </details>
    </>
  );
}

function CountSigns() {
  const [some, much] = SHORT_SHARES.map((share) => formatPercent(share));
  return (
    <>
      <li>
        <span class="sign-count" /> {texts.value.map.countUsual}
      </li>
      <li>
        <span class="sign-count some" /> {texts.value.map.countSome(some!)}
      </li>
      <li>
        <span class="sign-count much" /> {texts.value.map.countMuch(much!)}
      </li>
    </>
  );
}

function MapRamp({ variable: name }: { variable: ValueName | null }) {
  const values = name && state.mapGround.value?.values[name];
  const targets = state.layers.value?.targets;
  if (!name || !values || !targets) return null;
  return <Ramp variable={name} scale={scaleOf(name, values, targets)} />;
}
