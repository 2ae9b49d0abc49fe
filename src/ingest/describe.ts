/** What is in a layer, in figures: for people who want to look before they analyse. */
import { toLonLat } from "./crs/crs.ts";
import { type Extent, extentOf } from "./extent.ts";
import type { RawColumn, RawLayer } from "./layer.ts";

export interface ColumnDescription {
  name: string;
  kind: "number" | "text";
  /** Records without a value. */
  blank: number;
  /** Different values. */
  distinct: number;
  /** Smallest and largest number; null for text and for columns without any value. */
  minimum: number | null;
  maximum: number | null;
  /** The first few different values in file order, as text. */
  examples: string[];
}

export interface LayerDescription {
  file: string;
  recordCount: number;
  geometry: RawLayer["geometry"];
  /** Records with a usable position. */
  placed: number;
  crs: string;
  /** In the layer's own coordinates; null where nothing is placed. */
  extent: Extent | null;
  /** In WGS 84 degrees: x longitude, y latitude; from the corners of the extent. */
  extentDegrees: Extent | null;
  columns: ColumnDescription[];
}

const EXAMPLES = 3;

export function describeLayer(layer: RawLayer): LayerDescription {
  const extent = extentOf(layer.x, layer.y, layer.polygons);
  return {
    file: layer.file,
    recordCount: layer.recordCount,
    geometry: layer.geometry,
    placed: layer.x.reduce((count, x) => (Number.isNaN(x) ? count : count + 1), 0),
    crs: layer.crs.name,
    extent,
    extentDegrees: extent && extentInDegrees(extent, layer),
    columns: layer.columns.map(describeColumn),
  };
}

export function describeColumn(column: RawColumn): ColumnDescription {
  return column.kind === "number" ? describeNumbers(column.name, column.values) : describeTexts(column);
}

function describeNumbers(name: string, values: Float64Array): ColumnDescription {
  const distinct = new Set<number>();
  let blank = 0;
  let minimum = Infinity;
  let maximum = -Infinity;
  for (const value of values) {
    if (Number.isNaN(value)) {
      blank++;
      continue;
    }
    distinct.add(value);
    if (value < minimum) minimum = value;
    if (value > maximum) maximum = value;
  }
  const any = distinct.size > 0;
  return {
    name,
    kind: "number",
    blank,
    distinct: distinct.size,
    minimum: any ? minimum : null,
    maximum: any ? maximum : null,
    examples: firstOf(distinct),
  };
}

function describeTexts(column: Extract<RawColumn, { kind: "text" }>): ColumnDescription {
  const used = new Set<string>();
  let blank = 0;
  for (const code of column.codes) {
    if (code < 0) blank++;
    else used.add(column.labels[code]!);
  }
  return {
    name: column.name,
    kind: "text",
    blank,
    distinct: used.size,
    minimum: null,
    maximum: null,
    examples: firstOf(used),
  };
}

function firstOf(values: Set<number | string>): string[] {
  return [...values].slice(0, EXAMPLES).map(String);
}

function extentInDegrees(extent: Extent, layer: RawLayer): Extent | null {
  const convert = toLonLat(layer.crs);
  const corners = [
    convert(extent.minX, extent.minY),
    convert(extent.minX, extent.maxY),
    convert(extent.maxX, extent.minY),
    convert(extent.maxX, extent.maxY),
  ];
  return extentOf(
    Float64Array.from(corners, ([longitude]) => longitude),
    Float64Array.from(corners, ([, latitude]) => latitude),
  );
}
