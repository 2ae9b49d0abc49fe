/** The map layers beside the findings, as GeoJSON (RFC 7946: WGS 84 degrees, outer rings counter-clockwise). */
import type { Feature, FeatureCollection, MultiPolygon, Polygon } from "geojson";
import { zoneSharesText } from "../cells/zone-shares.ts";
import type { Analysis } from "../findings/analysis.ts";
import type { FindingsDocument } from "../findings/findings-document.ts";
import { signedArea } from "../numerics/coverage-grid.ts";
import type { CellColumns, MapLayers } from "./map-layers.ts";

/** Decimals of a degree: about a centimetre on the ground. */
const DECIMALS = 7;

export interface FindingProperties {
  id: string;
  kind: string;
  cause: string;
  title: string;
  place: string;
  basis: string;
  probability: number;
  areaHa: number;
  passes: number[];
  rowUnits: number[];
  soilZones: string[];
  deficitShare: number | null;
  moneyEstimate: number | null;
  moneyLow: number | null;
  moneyHigh: number | null;
  currency: string | null;
  whatToDo: string;
  caution: string;
}

/** findings.geojson: one feature a finding, in the order of findings.json. */
export function findingsGeoJson(
  document: FindingsDocument,
): FeatureCollection<MultiPolygon, FindingProperties> {
  const features = document.findings.map((finding): Feature<MultiPolygon, FindingProperties> => {
    const { money } = finding.loss;
    return {
      type: "Feature",
      id: finding.id,
      geometry: {
        type: "MultiPolygon",
        coordinates: finding.where.geometry.coordinates.map((rings) => woundRings(rings)),
      },
      properties: {
        id: finding.id,
        kind: finding.kind,
        cause: finding.cause,
        title: finding.words.title,
        place: finding.words.place,
        basis: finding.basis,
        probability: finding.probability,
        areaHa: finding.where.areaHa,
        passes: finding.where.passes,
        rowUnits: finding.where.rowUnits,
        soilZones: finding.where.soilZones,
        deficitShare: finding.stand.deficitShare?.estimate ?? null,
        moneyEstimate: money?.estimate ?? null,
        moneyLow: money?.low ?? null,
        moneyHigh: money?.high ?? null,
        currency: money?.currency ?? null,
        whatToDo: finding.remedy.text,
        caution: finding.words.caution,
      },
    };
  });
  return { type: "FeatureCollection", features };
}

/** The collection as text with one feature a line: readable, and small beside one number a line. */
export function geoJsonText(collection: FeatureCollection): string {
  const features = collection.features.map((feature) => JSON.stringify(feature)).join(",\n");
  return `{"type":"FeatureCollection","features":[\n${features}\n]}\n`;
}

/** Values of one cell: pass, piece along it, soil zone, and the columns of {@link CellColumns} with their units. */
export type CellProperties = Record<string, string | number | null>;

/** Property name with its unit of each value a cell may carry. */
const CELL_VALUE_NAMES: Record<string, string> = {
  seedingDepth: "seedingDepthMm",
  downForceMargin: "downForceMarginN",
  downForce: "downForceN",
  groundContact: "groundContactShare",
  singulation: "singulationShare",
  multiples: "multiplesShare",
  misses: "missesShare",
  population: "populationPerHa",
  spacingVariation: "spacingVariationShare",
  speed: "speedMetresPerSecond",
  depthSd: "depthSdMm",
  marginP10: "downForceMarginP10N",
  noLoad: "noLoadShare",
};

/** cells.geojson: every cell as the rectangle of ground it stands for. */
export function cellsGeoJson(
  analysis: Analysis,
  layers: MapLayers,
): FeatureCollection<Polygon, CellProperties> {
  const { cells, field } = analysis;
  const columns = layers.cells;
  const features: Feature<Polygon, CellProperties>[] = [];
  for (let i = 0; i < cells.count; i++) {
    const ring = rectangle(
      cells.x[i]!,
      cells.y[i]!,
      columns.headingDeg[i]!,
      columns.lengthM[i]!,
      columns.widthM[i]!,
    );
    features.push({
      type: "Feature",
      geometry: {
        type: "Polygon",
        coordinates: woundRings([ring.map(([x, y]) => field.frame.toLonLat(x, y))]),
      },
      properties: {
        pass: cells.pass[i]!,
        piece: cells.piece[i]! + 1,
        soilZone: layers.zoneNames[cells.zone[i]!] ?? null,
        soilZoneShares: cells.zoneShares ? zoneSharesText(cells.zoneShares, i, layers.zoneNames) : null,
        areaHa: Number((cells.areaM2[i]! / 10_000).toFixed(5)),
        records: cells.records[i]!,
        ...cellValues(columns, i),
      },
    });
  }
  return { type: "FeatureCollection", features };
}

function cellValues(columns: CellColumns, i: number): CellProperties {
  const values: CellProperties = {};
  for (const [name, column] of Object.entries(columns.values)) {
    values[CELL_VALUE_NAMES[name] ?? name] = column[i] ?? null;
  }
  return values;
}

/** Corners of a rectangle, local metres: `lengthM` along the heading (degrees clockwise from north), closed. */
function rectangle(
  x: number,
  y: number,
  headingDeg: number,
  lengthM: number,
  widthM: number,
): [number, number][] {
  const heading = (headingDeg * Math.PI) / 180;
  const [alongX, alongY] = [(Math.sin(heading) * lengthM) / 2, (Math.cos(heading) * lengthM) / 2];
  const [acrossX, acrossY] = [(Math.cos(heading) * widthM) / 2, (-Math.sin(heading) * widthM) / 2];
  return [
    [x - alongX - acrossX, y - alongY - acrossY],
    [x - alongX + acrossX, y - alongY + acrossY],
    [x + alongX + acrossX, y + alongY + acrossY],
    [x + alongX - acrossX, y + alongY - acrossY],
    [x - alongX - acrossX, y - alongY - acrossY],
  ];
}

/** Rings rounded and wound as RFC 7946, 3.1.6 asks: the outer one counter-clockwise, holes clockwise. */
function woundRings(rings: readonly (readonly (readonly number[])[])[]): number[][][] {
  return rings.map((ring, index) => {
    const rounded = ring.map(([x = 0, y = 0]): [number, number] => [
      Number(x.toFixed(DECIMALS)),
      Number(y.toFixed(DECIMALS)),
    ]);
    const counterClockwise = signedArea(rounded) > 0;
    return counterClockwise === (index === 0) ? rounded : rounded.reverse();
  });
}
