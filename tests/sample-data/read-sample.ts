/** Reads a made sample back. */
import { strFromU8 } from "fflate";
import type { FeatureCollection, MultiPolygon, Point, Polygon } from "geojson";
import type { CountProperties } from "../../sample-data/counts.ts";
import { readLayer } from "../../src/ingest/index.ts";

type Files = Record<string, Uint8Array>;

const NUMBER_COLUMNS = [
  "ROW_UNIT",
  "SPEED_MPH",
  "HEADING",
  "DEPTH_IN",
  "FORCE_LBF",
  "MARGIN_LBF",
  "SINGUL_PCT",
  "MISS_PCT",
  "MULT_PCT",
  "POP_AC",
] as const;

export interface LogRecord extends Record<(typeof NUMBER_COLUMNS)[number], number> {
  longitude: number;
  latitude: number;
  TIME: string;
}

export async function readLog(files: Files): Promise<LogRecord[]> {
  const file = { name: "planting.zip", bytes: files["planting.zip"]! };
  const { x, y, columns, recordCount } = await readLayer([file], { role: "plantingLog", expect: "point" });
  const number = (name: string): Float64Array => {
    const column = columns.find((one) => one.name === name);
    if (column?.kind !== "number") throw new Error(`the log has no numbers called ${name}`);
    return column.values;
  };
  const time = columns.find((one) => one.name === "TIME");
  if (time?.kind !== "text") throw new Error("the log has no text called TIME");
  const numbers = NUMBER_COLUMNS.map((name) => [name, number(name)] as const);
  return Array.from({ length: recordCount }, (_, index) => {
    const record = { longitude: x[index]!, latitude: y[index]!, TIME: time.labels[time.codes[index]!]! };
    for (const [name, values] of numbers) Object.assign(record, { [name]: values[index] });
    return record as LogRecord;
  });
}

export const readCounts = (files: Files) =>
  JSON.parse(strFromU8(files["counts.geojson"]!)) as FeatureCollection<Point, CountProperties>;

export const readSoil = (files: Files) =>
  JSON.parse(strFromU8(files["soil.geojson"]!)) as FeatureCollection<
    Polygon | MultiPolygon,
    { texture: string }
  >;

export const readBoundary = (files: Files) =>
  JSON.parse(strFromU8(files["boundary.geojson"]!)) as FeatureCollection<Polygon>;

/** Rows of a CSV without quotes as records of text by column name. */
export function readCsv(files: Files, name: string): Record<string, string>[] {
  const [header, ...lines] = strFromU8(files[name]!).trimEnd().split("\n");
  const names = header!.split(",");
  return lines.map((line) => Object.fromEntries(line.split(",").map((cell, index) => [names[index], cell])));
}

/** Plants per acre of a count, from what the file says about it. */
export function plantsPerAcre({
  plants,
  rows_counted,
  row_length_m,
  row_spacing_in,
}: CountProperties): number {
  return (plants / (rows_counted * row_length_m * row_spacing_in * 0.0254)) * 4046.8564224;
}

export function mean(values: number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

export function standardDeviation(values: number[]): number {
  const middle = mean(values);
  return Math.sqrt(values.reduce((sum, value) => sum + (value - middle) ** 2, 0) / (values.length - 1));
}
