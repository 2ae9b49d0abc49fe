/** The pointer on the map: what lies under it is read out, a click chooses it. */
import type { Map as MapLibreMap, MapMouseEvent } from "maplibre-gl";
import * as state from "../model/state.ts";
import { countReadout, digReadout, groundReadout } from "../words/readout.ts";
import { GROUND_LAYER } from "./ground-layer.ts";
import { usualStand } from "./map-data.ts";
import { nearestPiece } from "./nearest.ts";
import { COUNT_LAYER, DIG_LAYER, FINDING_AREA_LAYER } from "./style.ts";
import { addPlace, measuring } from "./tools/measure.ts";

/** How near to a record the pointer has to be, metres. */
const REACH_M = 8;

export function listen(map: MapLibreMap): void {
  map.on("mousemove", (event) => {
    // While the map is dragged nothing is looked up: on a large field that takes longer than a frame.
    if (event.originalEvent.buttons === 0) pointAt(map, event);
  });
  map.on("mouseout", () => {
    state.hoveredId.value = null;
    state.readout.value = "";
  });
  map.on("click", (event) => {
    if (measuring.value) {
      addPlace(event.lngLat.toArray() as [number, number]);
      return;
    }
    pointAt(map, event);
    const finding = findingAt(map, event);
    const piece = pieceAt(event);
    if (finding) state.selectFinding(finding);
    const pass = piece === null ? 0 : (state.ground.value?.pass[piece] ?? 0);
    if (pass > 0) state.selectedPass.value = pass;
    state.cursor.value = piece;
  });
}

function pointAt(map: MapLibreMap, event: MapMouseEvent): void {
  const layers = state.layers.value;
  const ground = state.ground.value;
  if (!layers || !ground) return;
  state.hoveredId.value = findingAt(map, event);
  const box: [[number, number], [number, number]] = [
    [event.point.x - 5, event.point.y - 5],
    [event.point.x + 5, event.point.y + 5],
  ];
  const spot = map.queryRenderedFeatures(box, { layers: [COUNT_LAYER, DIG_LAYER] })[0];
  if (!measuring.value) map.getCanvas().style.cursor = spot || state.hoveredId.value ? "pointer" : "";
  if (spot?.layer.id === COUNT_LAYER) {
    const count = layers.counts.features.find((f) => f.properties.spot === spot.properties.spot)?.properties;
    if (count) state.readout.value = countReadout(count, usualStand(layers), state.unitSystem.value);
    return;
  }
  if (spot) {
    const dig = layers.digs.features.find((f) => f.properties.dig === spot.properties.dig)?.properties;
    if (dig) state.readout.value = digReadout(dig, state.unitSystem.value);
    return;
  }
  const piece = pieceAt(event);
  state.readout.value = piece === null ? "" : groundReadout(ground, layers, piece, state.unitSystem.value);
}

function pieceAt(event: MapMouseEvent): number | null {
  const ground = state.ground.value;
  const reach = ground?.pieces === "cells" ? REACH_M * 2 : REACH_M;
  const shown = state.shown.value?.mask ?? null;
  return ground ? nearestPiece(ground, event.lngLat.lng, event.lngLat.lat, reach, shown) : null;
}

/** Where groups lie over each other the smallest one is meant; a number counts as its group. */
function findingAt(map: MapLibreMap, event: MapMouseEvent): string | null {
  if (!map.getLayer(GROUND_LAYER)) return null;
  const found = map.queryRenderedFeatures(event.point, { layers: ["number-disc", FINDING_AREA_LAYER] });
  const number = found.find((feature) => feature.layer.id === "number-disc");
  const best = number ?? found.sort((a, b) => Number(a.properties.area) - Number(b.properties.area))[0];
  return best ? String(best.properties.id) : null;
}
