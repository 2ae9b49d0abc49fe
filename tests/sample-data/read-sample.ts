/** Reads a made sample back with general-purpose libraries only. */
import { strFromU8, unzipSync } from "fflate";
import type { FeatureCollection, MultiPolygon, Point, Polygon } from "geojson";
import { open } from "shapefile";
import type { CountProperties } from "../../sample-data/counts.ts";

type Files = Record<string, Uint8Array>;

export interface LogRecord {
  longitude: number;
  latitude: number;
  TIME: string;
  ROW_UNIT: number;
  SPEED_MPH: number;
  HEADING: number;
  DEPTH_IN: number;
  FORCE_LBF: number;
  MARGIN_LBF: number;
  SINGUL_PCT: number;
  MISS_PCT: number;
  MULT_PCT: number;
  POP_AC: number;
}

export async function readLog(files: Files): Promise<LogRecord[]> {
  const parts = unzipSync(files["planting.zip"]!);
  const bytes = (name: string) => parts[name]!.slice().buffer as ArrayBuffer;
  const source = await open(bytes("planting.shp"), bytes("planting.dbf"));
  const records: LogRecord[] = [];
  for (let step = await source.read(); !step.done; step = await source.read()) {
    const [longitude, latitude] = (step.value.geometry as Point).coordinates;
    records.push({ ...step.value.properties, longitude, latitude } as LogRecord);
  }
  return records;
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
