/** Before and after on the map: which loads are shown, by button, and what each colour stands for in figures. */
import * as state from "../../model/prescription-state.ts";
import * as page from "../../model/state.ts";
import { MOISTURE_WORDS } from "../../words/rate-words.ts";
import { texts } from "../../words/texts/texts.ts";
import { type LegendEntry, legendEntries, shownGround } from "./rate-map.ts";
import { HatchSwatch } from "./rate-picture.tsx";

/** The text of the topic that names what the map shows of the loads. */
export const MODE_WORDS = {
  today: "todayMode",
  prescribed: "prescribedMode",
  change: "changeMode",
} as const satisfies Record<state.MapMode, string>;

export function LoadLegend() {
  const view = state.view.value;
  const layers = page.layers.value;
  if (!view || !layers) return null;
  const mode = state.mapMode.value;
  const shown = shownGround(view, layers, mode, page.unitSystem.value);
  return (
    <>
      <div class="map-bar">
        <div>
          <p class="small">
            {texts.value.prescription.wheelLoad(
              mode === "today" ? null : MOISTURE_WORDS[view.settings.moisture].title.toLowerCase(),
            )}
          </p>
          <fieldset class="map-modes">
            <legend class="visually-hidden">{texts.value.prescription.loadsOnMap}</legend>
            {state.MAP_MODES.map((each) => (
              <button
                key={each}
                type="button"
                aria-pressed={each === mode}
                onClick={() => {
                  state.mapMode.value = each;
                }}
              >
                {texts.value.prescription[MODE_WORDS[each]]}
              </button>
            ))}
          </fieldset>
        </div>
      </div>
      <div class="legend load-legend">
        <LegendList entries={legendEntries(shown)} />
        {view.zones.some(({ proofStrip }) => proofStrip) && (
          <p class="legend-strip small">
            <HatchSwatch /> {texts.value.prescription.proofStrip}
          </p>
        )}
      </div>
    </>
  );
}

export function LegendList({ entries }: { entries: readonly LegendEntry[] }) {
  return (
    <ul class="load-entries">
      {entries.map(({ said, colour, ground, soils }) => (
        <li key={said}>
          <svg width="22" height="16" aria-hidden="true">
            <rect x="0.5" y="0.5" width="21" height="15" fill={colour} class="load-swatch" />
          </svg>
          <strong>{said}</strong>
          <span class="small">
            {texts.value.prescription.zonesOf(ground.includes(","), ground, soils ? `: ${soils}` : "")}
          </span>
        </li>
      ))}
    </ul>
  );
}
