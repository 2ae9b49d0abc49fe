/**
 * What a map and a furrow strip need besides the findings document: boundary, soil zones, pass centre
 * lines, counts, digs and the cells as columns. The page gets it from its worker; the single-file report
 * carries it as a second block of JSON beside the findings, because a report has no log to read.
 */
import type { Feature, FeatureCollection, LineString, MultiPolygon, Point } from "geojson";
import type { Analysis } from "../findings/analysis.ts";
import { type CountProperties, countFeatures, type Position } from "../findings/count-features.ts";
import { simplifyLine } from "../numerics/coverage-grid.ts";
import { seededRandom } from "../numerics/random.ts";
import type { Passes } from "../passes/passes.ts";
import type { DrainageClass } from "../vocabulary/drainage.ts";
import type { Field, LocalFrame, LocalPolygon, Targets, TextureClass } from "../vocabulary/field.ts";
import type { PlantingVariable } from "../vocabulary/variables.ts";

export const MAP_LAYERS_SCHEMA = "evenstand/map-layers/1";

export interface ZoneProperties {
  /** Index into the zone names of the field. */
  zone: number;
  name: string;
  texture: TextureClass;
  drainage: DrainageClass;
}

export interface PassProperties {
  pass: number;
  /** Passes along the field edge: "end rows" on the page. */
  headland: boolean;
  date: string | null;
}

export interface DigProperties {
  dig: number;
  rowUnit: number;
  depthMm: number | null;
  smear: string | null;
  furrow: string | null;
  moisture: string | null;
  seedState: string | null;
}

/** Values a cell carries for the map and the strip: the planting variables' means, and three of spread. */
export type CellValueName = PlantingVariable | "depthSd" | "marginP10" | "noLoad";

/** One entry a cell; values in inside units, null where there is none. */
export interface CellColumns {
  /** Our pass number. */
  pass: number[];
  longitude: number[];
  latitude: number[];
  headingDeg: number[];
  /** Centre of the cell along its pass, and its length and width, m. */
  alongM: number[];
  lengthM: number[];
  widthM: number[];
  /** Soil zone index, -1 where none. */
  zone: number[];
  values: Partial<Record<CellValueName, (number | null)[]>>;
}

export interface MapLayers {
  schema: typeof MAP_LAYERS_SCHEMA;
  /** West, south, east, north, degrees WGS 84. */
  bounds: [number, number, number, number];
  zoneNames: string[];
  targets: Targets;
  rowUnits: number;
  boundary: FeatureCollection<MultiPolygon> | null;
  zones: FeatureCollection<MultiPolygon, ZoneProperties>;
  passLines: FeatureCollection<LineString, PassProperties>;
  counts: FeatureCollection<Point, CountProperties>;
  /** How many counts there are where only some of them stand in `counts`; left out where all do. */
  countsInAll?: number;
  digs: FeatureCollection<Point, DigProperties>;
  cells: CellColumns;
}

/** Layers of a loaded field that has not been analysed yet: no pass lines, no cells. */
export function fieldLayers(field: Field): MapLayers {
  const { frame } = field;
  const position = positionOf(field);
  return {
    schema: MAP_LAYERS_SCHEMA,
    bounds: boundsOf(field),
    zoneNames: field.soilZones?.names ?? [],
    targets: field.targets,
    rowUnits: field.planter.rowUnits ?? 0,
    boundary: field.boundary ? collection([multiPolygon(frame, field.boundary, {})]) : null,
    zones: collection(zoneFeatures(field)),
    passLines: collection([]),
    ...shownCounts(countFeatures(field, null, position)),
    digs: collection(digFeatures(field, position)),
    cells: emptyCells(),
  };
}

/** More counts than this are no longer told apart on a screen, and a table of them helps nobody (our judgement). */
const MOST_COUNTS_SHOWN = 4000;

/**
 * The counts as they are shown: where there are more than a screen can show, one by chance of every so many in the order of
 * the file, so that a grid of counts does not turn into stripes.
 */
function shownCounts(features: Feature<Point, CountProperties>[]): Pick<MapLayers, "counts" | "countsInAll"> {
  if (features.length <= MOST_COUNTS_SHOWN) return { counts: collection(features) };
  const every = Math.ceil(features.length / MOST_COUNTS_SHOWN);
  const random = seededRandom(1);
  const shown: typeof features = [];
  for (let from = 0; from < features.length; from += every)
    shown.push(features[from + Math.floor(random() * Math.min(every, features.length - from))]!);
  return {
    counts: collection(shown),
    countsInAll: features.length,
  };
}

