/** What the map draws, each to be left out and put back. */
import * as state from "../../model/state.ts";
import { texts } from "../../words/texts/texts.ts";
import { MAP_LAYERS, type MapLayerName, mapLayersAtHand } from "./layer-names.ts";

export function LayerList() {
  const offered = mapLayersAtHand();
  return (
    <details class="legend-layers">
      <summary>{texts.value.map.drawn}</summary>
      <ul>
        {offered.map((name) => (
          <li key={name}>
            <label>
              <input
                type="checkbox"
                checked={!state.hiddenLayers.value.has(name)}
                onChange={(event) => show(name, event.currentTarget.checked)}
              />{" "}
              {texts.value.map[MAP_LAYERS[name].title]}
            </label>
          </li>
        ))}
      </ul>
    </details>
  );
}

function show(name: MapLayerName, shown: boolean): void {
  const hidden = new Set(state.hiddenLayers.value);
  if (shown) hidden.delete(name);
  else hidden.add(name);
  state.hiddenLayers.value = hidden;
}
