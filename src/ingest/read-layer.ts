/** The way in: the files the user named for one layer, to one layer. */
import { readCsv } from "./csv.ts";
import { readGeoJson } from "./geojson.ts";
import type { InputFile, RawLayer } from "./layer.ts";
import type { ReadOptions } from "./read-options.ts";
import { readShapefile } from "./shapefile-layer.ts";
import { findSource } from "./sources.ts";

/**
 * Reads one layer: GeoJSON (also .gz), CSV (also .gz), a shapefile as loose files, or a .zip holding one of
 * these. Trouble with single records is in the layer's notes.
 * @param files what the user named for this layer: one file, or the parts of one shapefile
 * @throws {FileUnusableError} when the layer cannot be used at all; the message names file, value and what
 * would be accepted.
 */
export async function readLayer(files: readonly InputFile[], options: ReadOptions): Promise<RawLayer> {
  const { source, file } = findSource(files, options.role);
  const settled: ReadOptions = {
    ...options,
    reader: options.reader ?? (options.role === "plantingLog" ? "fast" : "library"),
  };
  switch (source.kind) {
    case "geojson":
      return readGeoJson(source.bytes, file, settled);
    case "csv":
      return readCsv(source.bytes, file, settled);
    case "shapefile":
      return readShapefile(source.parts, file, settled);
  }
}
