/** Where on the map the field lies: clear of the edge and, where there is room, of the legend. */
import type { Map as MapLibreMap } from "maplibre-gl";
import * as state from "../app/state.ts";

/** The field fills the map up to this many pixels from its edge, and stays clear of the legend where there is room. */
const FIT_PADDING = 34;
const LEGEND_WIDTH = 262;
const LEGEND_HEIGHT = 140;
const ROOMY_WIDTH = 720;

export function fieldPadding(container: HTMLElement) {
  const { clientWidth, clientHeight } = container;
  // On a low map (two of them on a phone) the field has at least half of the height.
  const edge = Math.min(FIT_PADDING, clientHeight / 8);
  const around = { top: edge, right: edge, bottom: edge, left: edge };
  const legend = container.parentElement?.querySelector(".legend");
  // In a narrow report the legend stands under the map and hides nothing.
  if (legend && getComputedStyle(legend).position === "static") return around;
  if (clientWidth >= ROOMY_WIDTH) return { ...around, left: LEGEND_WIDTH };
  return { ...around, top: Math.min(LEGEND_HEIGHT, (3 * clientHeight) / 8) };
}

/** A field that nobody has moved yet still fills the map when the map changes its size. */
export function keepInView(map: MapLibreMap): void {
  let moved = false;
  map.on("movestart", (event) => {
    if (event.originalEvent) moved = true;
  });
  map.on("resize", () => {
    const layers = state.layers.value;
    if (moved || !layers || state.selectedFinding.value) return;
    map.fitBounds(layers.bounds, { padding: fieldPadding(map.getContainer()), animate: false });
  });
}
