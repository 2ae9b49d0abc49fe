/**
 * The report's data stand in three JSON blocks of its HTML: `<script type="application/json" id="findings">`,
 * the findings document, `id="map-layers"`, what the map and the strip draw (`MapLayers`), and `id="prescription"`
 * (`PrescriptionView`). They are empty in the template; whoever fills them writes `<` as `\u003c`. Without the
 * second the report has no map, without the third (or with null in it) no prescription.
 */
import type { FindingsDocument } from "../../src/findings/findings-document.ts";
import { MAP_LAYERS_SCHEMA, type MapLayers } from "../../src/report/map-layers.ts";
import type { PrescriptionView } from "../../src/report/prescription-view.ts";
import { boundsOf } from "./geometry.ts";

interface ReportData {
  document: FindingsDocument;
  layers: MapLayers;
  prescription: PrescriptionView | null;
}

/**
 * @param textOf text of the block of an id; null where there is none
 * @returns null for the unfilled template.
 * @throws {SyntaxError} where a block is not JSON
 */
export function reportData(textOf: (id: string) => string | null): ReportData | null {
  const block = <T>(id: string): T | null => {
    const text = textOf(id)?.trim();
    return text ? (JSON.parse(text) as T) : null;
  };
  const document = block<FindingsDocument>("findings");
  if (!document) return null;
  return {
    document,
    layers: block<MapLayers>("map-layers") ?? outlinesOnly(document),
    prescription: block<PrescriptionView>("prescription"),
  };
}

/** Finds the blocks in the text of a report, which is not made a page: nothing in it runs or is loaded. */
export function blocksOf(html: string): (id: string) => string | null {
  return (id) => {
    const opening = `<script type="application/json" id="${id}">`;
    const at = html.indexOf(opening);
    const end = at < 0 ? -1 : html.indexOf("</script>", at);
    return end < 0 ? null : html.slice(at + opening.length, end);
  };
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
