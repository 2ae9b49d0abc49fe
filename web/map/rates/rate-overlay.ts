/** The loads on the page's map: ground by load, outlines with the numbers of the files, proof strips hatched. */
import { effect } from "@preact/signals";
import type { Feature, FeatureCollection } from "geojson";
import type { GeoJSONSource, LayerSpecification, Map as MapLibreMap } from "maplibre-gl";
import { labelPoint } from "../../model/geometry.ts";
import * as state from "../../model/prescription-state.ts";
import * as page from "../../model/state.ts";
import { FIRST_ABOVE_GROUND, MAP_FONT } from "../style.ts";
import { fileZones, type ShownGround, shownGround } from "./rate-map.ts";

const LOAD_LAYER = "load-ground";
const NONE: FeatureCollection = { type: "FeatureCollection", features: [] };
const INK = "#2b2419";
const PAPER = "#faf6ea";

/** Layers of the findings that step back while loads are shown: everything but soil, boundary and tools. */
const STEP_BACK = /^(planted-ground|pass-|finding-|counts$|digs$|number|cursor$)/;

const LAYERS: readonly { layer: LayerSpecification; below?: string }[] = [
  {
    layer: {
      id: LOAD_LAYER,
      type: "fill",
      source: "loads",
      paint: { "fill-color": ["get", "colour"], "fill-antialias": false },
    },
    below: FIRST_ABOVE_GROUND,
  },
  {
    layer: {
      id: "load-strips",
      type: "fill",
      source: "load-zones",
      filter: ["get", "proofStrip"],
      paint: { "fill-pattern": "proof-strip" },
    },
  },
  {
    layer: {
      id: "load-lines",
      type: "line",
      source: "load-zones",
      layout: { "line-join": "round" },
      paint: { "line-color": INK, "line-width": ["case", ["get", "chosen"], 3.4, 1.6] },
    },
  },
  {
    layer: {
      id: "load-discs",
      type: "circle",
      source: "load-labels",
      paint: {
        "circle-radius": ["case", ["get", "proofStrip"], 8, 11],
        "circle-color": PAPER,
        "circle-stroke-color": INK,
        "circle-stroke-width": 1.6,
      },
    },
  },
  {
    layer: {
      id: "load-numbers",
      type: "symbol",
      source: "load-labels",
      layout: {
        "text-field": ["get", "number"],
        "text-font": [MAP_FONT],
        "text-size": ["case", ["get", "proofStrip"], 11, 14],
        "text-allow-overlap": true,
        "text-ignore-placement": true,
      },
      paint: { "text-color": INK },
    },
  },
  {
    layer: {
      id: "load-said",
      type: "symbol",
      source: "load-labels",
      filter: ["!", ["get", "proofStrip"]],
      layout: {
        "text-field": ["get", "said"],
        "text-font": [MAP_FONT],
        "text-size": 15,
        "text-anchor": "top",
        "text-offset": [0, 0.9],
        "text-padding": 1,
      },
      paint: { "text-color": INK, "text-halo-color": PAPER, "text-halo-width": 2.2 },
    },
  },
];

/** @returns how to stop each part of it. */
export function followPrescription(map: MapLibreMap): (() => void)[] {
  map.addImage("proof-strip", hatchImage(), { pixelRatio: 2 });
  for (const source of ["loads", "load-zones", "load-labels"])
    map.addSource(source, { type: "geojson", data: NONE });
  for (const { layer, below } of LAYERS) map.addLayer(layer, below);
  const put = (source: string, data: FeatureCollection) =>
    (map.getSource(source) as GeoJSONSource | undefined)?.setData(data);
  map.on("click", (event) => {
    if (state.loadsShown.value) state.chosenZone.value = groundAt(map, event.point)?.zones[0] ?? null;
  });
  map.on("mousemove", (event) => {
    if (!state.loadsShown.value) return;
    const ground = groundAt(map, event.point);
    page.readout.value = ground
      ? `zone ${ground.number} \u00b7 ${ground.zones.join(", ")} \u00b7 ${state.mapMode.value}: ${ground.said}`
      : "";
  });
  return [
    effect(() => {
      const shown = state.loadsShown.value;
      for (const id of map.getLayersOrder()) {
        if (STEP_BACK.test(id)) map.setLayoutProperty(id, "visibility", shown ? "none" : "visible");
        if (id.startsWith("load-")) map.setLayoutProperty(id, "visibility", shown ? "visible" : "none");
      }
    }),
    effect(() => {
      const view = state.view.value;
      const layers = page.layers.value;
      if (!view || !layers || !state.loadsShown.value) return;
      const mode = state.mapMode.value;
      const ground = shownGround(view, layers, mode, page.unitSystem.value);
      const outlines = fileZones(view, page.unitSystem.value);
      put("loads", { type: "FeatureCollection", features: ground.flatMap(featuresOf) });
      put("load-zones", { type: "FeatureCollection", features: outlines.flatMap(featuresOf) });
      put("load-labels", {
        type: "FeatureCollection",
        features: ground.flatMap(labelOf),
      });
    }),
  ];
}

/** A zone's ground; one feature, since a choice concerns it as a whole. */
function featuresOf(ground: ShownGround): Feature[] {
  const { polygons, soilZones, number, proofStrip, colour, said } = ground;
  const chosen = state.chosenZone.value;
  const properties = {
    colour,
    proofStrip,
    said: proofStrip ? `${said}, proof strip` : said,
    number,
    zones: JSON.stringify(soilZones),
    chosen: chosen !== null && !proofStrip && soilZones.includes(chosen),
  };
  return [{ type: "Feature", properties, geometry: { type: "MultiPolygon", coordinates: polygons } }];
}

function labelOf({ polygons, number, said, proofStrip }: ShownGround): Feature[] {
  const place = labelPoint({ type: "MultiPolygon", coordinates: polygons });
  if (!place) return [];
  const properties = { number: String(number), said, proofStrip };
  return [{ type: "Feature", properties, geometry: { type: "Point", coordinates: place } }];
}

function groundAt(
  map: MapLibreMap,
  point: { x: number; y: number },
): { zones: string[]; said: string; number: string } | null {
  const found = map.queryRenderedFeatures([point.x, point.y], { layers: [LOAD_LAYER] })[0];
  if (!found) return null;
  const { zones, said, number } = found.properties;
  return { zones: JSON.parse(String(zones)) as string[], said: String(said), number: String(number) };
}

/** Side of the hatch's tile, CSS pixels. */
const HATCH = 8;

/** Strokes up to the right that join from tile to tile. */
function hatchImage(): ImageData {
  const size = HATCH * 2;
  const canvas = document.createElement("canvas");
  canvas.width = size;
  canvas.height = size;
  const context = canvas.getContext("2d", { willReadFrequently: true })!;
  for (const [colour, width] of [
    [PAPER, 5],
    [INK, 2.4],
  ] as const) {
    context.strokeStyle = colour;
    context.lineWidth = width;
    context.beginPath();
    for (const shift of [-size, 0, size]) {
      context.moveTo(shift - 2, size + 2);
      context.lineTo(shift + size + 2, -2);
    }
    context.stroke();
  }
  return context.getImageData(0, 0, size, size);
}
