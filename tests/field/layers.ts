/** Layers built in memory, as a reader would hand them on. */
import type { Note } from "../../src/errors.ts";
import type {
  CoordinateSystem,
  LayerGeometry,
  PolygonRings,
  RawColumn,
  RawLayer,
} from "../../src/ingest/layer.ts";
import type { InputReport } from "../../src/vocabulary/field.ts";

export const WGS84: CoordinateSystem = {
  basis: "standard",
  name: "WGS 84, degrees",
  definition: "EPSG:4326",
};

export type ColumnValues = ArrayLike<number> | readonly (string | null)[];

/** A column of numbers, or of text where any value is a string. */
export function column(name: string, values: ColumnValues): RawColumn {
  const list = Array.from(values as ArrayLike<number | string | null>);
  if (list.every((value) => typeof value === "number")) {
    return { kind: "number", name, values: Float64Array.from(list as number[]) };
  }
  const labels = [...new Set(list.filter((value) => value !== null))] as string[];
  const codes = Int32Array.from(list, (value) => (value === null ? -1 : labels.indexOf(value as string)));
  return { kind: "text", name, codes, labels };
}

export interface LayerParts {
  file?: string;
  geometry?: LayerGeometry;
  x?: ArrayLike<number>;
  y?: ArrayLike<number>;
  polygons?: PolygonRings[][];
  crs?: CoordinateSystem;
}

/** A layer with these columns; positions default to a line running north from the invented field's corner. */
export function layer(columns: Record<string, ColumnValues>, parts: LayerParts = {}): RawLayer {
  const built = Object.entries(columns).map(([name, values]) => column(name, values));
  const first = built[0];
  const recordCount =
    first === undefined ? 0 : first.kind === "number" ? first.values.length : first.codes.length;
  return {
    file: parts.file ?? "log.geojson",
    recordCount,
    recordsInFile: recordCount,
    geometry: parts.geometry ?? "point",
    x: Float64Array.from(parts.x ?? Array.from({ length: recordCount }, () => -93.6)),
    y: Float64Array.from(parts.y ?? Array.from({ length: recordCount }, (_, i) => 42 + i * 2.5e-5)),
    polygons: parts.polygons ?? null,
    columns: built,
    crs: parts.crs ?? WGS84,
    notes: [],
  };
}

/** Notes of a file but for the one that says its depth is taken as sensed. */
export const othersThanDepth = ({ notes }: InputReport): Note[] =>
  notes.filter(({ reason }) => !reason.includes("taken as sensed"));
