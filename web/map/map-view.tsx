/** The map: soil as ground, passes as threads, groups outlined and numbered as in the ledger. */
import { useEffect, useRef, useState } from "preact/hooks";
import { loadsShown } from "../model/prescription-state.ts";
import * as state from "../model/state.ts";
import { texts } from "../words/texts/texts.ts";
import { followState } from "./follow-state.ts";
import { LoadLegend } from "./rates/rate-legend.tsx";
import { followPrescription } from "./rates/rate-overlay.ts";
import { type MapPart, startMap } from "./start-map.ts";
import { followLayers } from "./tools/layer-names.ts";
import { Legend } from "./tools/legend.tsx";
import { mapSummary } from "./tools/map-summary.ts";
import { MapTools, NorthSign } from "./tools/map-tools.tsx";
import { measuring } from "./tools/measure.ts";

const FIRST: MapPart = {
  title: "Field map",
  hook: "evenstandMap",
  listens: true,
  follow: (map, ground) => [
    ...followState(map, ground, state.variable),
    ...followPrescription(map),
    ...followLayers(map),
  ],
};
const SECOND: MapPart = {
  title: "Second field map",
  hook: "evenstandSecondMap",
  listens: true,
  follow: (map, ground) => [
    ...followState(map, ground, state.beside),
    ...followPrescription(map),
    ...followLayers(map),
  ],
};

/**
 * @param signsOpen the signs explained without a click, as on paper.
 * @param second the map beside the first: of the other variable, without what the first has once for both.
 */
export function MapView({ signsOpen = false, second = false }: { signsOpen?: boolean; second?: boolean }) {
  const host = useRef<HTMLDivElement>(null);
  const picture = useRef<HTMLImageElement>(null);
  const [failed, setFailed] = useState(false);
  const variable = second ? state.beside : state.variable;
  useEffect(() => {
    if (!host.current || !picture.current) return undefined;
    try {
      return startMap(host.current, picture.current, second ? SECOND : FIRST);
    } catch {
      // No WebGL 2 here: the ledger and the furrow do without it.
      setFailed(true);
      return undefined;
    }
  }, []);
  const summary = mapSummary(variable.value);
  const title = second ? texts.value.map.ofFieldSecond : texts.value.map.ofField;
  return (
    <section class="map-pane" aria-label={title}>
      <h2 class="visually-hidden">{title}</h2>
      {loadsShown.value ? (
        !second && <LoadLegend />
      ) : (
        <Legend signsOpen={signsOpen} variable={variable} second={second} />
      )}
      <div class="map-frame">
        <div class="map-host" ref={host} />
        <img class="map-print" ref={picture} alt={texts.value.map.onScreen} />
        <NorthSign />
        {measuring.value && <span class="crosshair" aria-hidden="true" />}
        <p class={failed ? "no-map" : "visually-hidden"}>
          {failed && texts.value.map.cannotDraw}
          {summary}
        </p>
      </div>
      {!second && !failed && <MapTools />}
    </section>
  );
}