function positionOf({ frame }: Field): Position {
  return (x, y) => rounded(frame.toLonLat(x, y));
}

/** Layers of an analysed field, with pass centre lines and cells. */
export function mapLayers(analysis: Analysis): MapLayers {
  const { field, passes } = analysis;
  return {
    ...fieldLayers(field),
    ...shownCounts(countFeatures(field, analysis.parts.causes.spots, positionOf(field))),
    rowUnits: passes.rowUnitCount,
    boundary: collection([multiPolygon(field.frame, analysis.outline, {})]),
    passLines: collection(passLineFeatures(field, passes)),
    cells: cellColumns(analysis),
  };
}

function emptyCells(): CellColumns {
  return {
    pass: [],
    longitude: [],
    latitude: [],
    headingDeg: [],
    alongM: [],
    lengthM: [],
    widthM: [],
    zone: [],
    values: {},
  };
}

function cellColumns(analysis: Analysis): CellColumns {
  const { cells, passes, field } = analysis;
  const columns = emptyCells();
  const pieces = new Map<number, number>();
  for (let i = 0; i < cells.count; i++) {
    const pass = cells.pass[i]!;
    pieces.set(pass, Math.max(pieces.get(pass) ?? 0, cells.piece[i]! + 1));
  }
  for (let i = 0; i < cells.count; i++) {
    const pass = cells.pass[i]!;
    const whole = passes.passes[pass - 1];
    const step = (whole?.lengthM ?? 0) / (pieces.get(pass) ?? 1);
    const width = whole && whole.lengthM > 0 ? whole.areaM2 / whole.lengthM : Math.sqrt(cells.areaM2[i]!);
    const [longitude, latitude] = rounded(field.frame.toLonLat(cells.x[i]!, cells.y[i]!));
    columns.pass.push(pass);
    columns.longitude.push(longitude);
    columns.latitude.push(latitude);
    columns.headingDeg.push(round(cells.headingDeg[i]!, 1));
    columns.alongM.push(round((cells.piece[i]! + 0.5) * step, 1));
    columns.lengthM.push(round(width > 0 ? cells.areaM2[i]! / width : step, 1));
    columns.widthM.push(round(width, 2));
    columns.zone.push(cells.zone[i]!);
  }
  for (const [name, values] of Object.entries(cells.mean)) {
    columns.values[name as PlantingVariable] = nullable(values);
  }
  if (cells.depthSdMm) columns.values.depthSd = nullable(cells.depthSdMm);
  if (cells.marginP10N) columns.values.marginP10 = nullable(cells.marginP10N);
  if (cells.noLoadShare) columns.values.noLoad = nullable(cells.noLoadShare);
  return columns;
}

function zoneFeatures(field: Field): Feature<MultiPolygon, ZoneProperties>[] {
  const zones = field.soilZones;
  if (!zones) return [];
  return zones.polygons.map(({ zone, rings }) =>
    multiPolygon(field.frame, [rings as unknown as LocalPolygon], {
      zone,
      name: zones.names[zone] ?? "",
      texture: zones.texture[zone] ?? null,
      drainage: zones.drainage[zone] ?? null,
    }),
  );
}

/** More moments than this, and lines of passes leave out what lies this near to them, m (our judgement: less than a row). */
const MOST_MOMENTS_DRAWN = 20_000;
const LINE_TOLERANCE_M = 0.1;

