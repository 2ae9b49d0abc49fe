/** Small handles on layers for the tests. */
import { expect } from "vitest";
import { FileUnusableError } from "../../../src/errors.ts";
import { type InputFile, type RawLayer, type ReadOptions, readLayer } from "../../../src/ingest/index.ts";

export function textFile(name: string, text: string): InputFile {
  return { name, bytes: new TextEncoder().encode(text) };
}

export function jsonFile(value: unknown, name = "layer.geojson"): InputFile {
  return textFile(name, JSON.stringify(value));
}

/** Values of a column as plain JavaScript: numbers, texts, null where missing. */
export function valuesOf(layer: RawLayer, name: string): (number | string | null)[] {
  const column = layer.columns.find((candidate) => candidate.name === name);
  if (!column)
    throw new Error(`no column ${name} among ${layer.columns.map((candidate) => candidate.name).join(", ")}`);
  return column.kind === "number"
    ? Array.from(column.values, (value) => (Number.isNaN(value) ? null : value))
    : Array.from(column.codes, (code) => (code < 0 ? null : column.labels[code]!));
}

/** Everything but the notes, columns as plain values, for comparing what two readers made. */
export function contentOf(layer: RawLayer) {
  return {
    recordCount: layer.recordCount,
    geometry: layer.geometry,
    x: [...layer.x],
    y: [...layer.y],
    polygons: layer.polygons,
    crs: layer.crs,
    fileRecord: layer.fileRecord ? [...layer.fileRecord] : null,
    columns: layer.columns.map((column) => [column.name, column.kind, valuesOf(layer, column.name)]),
  };
}

/** The refusal a read ends with; fails where it does not end with one. */
export async function refusalOf(
  files: InputFile[],
  options: Partial<ReadOptions> = {},
): Promise<FileUnusableError> {
  let layer: RawLayer;
  try {
    layer = await readLayer(files, { role: "plantingLog", expect: "any", ...options });
  } catch (error) {
    expect(error).toBeInstanceOf(FileUnusableError);
    return error as FileUnusableError;
  }
  throw new Error(`read without a refusal: ${JSON.stringify(contentOf(layer)).slice(0, 300)}`);
}

export const READERS = ["fast", "library"] as const;
