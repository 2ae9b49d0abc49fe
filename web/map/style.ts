/**
 * The map's style: no tiles, no glyph server, nothing from outside. From below: paper, the soil's tone, the
 * planted ground (put in by the map view), the soil's marks in ink over it, threads, groups, spots, numbers.
 */
import fontUrl from "@fontsource/source-sans-3/files/source-sans-3-latin-600-normal.woff2?url";
import type { LayerSpecification, StyleSpecification } from "maplibre-gl";
import { ALL_GROUNDS, MARK_INK } from "../colours/soil-ground.ts";

export const MAP_FONT = "Source Sans 3";
const INK = "#2b2419";
const PAPER = "#faf6ea";
const PLUM = "#5b2a6e";

export const SOURCES = [
  "boundary",
  "zones",
  "passes",
  "findings",
  "numbers",
  "counts",
  "digs",
  "cursor",
  "measure",
  "here",
] as const;
export type SourceName = (typeof SOURCES)[number];

/** The planted ground goes under this layer. */
export const FIRST_ABOVE_GROUND = "zone-marks";
export const FINDING_AREA_LAYER = "finding-area";
export const FINDING_LINE_LAYER = "finding-line";
export const COUNT_LAYER = "counts";
export const DIG_LAYER = "digs";
export const PASS_LAYER = "pass-threads";
export const CHOSEN_PASS_LAYER = "pass-chosen";

const isChosen = ["boolean", ["feature-state", "chosen"], false] as never;
const isMarked = [
  "any",
  ["boolean", ["feature-state", "chosen"], false],
  ["boolean", ["feature-state", "pointed"], false],
] as never;
/** Single rows: their outlines are hairlines until they are chosen. */
const isThin = ["==", ["get", "thin"], 1] as never;

export function mapStyle(): StyleSpecification {
  return {
    version: 8,
    "font-faces": { [MAP_FONT]: new URL(fontUrl, document.baseURI).href },
    sources: Object.fromEntries(
      SOURCES.map((name) => [
        name,
        {
          type: "geojson",
          data: { type: "FeatureCollection", features: [] },
          ...(name === "findings" ? { promoteId: "id" } : {}),
        },
      ]),
    ),
    layers: [...groundLayers(), ...groupLayers(), ...spotLayers(), ...toolLayers()],
  } as StyleSpecification;
}

function byTexture(value: (ground: (typeof ALL_GROUNDS)[number]) => string): never {
  const cases = ALL_GROUNDS.filter((ground) => ground.key !== "unknown").flatMap((ground) => [
    ground.key,
    value(ground),
  ]);
  const rest = value(ALL_GROUNDS.find((ground) => ground.key === "unknown")!);
  return ["match", ["get", "ground"], ...cases, rest] as never;
}

function groundLayers(): LayerSpecification[] {
  return [
    { id: "paper", type: "background", paint: { "background-color": "#efe9da" } },
    { id: "field", type: "fill", source: "boundary", paint: { "fill-color": PAPER } },
    { id: "zone-tone", type: "fill", source: "zones", paint: { "fill-color": byTexture((g) => g.tone) } },
    {
      id: FIRST_ABOVE_GROUND,
      type: "fill",
      source: "zones",
      paint: { "fill-pattern": byTexture((g) => `soil-${g.key}`), "fill-opacity": 0.55 },
    },
    {
      id: "zone-line",
      type: "line",
      source: "zones",
      paint: { "line-color": MARK_INK, "line-width": 1, "line-dasharray": [4, 2], "line-opacity": 0.75 },
    },
    {
      id: PASS_LAYER,
      type: "line",
      source: "passes",
      paint: { "line-color": INK, "line-width": 0.6, "line-opacity": 0.32 },
    },
    {
      id: CHOSEN_PASS_LAYER,
      type: "line",
      source: "passes",
      filter: ["==", ["get", "pass"], -1],
      paint: { "line-color": INK, "line-width": 2.2, "line-dasharray": [1, 1.2] },
    },
    {
      id: "boundary",
      type: "line",
      source: "boundary",
      paint: { "line-color": INK, "line-width": 1.6 },
    },
  ];
}