/** One line a pass: the mean position of the bar at each moment, in order along the pass. */
function passLineFeatures(field: Field, passes: Passes): Feature<LineString, PassProperties>[] {
  const { log, frame } = field;
  const sumX = new Float64Array(passes.momentCount);
  const sumY = new Float64Array(passes.momentCount);
  const along = new Float64Array(passes.momentCount);
  const records = new Int32Array(passes.momentCount);
  const passOfMoment = new Int32Array(passes.momentCount);
  for (let i = 0; i < log.recordCount; i++) {
    const pass = passes.passOf[i]!;
    const moment = passes.momentOf[i]!;
    if (pass === 0 || moment < 0) continue;
    const heading = (passes.headingDeg[i]! * Math.PI) / 180;
    const offset = passes.offsetM[i]! || 0;
    sumX[moment] = sumX[moment]! + log.x[i]! + offset * Math.cos(heading);
    sumY[moment] = sumY[moment]! + log.y[i]! - offset * Math.sin(heading);
    along[moment] = passes.alongM[i]!;
    records[moment] = records[moment]! + 1;
    passOfMoment[moment] = pass;
  }
  const momentsOfPass = new Map<number, number[]>();
  for (let k = 0; k < passes.momentCount; k++) {
    if (records[k] === 0) continue;
    const list = momentsOfPass.get(passOfMoment[k]!) ?? [];
    list.push(k);
    momentsOfPass.set(passOfMoment[k]!, list);
  }
  // On a long log most moments lie on the line between their neighbours: nobody sees them go.
  const drawn = (line: [number, number][]): [number, number][] =>
    passes.momentCount > MOST_MOMENTS_DRAWN ? simplifyLine(line, LINE_TOLERANCE_M) : line;
  const features: Feature<LineString, PassProperties>[] = [];
  for (const pass of passes.passes) {
    const moments = (momentsOfPass.get(pass.number) ?? []).sort((a, b) => along[a]! - along[b]!);
    if (moments.length < 2) continue;
    features.push({
      type: "Feature",
      properties: { pass: pass.number, headland: pass.headland, date: pass.date },
      geometry: {
        type: "LineString",
        coordinates: drawn(moments.map((k) => [sumX[k]! / records[k]!, sumY[k]! / records[k]!])).map(
          ([x, y]) => rounded(frame.toLonLat(x, y)),
        ),
      },
    });
  }
  return features;
}

function digFeatures(field: Field, position: Position): Feature<Point, DigProperties>[] {
  const digs = field.digs;
  if (!digs) return [];
  return Array.from({ length: digs.digCount }, (_, i) => ({
    type: "Feature",
    geometry: { type: "Point", coordinates: position(digs.x[i]!, digs.y[i]!) },
    properties: {
      dig: i + 1,
      rowUnit: digs.rowUnit[i] ?? 0,
      depthMm: finite(digs.depthMm[i], 1),
      smear: digs.smear[i] ?? null,
      furrow: digs.furrow[i] ?? null,
      moisture: digs.moisture[i] ?? null,
      seedState: digs.seedState[i] ?? null,
    },
  }));
}

function multiPolygon<P extends object>(
  frame: LocalFrame,
  polygons: LocalPolygon[],
  properties: P,
): Feature<MultiPolygon, P> {
  return {
    type: "Feature",
    properties,
    geometry: {
      type: "MultiPolygon",
      coordinates: polygons.map((rings) =>
        rings.map((ring) => ring.map(([x, y]) => rounded(frame.toLonLat(x, y)))),
      ),
    },
  };
}

function boundsOf(field: Field): [number, number, number, number] {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  const { x, y, recordCount } = field.log;
  for (let i = 0; i < recordCount; i++) {
    if (x[i]! < west) west = x[i]!;
    if (x[i]! > east) east = x[i]!;
    if (y[i]! < south) south = y[i]!;
    if (y[i]! > north) north = y[i]!;
  }
  const corners = [
    [west, south],
    [west, north],
    [east, south],
    [east, north],
  ].map(([cornerX, cornerY]) => rounded(field.frame.toLonLat(cornerX!, cornerY!)));
  const longitudes = corners.map((corner) => corner[0]);
  const latitudes = corners.map((corner) => corner[1]);
  return [Math.min(...longitudes), Math.min(...latitudes), Math.max(...longitudes), Math.max(...latitudes)];
}

function collection<T>(features: T[]): { type: "FeatureCollection"; features: T[] } {
  return { type: "FeatureCollection", features };
}

function nullable(values: Float64Array): (number | null)[] {
  return Array.from(values, (value) => (Number.isFinite(value) ? Number(value.toPrecision(5)) : null));
}

function finite(value: number | undefined, decimals: number): number | null {
  return value !== undefined && Number.isFinite(value) ? round(value, decimals) : null;
}

function round(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}

/** Seven decimals of a degree, about a centimetre (RFC 7946 advises no more than six or so). */
function rounded([longitude, latitude]: [number, number]): [number, number] {
  return [round(longitude, 7), round(latitude, 7)];
}
