/** The map: soil as ground, passes as threads, groups outlined and numbered as in the ledger. */
import { effect } from "@preact/signals";
import { Map as MapLibreMap, NavigationControl, ScaleControl } from "maplibre-gl";
import "maplibre-gl/dist/maplibre-gl.css";
import { useEffect, useRef, useState } from "preact/hooks";
import * as state from "../app/state.ts";
import { LoadLegend } from "../prescription/map-legend.tsx";
import { followPrescription } from "../prescription/map-overlay.ts";
import { loadsShown } from "../prescription/state.ts";
import { fieldPadding, keepInView } from "./field-in-view.ts";
import { followState } from "./follow-state.ts";
import { GroundLayer } from "./ground-layer.ts";
import { Legend } from "./legend.tsx";
import { link } from "./linked.ts";
import { addImages } from "./map-images.ts";
import { mapSummary } from "./map-summary.ts";
import { MapTools, NorthSign } from "./map-tools.tsx";
import { measuring } from "./measure.ts";
import { listen } from "./pointer.ts";
import { FIRST_ABOVE_GROUND, mapStyle } from "./style.ts";

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
      return startMap(host.current, picture.current, second);
    } catch {
      // No WebGL 2 here: the ledger and the furrow do without it.
      setFailed(true);
      return undefined;
    }
  }, []);
  return (
    <section class="map-pane" aria-label={second ? "Second map of the field" : "Map of the field"}>
      <div class="map-host" ref={host} />
      <img class="map-print" ref={picture} alt="The map as shown on the screen" />
      <p class={failed ? "no-map" : "visually-hidden"}>
        {failed && "This browser cannot draw the map (it offers no WebGL 2). "}
        {mapSummary(variable.value)}
      </p>
      {loadsShown.value ? (
        !second && <LoadLegend />
      ) : (
        <Legend signsOpen={signsOpen} variable={variable} second={second} />
      )}
      <NorthSign />
      {measuring.value && <span class="crosshair" aria-hidden="true" />}
      {!second && !failed && <MapTools />}
    </section>
  );
}

function startMap(container: HTMLDivElement, picture: HTMLImageElement, second: boolean): () => void {
  const map = new MapLibreMap({
    container,
    style: mapStyle(),
    bounds: state.layers.value?.bounds ?? [-1, -1, 1, 1],
    fitBoundsOptions: { padding: fieldPadding(container) },
    attributionControl: false,
    dragRotate: false,
    pitchWithRotate: false,
    touchPitch: false,
    maxPitch: 0,
    fadeDuration: 0,
    canvasContextAttributes: { preserveDrawingBuffer: true, antialias: false },
    locale: {
      "Map.Title": `${second ? "Second field map" : "Field map"}. Arrow keys move it, plus and minus zoom.`,
    },
  });
  map.touchZoomRotate.disableRotation();
  map.keyboard.disableRotation();
  map.addControl(new NavigationControl({ showCompass: false }), "top-right");
  const scale = new ScaleControl();
  map.addControl(scale, "bottom-right");
  const errors: string[] = [];
  map.on("error", (event) => errors.push(String(event.error?.message ?? event.error)));
  // For tests and for a look behind the page from the browser's console.
  Object.assign(
    window,
    second ? { evenstandSecondMap: map } : { evenstandMap: map, evenstandMapErrors: errors },
  );
  // Paper gets a picture: a canvas changes its size when a page is laid out for printing.
  const onBeforePrint = () => {
    picture.src = map.getCanvas().toDataURL();
  };
  window.addEventListener("beforeprint", onBeforePrint);
  const stops: (() => void)[] = [() => window.removeEventListener("beforeprint", onBeforePrint)];
  map.once("load", () => {
    addImages(map);
    const groundLayer = new GroundLayer();
    map.addLayer(groundLayer, FIRST_ABOVE_GROUND);
    stops.push(...followState(map, groundLayer, second ? state.beside : state.variable));
    stops.push(...followPrescription(map));
    stops.push(link(map));
    stops.push(effect(() => scale.setUnit(state.unitSystem.value === "farm" ? "imperial" : "metric")));
    listen(map);
    keepInView(map);
    // What prints the report waits for this.
    map.once("idle", () => {
      container.dataset.drawn = "yes";
    });
  });
  return () => {
    for (const stop of stops) stop();
    map.remove();
  };
}
