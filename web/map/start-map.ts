/** One map on the page: controls, scale, picture for paper, and what it draws. */
import { effect } from "@preact/signals";
import { Map as MapLibreMap, NavigationControl, ScaleControl } from "maplibre-gl";
import "maplibre-gl/dist/maplibre-gl.css";
import { link } from "../model/linked.ts";
import * as state from "../model/state.ts";
import { fieldPadding, keepInView } from "./field-in-view.ts";
import { GroundLayer } from "./ground-layer.ts";
import { addImages } from "./map-images.ts";
import { listen } from "./pointer.ts";
import { FIRST_ABOVE_GROUND, mapStyle } from "./style.ts";

/** What one of the maps shows. */
export interface MapPart {
  /** Its name for a screen reader. */
  title: string;
  /** Name on the window, for tests and for a look behind the page from the browser's console. */
  hook: "evenstandMap" | "evenstandSecondMap" | "evenstandSeasonMap";
  /** Whether what lies under the pointer is read out and chosen by a click. */
  listens: boolean;
  /** Draws what it shows, and again when that changes. @returns how to stop. */
  follow: (map: MapLibreMap, ground: GroundLayer) => (() => void)[];
}

/**
 * Draws a map, linked with the others.
 * @param picture what paper gets in its place
 * @returns how to take it away
 * @throws {Error} where the browser has no WebGL 2
 */
export function startMap(container: HTMLDivElement, picture: HTMLImageElement, part: MapPart): () => void {
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
      "Map.Title": `${part.title}. Arrow keys move it, plus and minus zoom.`,
    },
  });
  map.touchZoomRotate.disableRotation();
  map.keyboard.disableRotation();
  map.addControl(new NavigationControl({ showCompass: false }), "top-right");
  const scale = new ScaleControl();
  map.addControl(scale, "bottom-right");
  const errors: string[] = [];
  map.on("error", (event) => errors.push(String(event.error?.message ?? event.error)));
  Object.assign(window, {
    [part.hook]: map,
    ...(part.hook === "evenstandMap" ? { evenstandMapErrors: errors } : {}),
  });
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
    stops.push(...part.follow(map, groundLayer));
    stops.push(link(map));
    stops.push(effect(() => scale.setUnit(state.unitSystem.value === "farm" ? "imperial" : "metric")));
    if (part.listens) listen(map);
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
