/** The way in: the files the user named for one layer, to one layer. */
import { FileUnusableError } from "../errors.ts";
import { findSources, type Source } from "./containers/sources.ts";
import { readCsv } from "./csv/csv.ts";
import { readGeoJson } from "./geojson/geojson.ts";
import type { LayerFile, RawLayer } from "./layer.ts";
import { mergeLayers } from "./merge-layers.ts";
import type { ReadOptions } from "./read-options.ts";

/**
 * Reads one layer: GeoJSON (also one feature a line), CSV, shapefiles as loose files, each also packed by gzip,
 * or a .zip holding these. Several files of one kind become one layer. Trouble with single records is in the
 * layer's notes.
 * @param files what the user named for this layer: one file, or several that belong together
 * @throws {FileUnusableError} when the layer cannot be used at all; the message names file, value and what
 * would be accepted.
 */
export async function readLayer(files: readonly LayerFile[], options: ReadOptions): Promise<RawLayer> {
  const { sources, file, notes } = findSources(files, options.role);
  const settled: ReadOptions = {
    ...options,
    reader: options.reader ?? (options.role === "plantingLog" ? "fast" : "library"),
  };
  const [only] = sources;
  if (sources.length === 1) {
    const layer = await readSource(only!, file, settled);
    return { ...layer, notes: [...notes.notes(), ...layer.notes] };
  }
  const layers: RawLayer[] = [];
  let refusal: FileUnusableError | null = null;
  for (const source of sources) {
    try {
      layers.push(await readSource(source, source.name, settled));
    } catch (error) {
      // Which system a file is in is the user's to say; what is damaged or empty can be done without.
      if (!(error instanceof FileUnusableError) || error.details.field === "crs") throw error;
      refusal ??= error;
      notes.add({
        reason: `one of ${sources.length} files is not used (${error.message})`,
        effect: "left out",
        value: source.name,
      });
    }
  }
  if (refusal !== null && layers.length === 0) throw refusal;
  const merged = mergeLayers(layers, file);
  return { ...merged, notes: [...notes.notes(), ...merged.notes] };
}

async function readSource(source: Source, file: string, options: ReadOptions): Promise<RawLayer> {
  switch (source.kind) {
    case "geojson":
      return readGeoJson(source.bytes, file, options);
    case "csv":
      return readCsv(source.bytes, file, options);
    case "shapefile": {
      // Only where there is one: its reader takes a tenth of a second to load.
      const { readShapefile } = await import("./shapefile/shapefile-layer.ts");
      return readShapefile(source.parts, file, options);
    }
  }
}
