/**
 * The report's data stand in three JSON blocks of its HTML: `<script type="application/json" id="findings">`,
 * the findings document, `id="map-layers"`, what the map and the strip draw (`MapLayers`), and `id="prescription"`
 * (`PrescriptionView`). They are empty in the template; whoever fills them writes `<` as `\u003c`. Without the
 * second the report has no map, without the third (or with null in it) no prescription.
 */
import type { FindingsDocument } from "../../src/report/findings-document.ts";
import { MAP_LAYERS_SCHEMA, type MapLayers } from "../../src/report/map-layers.ts";
import type { PrescriptionView } from "../../src/report/prescription-view.ts";
import { boundsOf } from "../app/geometry.ts";

interface ReportData {
  document: FindingsDocument;
  layers: MapLayers;
  prescription: PrescriptionView | null;
}

/** @returns null for the unfilled template. */
export function reportData(page: Document): ReportData | null {
  const document = block<FindingsDocument>(page, "findings");
  if (!document) return null;
  return {
    document,
    layers: block<MapLayers>(page, "map-layers") ?? outlinesOnly(document),
    prescription: block<PrescriptionView>(page, "prescription"),
  };
}

function block<T>(page: Document, id: string): T | null {
  const text = page.getElementById(id)?.textContent?.trim();
  return text ? (JSON.parse(text) as T) : null;
}

/** Layers of a report that was given the findings alone: their outlines on plain paper. */
function outlinesOnly(document: FindingsDocument): MapLayers {
  const coordinates = document.findings.flatMap((finding) => finding.where.geometry.coordinates);
  const none = { type: "FeatureCollection" as const, features: [] };
  return {
    schema: MAP_LAYERS_SCHEMA,
    bounds: boundsOf({ type: "MultiPolygon", coordinates }) ?? [-1, -1, 1, 1],
    zoneNames: [],
    targets: {
      seedingDepthMm: null,
      populationPerHa: null,
      downForceMarginN: null,
      speedMetresPerSecond: null,
    },
    rowUnits: 0,
    boundary: null,
    zones: none,
    passLines: none,
    counts: none,
    digs: none,
    cells: {
      pass: [],
      longitude: [],
      latitude: [],
      headingDeg: [],
      alongM: [],
      lengthM: [],
      widthM: [],
      zone: [],
      values: {},
    },
  };
}
