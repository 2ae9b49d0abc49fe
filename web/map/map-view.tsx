/** The map: soil as ground, passes as threads, groups outlined and numbered as in the ledger. */
import { effect } from "@preact/signals";
import {
  type GeoJSONSource,
  Map as MapLibreMap,
  type MapMouseEvent,
  NavigationControl,
  ScaleControl,
} from "maplibre-gl";
import "maplibre-gl/dist/maplibre-gl.css";
import { useEffect, useRef, useState } from "preact/hooks";
import { boundsOf } from "../app/geometry.ts";
import * as state from "../app/state.ts";
import { positionOf } from "../engine/ground.ts";
import { colourColumn, scaleOf } from "./colour-scale.ts";
import { GROUND_LAYER, GroundLayer } from "./ground-layer.ts";
import { Legend } from "./legend.tsx";
import { countsData, findingsData, numbersData, usualStand, zonesData } from "./map-data.ts";
import { mapSummary } from "./map-summary.ts";
import { nearestPiece } from "./nearest.ts";
import { countReadout, digReadout, groundReadout } from "./readout.ts";
import { ALL_GROUNDS, groundImage } from "./soil-ground.ts";
import {
  CHOSEN_PASS_LAYER,
  COUNT_LAYER,
  DIG_LAYER,
  FINDING_AREA_LAYER,
  FIRST_ABOVE_GROUND,
  mapStyle,
  type SourceName,
} from "./style.ts";

/** How near to a record the pointer has to be, metres. */
const REACH_M = 8;
/** The field fills the map up to this many pixels from its edge, and stays clear of the legend where there is room. */
const FIT_PADDING = 34;
const LEGEND_WIDTH = 262;
const LEGEND_HEIGHT = 140;
const ROOMY_WIDTH = 720;

function fieldPadding(container: HTMLElement) {
  const around = { top: FIT_PADDING, right: FIT_PADDING, bottom: FIT_PADDING, left: FIT_PADDING };
  if (container.clientWidth >= ROOMY_WIDTH) return { ...around, left: LEGEND_WIDTH };
  return { ...around, top: LEGEND_HEIGHT };
}

/** @param signsOpen the signs explained without a click, as on paper. */
export function MapView({ signsOpen = false }: { signsOpen?: boolean }) {
  const host = useRef<HTMLDivElement>(null);
  const picture = useRef<HTMLImageElement>(null);
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    if (!host.current || !picture.current) return undefined;
    try {
      return startMap(host.current, picture.current);
    } catch {
      // No WebGL 2 here: the ledger and the furrow do without it.
      setFailed(true);
      return undefined;
    }
  }, []);
  return (
    <section class="map-pane" aria-label="Map of the field">
      <div class="map-host" ref={host} />
      <img class="map-print" ref={picture} alt="The map as shown on the screen" />
      <p class={failed ? "no-map" : "visually-hidden"}>
        {failed && "This browser cannot draw the map (it offers no WebGL 2). "}
        {mapSummary()}
      </p>
      <Legend signsOpen={signsOpen} />
    </section>
  );
}

function startMap(container: HTMLDivElement, picture: HTMLImageElement): () => void {
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
    locale: { "Map.Title": "Field map. Arrow keys move it, plus and minus zoom." },
  });
  map.touchZoomRotate.disableRotation();
  map.keyboard.disableRotation();
  map.addControl(new NavigationControl({ showCompass: false }), "top-right");
  const scale = new ScaleControl();
  map.addControl(scale, "bottom-right");
  const errors: string[] = [];
  map.on("error", (event) => errors.push(String(event.error?.message ?? event.error)));
  // For tests and for a look behind the page from the browser's console.
  Object.assign(window, { evenstandMap: map, evenstandMapErrors: errors });
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
    stops.push(...followState(map, groundLayer));
    stops.push(effect(() => scale.setUnit(state.unitSystem.value === "farm" ? "imperial" : "metric")));
    listen(map);
    keepInView(map);
  });
  return () => {
    for (const stop of stops) stop();
    map.remove();
  };
}

function addImages(map: MapLibreMap): void {
  for (const ground of ALL_GROUNDS) {
    map.addImage(`soil-${ground.key}`, groundImage(ground), { pixelRatio: 2 });
  }
  map.addImage("dig", digImage(), { pixelRatio: 2 });
}

/** A small spade-cut: a triangle pointing down. */
function digImage(): ImageData {
  const canvas = document.createElement("canvas");
  canvas.width = 28;
  canvas.height = 28;
  const context = canvas.getContext("2d")!;
  context.beginPath();
  context.moveTo(3, 5);
  context.lineTo(25, 5);
  context.lineTo(14, 25);
  context.closePath();
  context.fillStyle = "#faf6ea";
  context.strokeStyle = "#2b2419";
  context.lineWidth = 3;
  context.fill();
  context.stroke();
  return context.getImageData(0, 0, 28, 28);
}

function put(map: MapLibreMap, name: SourceName, data: GeoJSON.GeoJSON): void {
  (map.getSource(name) as GeoJSONSource | undefined)?.setData(data);
}

/** Each effect draws one part of the state and runs again when that part changes. */
function followState(map: MapLibreMap, groundLayer: GroundLayer): (() => void)[] {
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
      const ground = state.ground.value;
      const layers = state.layers.value;
      const name = state.variable.value;
      const values = name && ground?.values[name];
      const colours = values && layers ? colourColumn(scaleOf(name, values, layers.targets), values) : null;
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
      const finding = state.selectedFinding.value;
      const field = state.layers.peek()?.bounds;
      const still = window.matchMedia("(prefers-reduced-motion: reduce)").matches;
      const motion = still ? { animate: false } : { duration: 500 };
      const bounds = finding && boundsOf(finding.where.geometry);
      const padding = fieldPadding(map.getContainer());
      if (bounds) {
        const wider = { ...padding, top: padding.top + 40, bottom: padding.bottom + 40 };
        map.fitBounds(bounds, { padding: wider, maxZoom: 16.4, ...motion });
      }
      // No longer looking at one place: back to the whole field.
      else if (wasChosen && field) {
        map.fitBounds(field, { padding, ...motion });
      }
      wasChosen = finding !== null;
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
    effect(() => {
      const place = state.shownPlace.value;
      if (place) map.easeTo({ center: place, zoom: Math.max(map.getZoom(), 15.5), duration: 0 });
    }),
  ];
}

/** A field that nobody has moved yet still fills the map when the map changes its size. */
function keepInView(map: MapLibreMap): void {
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

function listen(map: MapLibreMap): void {
  map.on("mousemove", (event) => pointAt(map, event));
  map.on("mouseout", () => {
    state.hoveredId.value = null;
    state.readout.value = "";
  });
  map.on("click", (event) => {
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
  map.getCanvas().style.cursor = spot || state.hoveredId.value ? "pointer" : "";
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
  return ground ? nearestPiece(ground, event.lngLat.lng, event.lngLat.lat, reach) : null;
}

/** Where groups lie over each other the smallest one is meant; a number counts as its group. */
function findingAt(map: MapLibreMap, event: MapMouseEvent): string | null {
  if (!map.getLayer(GROUND_LAYER)) return null;
  const found = map.queryRenderedFeatures(event.point, { layers: ["number-disc", FINDING_AREA_LAYER] });
  const number = found.find((feature) => feature.layer.id === "number-disc");
  const best = number ?? found.sort((a, b) => Number(a.properties.area) - Number(b.properties.area))[0];
  return best ? String(best.properties.id) : null;
}
