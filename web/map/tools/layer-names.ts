/** The parts of the map a reader may leave out, and the layers of the style each stands for. */
import { effect } from "@preact/signals";
import type { Map as MapLibreMap } from "maplibre-gl";
import { loadsShown } from "../../model/prescription-state.ts";
import * as state from "../../model/state.ts";
import { GROUND_LAYER } from "../ground-layer.ts";

export const MAP_LAYERS = {
  soil: { title: "soilPatterns", layers: ["zone-tone", "zone-marks", "zone-line"] },
  planted: { title: "planted", layers: [GROUND_LAYER] },
  passes: { title: "lines", layers: ["pass-threads"] },
  findings: {
    title: "findings",
    layers: ["finding-area", "finding-casing", "finding-line", "number-disc", "number"],
  },
  counts: { title: "counts", layers: ["counts"] },
  digs: { title: "digs", layers: ["digs"] },
} as const satisfies Record<string, { title: string; layers: readonly string[] }>;

export type MapLayerName = keyof typeof MAP_LAYERS;
export const MAP_LAYER_NAMES = Object.keys(MAP_LAYERS) as MapLayerName[];

/** Those the field has something of. */
export function mapLayersAtHand(): MapLayerName[] {
  const layers = state.layers.value;
  if (!layers) return [];
  const has: Record<MapLayerName, boolean> = {
    soil: layers.zones.features.length > 0,
    planted: (state.ground.value?.count ?? 0) > 0,
    passes: layers.passLines.features.length > 0,
    findings: state.findings.value.length > 0,
    counts: layers.counts.features.length > 0,
    digs: layers.digs.features.length > 0,
  };
  return MAP_LAYER_NAMES.filter((name) => has[name]);
}

/**
 * Leaves out what the reader does not want. Comes after what draws the loads of the prescription, which steps other
 * layers back while it is shown and puts them forward again after.
 */
export function followLayers(map: MapLibreMap): (() => void)[] {
  return [
    effect(() => {
      const hidden = state.hiddenLayers.value;
      if (loadsShown.value) return;
      for (const name of MAP_LAYER_NAMES) {
        const visibility = hidden.has(name) ? "none" : "visible";
        for (const layer of MAP_LAYERS[name].layers) map.setLayoutProperty(layer, "visibility", visibility);
      }
    }),
  ];
}
