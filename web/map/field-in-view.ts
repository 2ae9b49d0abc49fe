/** Where on the map the field lies: the whole of the frame but its edge, since nothing of the page lies over it. */
import { computed } from "@preact/signals";
import type { Map as MapLibreMap } from "maplibre-gl";
import { boundsOf } from "../model/geometry.ts";
import { loadsShown } from "../model/prescription-state.ts";
import * as state from "../model/state.ts";

/** Pixels kept free at each edge: on the right zoom and north stand, below the scale. */
const EDGES = { top: 16, right: 52, bottom: 44, left: 16 };
/** Ground around a chosen finding, pixels, and how near it is looked at. */
const AROUND_FINDING = 40;
const NEAREST_ZOOM = 16.4;

export function fieldPadding(container: HTMLElement) {
  const { clientWidth, clientHeight } = container;
  // On a small map (two of them on a phone) the field has at least two thirds of each side.
  const held = (edge: number, side: number) => Math.min(edge, side / 6);
  return {
    top: held(EDGES.top, clientHeight),
    right: held(EDGES.right, clientWidth),
    bottom: held(EDGES.bottom, clientHeight),
    left: held(EDGES.left, clientWidth),
  };
}

/** The finding that the map looks at; loads are those of the whole field, whatever is chosen in the ledger. */
export const findingLookedAt = computed(() => (loadsShown.value ? null : state.selectedFinding.value));

/** Shows the chosen finding, else the whole field. */
export function fitShown(map: MapLibreMap, motion: { animate: false } | { duration: number }): void {
  const finding = findingLookedAt.peek();
  const bounds = finding && boundsOf(finding.where.geometry);
  const field = state.layers.peek()?.bounds;
  const padding = fieldPadding(map.getContainer());
  if (bounds) {
    const around = Math.min(AROUND_FINDING, map.getContainer().clientHeight / 8);
    const wider = { ...padding, top: padding.top + around, bottom: padding.bottom + around };
    map.fitBounds(bounds, { padding: wider, maxZoom: NEAREST_ZOOM, ...motion });
  } else if (field) map.fitBounds(field, { padding, ...motion });
}

/** What nobody has moved away from still fills the map when the map changes its size. */
export function keepInView(map: MapLibreMap): void {
  let moved = false;
  map.on("movestart", (event) => {
    if (event.originalEvent) moved = true;
  });
  map.on("moveend", () => {
    if (!moved) return;
    const { lng, lat } = map.getCenter();
    state.mapPlace.value = { longitude: lng, latitude: lat, zoom: map.getZoom() };
  });
  const stop = [
    state.selectedId.subscribe(() => {
      moved = false;
    }),
    state.wholeFieldAsked.subscribe(() => {
      moved = false;
    }),
    state.placeAsked.subscribe((place) => {
      if (!place) return;
      moved = true;
      map.jumpTo({ center: [place.longitude, place.latitude], zoom: place.zoom });
    }),
  ];
  map.on("remove", () => {
    for (const each of stop) each();
  });
  map.on("resize", () => {
    if (!moved && state.shownPlace.peek() === null) fitShown(map, { animate: false });
  });
}
