/** The map's sources made from the layers and the document. */
import { circle } from "@turf/turf";
import type { Feature, FeatureCollection } from "geojson";
import type { MapLayers } from "../../src/report/map-layers.ts";
import { soilGround } from "../colours/soil-ground.ts";
import { labelPoint } from "../model/geometry.ts";
import type { Here } from "../model/locate.ts";
import type { NumberedFinding } from "../model/ranking.ts";

/** A spot this far below the usual stand is shown filled: two steps. Our judgement, for drawing only. */
export const SHORT_SHARES = [0.05, 0.12] as const;

export function zonesData(layers: MapLayers): FeatureCollection {
  return {
    type: "FeatureCollection",
    features: layers.zones.features.map((feature) => ({
      ...feature,
      properties: { ...feature.properties, ground: soilGround(feature.properties.texture).key },
    })),
  };
}

/** Group outlines; `thin` marks those of single rows, whose outlines are drawn lighter. */
export function findingsData(findings: readonly NumberedFinding[]): FeatureCollection {
  return {
    type: "FeatureCollection",
    features: findings
      .filter(({ finding }) => finding.where.geometry.coordinates.length > 0)
      .map(({ finding, number }) => ({
        type: "Feature",
        geometry: finding.where.geometry,
        properties: {
          id: finding.id,
          number: String(number),
          area: finding.where.areaHa,
          thin: finding.kind === "row-unit" ? 1 : 0,
        },
      })),
  };
}

export function numbersData(findings: readonly NumberedFinding[]): FeatureCollection {
  const features: Feature[] = [];
  for (const { finding, number } of findings) {
    const place = labelPoint(finding.where.geometry);
    if (!place) continue;
    features.push({
      type: "Feature",
      id: number,
      geometry: { type: "Point", coordinates: place },
      properties: { number: String(number), id: finding.id },
    });
  }
  return { type: "FeatureCollection", features };
}

/** Usual stand of the field: the median of its counts, plants/ha; null without counts. */
export function usualStand(layers: MapLayers): number | null {
  const stands = layers.counts.features
    .map((feature) => feature.properties.standPerHa)
    .filter((stand): stand is number => stand !== null)
    .sort((a, b) => a - b);
  return stands.length === 0 ? null : stands[Math.floor(stands.length / 2)]!;
}

export function countsData(layers: MapLayers): FeatureCollection {
  const usual = usualStand(layers);
  return {
    type: "FeatureCollection",
    features: layers.counts.features.map((feature) => {
      const stand = feature.properties.standPerHa;
      const missing = stand === null || usual === null ? null : 1 - stand / usual;
      const short =
        missing === null ? -1 : missing >= SHORT_SHARES[1] ? 2 : missing >= SHORT_SHARES[0] ? 1 : 0;
      return { ...feature, properties: { ...feature.properties, short } };
    }),
  };
}

/** Where the device is, with the circle it is good to. */
export function hereData(here: Here | null): FeatureCollection {
  if (!here) return { type: "FeatureCollection", features: [] };
  const middle: Feature = {
    type: "Feature",
    properties: {},
    geometry: { type: "Point", coordinates: here.place },
  };
  const within = circle(here.place, Math.max(here.accuracyM, 1), { units: "meters", steps: 48 });
  return { type: "FeatureCollection", features: [within, middle] };
}
