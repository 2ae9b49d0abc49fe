import type { Field, LocalFrame, LocalPolygon, PlantingLog } from "../../src/vocabulary/field.ts";
import type { LogVariable } from "../../src/vocabulary/variables.ts";

/** What a test has to say about a field; the rest is an empty, plain corn field. */
export interface FieldParts {
  x: ArrayLike<number>;
  y: ArrayLike<number>;
  values?: Partial<Record<LogVariable, ArrayLike<number>>>;
  /** Texts, one a record, null where missing. */
  labels?: Partial<Record<LogVariable, (string | null)[]>>;
  layout?: PlantingLog["layout"];
  hasClockTime?: boolean;
  boundary?: LocalPolygon[] | null;
  soilZones?: { name: string; rings: LocalPolygon }[];
  planter?: Partial<Field["planter"]>;
  targets?: Partial<Field["targets"]>;
}

/** A frame for tests that never look at longitude and latitude. */
const PLAIN_FRAME: LocalFrame = {
  epsg: 32615,
  originX: 0,
  originY: 0,
  toLocal: (longitude, latitude) => [longitude, latitude],
  toLonLat: (x, y) => [x, y],
};

/** Builds a field by hand, for tests of the stages behind the loading. */
export function buildField(parts: FieldParts): Field {
  const recordCount = parts.x.length;
  const zoneNames = [...new Set((parts.soilZones ?? []).map((zone) => zone.name))].sort();
  return {
    name: "Test field",
    season: 2026,
    crop: "corn",
    planted: null,
    plantedFrom: null,
    frame: PLAIN_FRAME,
    log: {
      recordCount,
      x: Float64Array.from(parts.x),
      y: Float64Array.from(parts.y),
      values: mapValues(parts.values ?? {}, (column) => Float64Array.from(column)),
      labels: mapValues(parts.labels ?? {}, codeTexts),
      depthSource: "sensed",
      fileRecord: Int32Array.from({ length: recordCount }, (_, index) => index + 1),
      hasClockTime: parts.hasClockTime ?? false,
      layout: parts.layout ?? "bar",
    },
    soilZones: parts.soilZones
      ? {
          names: zoneNames,
          polygons: parts.soilZones.map(({ name, rings }) => ({ zone: zoneNames.indexOf(name), rings })),
          texture: zoneNames.map(() => null),
          drainage: zoneNames.map(() => null),
        }
      : null,
    standCounts: null,
    digs: null,
    boundary: parts.boundary ?? null,
    weather: null,
    planter: {
      rowUnits: null,
      rowSpacingM: null,
      rowUnitWeightN: null,
      wheelTrackRows: [],
      depthSensedRows: null,
      loadSensedRows: null,
      wings: [],
      ...parts.planter,
    },
    targets: {
      seedingDepthMm: null,
      populationPerHa: null,
      downForceMarginN: null,
      speedMetresPerSecond: null,
      ...parts.targets,
    },
    prices: { grainPerBushel: null, expectedBushelPerAcre: null, seedPer1000: null, currency: "USD" },
    inputs: [],
  };
}

function codeTexts(texts: (string | null)[]): { codes: Int32Array; labels: string[] } {
  const labels = [...new Set(texts.filter((text) => text !== null))];
  return { codes: Int32Array.from(texts, (text) => (text === null ? -1 : labels.indexOf(text))), labels };
}

function mapValues<From, To>(
  columns: Partial<Record<LogVariable, From>>,
  change: (column: From) => To,
): Partial<Record<LogVariable, To>> {
  return Object.fromEntries(
    Object.entries(columns).map(([name, column]) => [name, change(column as From)]),
  ) as Partial<Record<LogVariable, To>>;
}