function groupLayers(): LayerSpecification[] {
  return [
    {
      id: FINDING_AREA_LAYER,
      type: "fill",
      source: "findings",
      paint: { "fill-color": PLUM, "fill-opacity": ["case", isChosen, 0, isMarked, 0.14, 0] as never },
    },
    {
      id: "finding-casing",
      type: "line",
      source: "findings",
      layout: { "line-join": "round" },
      paint: {
        "line-color": PAPER,
        "line-width": ["case", isChosen, 6, 4.5] as never,
        "line-opacity": ["case", isThin, 0, 0.9] as never,
      },
    },
    {
      id: FINDING_LINE_LAYER,
      type: "line",
      source: "findings",
      layout: { "line-join": "round" },
      paint: {
        "line-color": ["case", isThin, PLUM, INK] as never,
        "line-width": ["case", isThin, ["case", isMarked, 1.6, 0.7], ["case", isChosen, 3.2, 1.9]] as never,
        "line-opacity": ["case", isThin, ["case", isMarked, 1, 0.4], 1] as never,
      },
    },
  ];
}

function spotLayers(): LayerSpecification[] {
  return [
    {
      id: COUNT_LAYER,
      type: "circle",
      source: "counts",
      paint: {
        "circle-radius": ["interpolate", ["linear"], ["zoom"], 13, 1.8, 15, 3.4, 18, 9],
        "circle-color": ["match", ["get", "short"], 0, PAPER, 1, "#c9a56a", 2, "#5c3a12", "#8f8a80"],
        "circle-stroke-color": INK,
        "circle-stroke-width": 1.1,
      },
    },
    {
      id: DIG_LAYER,
      type: "symbol",
      source: "digs",
      layout: {
        "icon-image": "dig",
        "icon-size": ["interpolate", ["linear"], ["zoom"], 13, 0.4, 15, 0.65, 18, 1.4],
        "icon-allow-overlap": true,
      },
    },
    {
      id: "number-disc",
      type: "circle",
      source: "numbers",
      paint: {
        "circle-radius": 11,
        "circle-color": ["case", isMarked, INK, PAPER] as never,
        "circle-stroke-color": INK,
        "circle-stroke-width": 1.8,
      },
    },
    {
      id: "number",
      type: "symbol",
      source: "numbers",
      layout: {
        "text-field": ["get", "number"],
        "text-font": [MAP_FONT],
        "text-size": 14,
        "text-allow-overlap": true,
        "text-ignore-placement": true,
      },
      paint: { "text-color": ["case", isMarked, PAPER, INK] as never },
    },
    {
      id: "cursor",
      type: "circle",
      source: "cursor",
      paint: {
        "circle-radius": 7,
        "circle-color": "rgba(0,0,0,0)",
        "circle-stroke-color": INK,
        "circle-stroke-width": 2.5,
      },
    },
  ];
}

/** A measured distance and the place of the device. */
function toolLayers(): LayerSpecification[] {
  return [
    {
      id: "here-within",
      type: "fill",
      source: "here",
      filter: ["==", ["geometry-type"], "Polygon"],
      paint: { "fill-color": PLUM, "fill-opacity": 0.16, "fill-outline-color": PLUM },
    },
    {
      id: "here",
      type: "circle",
      source: "here",
      filter: ["==", ["geometry-type"], "Point"],
      paint: {
        "circle-radius": 8,
        "circle-color": PLUM,
        "circle-stroke-color": PAPER,
        "circle-stroke-width": 3,
      },
    },
    {
      id: "measure-casing",
      type: "line",
      source: "measure",
      paint: { "line-color": PAPER, "line-width": 5 },
    },
    {
      id: "measure-line",
      type: "line",
      source: "measure",
      paint: { "line-color": PLUM, "line-width": 2.4 },
    },
    {
      id: "measure-points",
      type: "circle",
      source: "measure",
      filter: ["==", ["geometry-type"], "Point"],
      paint: {
        "circle-radius": 5,
        "circle-color": PAPER,
        "circle-stroke-color": PLUM,
        "circle-stroke-width": 2.4,
      },
    },
  ];
}
