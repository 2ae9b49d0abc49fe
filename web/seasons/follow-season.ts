/** The map of the other season: its own ground and places, in the colours of the first map. */
import { effect } from "@preact/signals";
import type { GeoJSONSource, Map as MapLibreMap } from "maplibre-gl";
import { colourColumn, scaleOf } from "../colours/colour-scale.ts";
import type { GroundLayer } from "../map/ground-layer.ts";
import { countsData, findingsData, numbersData, zonesData } from "../map/map-data.ts";
import { otherSeason } from "../model/other-season.ts";
import { numberedFindings } from "../model/ranking.ts";
import * as state from "../model/state.ts";

/** Each effect draws one part of the season and runs again when that part changes. */
export function followSeason(map: MapLibreMap, groundLayer: GroundLayer): (() => void)[] {
  const put = (name: string, data: GeoJSON.GeoJSON) =>
    (map.getSource(name) as GeoJSONSource | undefined)?.setData(data);
  return [
    effect(() => {
      const season = otherSeason.value;
      if (!season) return;
      const findings = numberedFindings(season.document);
      put("boundary", season.layers.boundary ?? { type: "FeatureCollection", features: [] });
      put("zones", zonesData(season.layers));
      put("passes", season.layers.passLines);
      put("counts", countsData(season.layers));
      put("digs", season.layers.digs);
      put("findings", findingsData(findings));
      put("numbers", numbersData(findings));
    }),
    effect(() => {
      const season = otherSeason.value;
      const name = state.variable.value;
      const own = name && state.mapGround.value?.values[name];
      const values = name && season?.ground.values[name];
      const targets = state.layers.value?.targets;
      const scale = name && own && targets ? scaleOf(name, own, targets) : null;
      groundLayer.setGround(season?.ground ?? null, values && scale ? colourColumn(scale, values) : null);
    }),
  ];
}
