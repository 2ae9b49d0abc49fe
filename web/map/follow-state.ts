/** The map follows the page's state: what is shown, coloured, chosen and pointed at. */
import { effect, type ReadonlySignal } from "@preact/signals";
import type { GeoJSONSource, Map as MapLibreMap } from "maplibre-gl";
import { colourColumn, scaleOf } from "../colours/colour-scale.ts";
import { here } from "../model/locate.ts";
import * as state from "../model/state.ts";
import { positionOf, type ValueName } from "../protocol/ground.ts";
import { fieldPadding, findingLookedAt, fitShown } from "./field-in-view.ts";
import type { GroundLayer } from "./ground-layer.ts";
import { countsData, findingsData, hereData, numbersData, zonesData } from "./map-data.ts";
import { CHOSEN_PASS_LAYER, PASS_LAYER, type SourceName } from "./style.ts";
import { measureData, measuredPlaces, measuring } from "./tools/measure.ts";

function put(map: MapLibreMap, name: SourceName, data: GeoJSON.GeoJSON): void {
  (map.getSource(name) as GeoJSONSource | undefined)?.setData(data);
}

/**
 * Each effect draws one part of the state and runs again when that part changes.
 * @param variable what this map's passes are coloured by
 */
export function followState(
  map: MapLibreMap,
  groundLayer: GroundLayer,
  variable: ReadonlySignal<ValueName | null>,
): (() => void)[] {
  let shownBounds: string | null = null;
  let wasChosen = false;
  return [
    effect(() => {
      const layers = state.layers.value;
      if (!layers) return;
      put(map, "boundary", layers.boundary ?? { type: "FeatureCollection", features: [] });
      put(map, "zones", zonesData(layers));
      put(map, "passes", layers.passLines);
      put(map, "counts", countsData(layers));
      put(map, "digs", layers.digs);
      const key = layers.bounds.join();
      if (key !== shownBounds)
        map.fitBounds(layers.bounds, { padding: fieldPadding(map.getContainer()), animate: false });
      shownBounds = key;
    }),
    effect(() => {
      const ground = state.mapGround.value;
      const layers = state.layers.value;
      const name = variable.value;
      const values = name && ground?.values[name];
      const scale = values && layers ? scaleOf(name, values, layers.targets) : null;
      const colours = values && scale ? colourColumn(scale, values, state.shownOnMap.value?.mask) : null;
      groundLayer.setGround(ground, colours);
    }),
    effect(() => {
      const findings = state.findings.value;
      put(map, "findings", findingsData(findings));
      put(map, "numbers", numbersData(findings));
    }),
    effect(() => {
      const chosen = state.selectedId.value;
      const pointed = state.hoveredId.value;
      for (const { finding, number } of state.findings.value) {
        const mark = { chosen: finding.id === chosen, pointed: finding.id === pointed };
        map.setFeatureState({ source: "findings", id: finding.id }, mark);
        map.setFeatureState({ source: "numbers", id: number }, mark);
      }
    }),
    effect(() => {
      const finding = findingLookedAt.value;
      const still = window.matchMedia("(prefers-reduced-motion: reduce)").matches;
      // No longer looking at one place: back to the whole field.
      if (finding || wasChosen) fitShown(map, still ? { animate: false } : { duration: 500 });
      wasChosen = finding !== null;
    }),
    effect(() => {
      const passes = state.shownPasses.value;
      map.setFilter(PASS_LAYER, passes && ["in", ["get", "pass"], ["literal", passes]]);
    }),
    effect(() => {
      map.setFilter(CHOSEN_PASS_LAYER, ["==", ["get", "pass"], state.selectedPass.value ?? -1]);
    }),
    effect(() => {
      const ground = state.ground.value;
      const piece = state.cursor.value;
      const place = ground && piece !== null ? positionOf(ground, piece) : state.shownPlace.value;
      put(map, "cursor", {
        type: "FeatureCollection",
        features: place
          ? [{ type: "Feature", properties: {}, geometry: { type: "Point", coordinates: place } }]
          : [],
      });
    }),
    effect(() => put(map, "measure", measureData(measuredPlaces.value))),
    effect(() => {
      map.getCanvas().style.cursor = measuring.value ? "crosshair" : "";
    }),
    effect(() => put(map, "here", hereData(here.value))),
    effect(() => {
      const field = state.layers.peek()?.bounds;
      if (state.wholeFieldAsked.value > 0 && field) {
        map.fitBounds(field, { padding: fieldPadding(map.getContainer()), animate: false });
      }
    }),
    effect(() => {
      const place = state.shownPlace.value;
      if (place) map.easeTo({ center: place, zoom: Math.max(map.getZoom(), 15.5), duration: 0 });
    }),
  ];
}
