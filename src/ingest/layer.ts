/**
 * A layer as read from a file: columns and positions, before anyone knows what a column means.
 * Hot data are typed arrays; one entry a record, in file order.
 */
import type { Note } from "../errors.ts";

/** One file as bytes under the name the user gave it. Folder parts are kept with forward slashes. */
export interface InputFile {
  name: string;
  bytes: Uint8Array;
}

/** Numbers; NaN where the file has none (blank, null, asterisks, not a number). */
export interface NumberColumn {
  kind: "number";
  name: string;
  /** Length = recordCount. */
  values: Float64Array;
}

/** Text, coded: `labels[codes[i]]`; code -1 where the file has none. Dates and times stay text here. */
export interface TextColumn {
  kind: "text";
  name: string;
  /** Length = recordCount. */
  codes: Int32Array;
  labels: string[];
}

export type RawColumn = NumberColumn | TextColumn;

/** Rings of one polygon, first the outer one; each ring a closed list of [x, y]. */
export type PolygonRings = [number, number][][];

export type LayerGeometry = "point" | "polygon" | "none";

export interface RawLayer {
  /** Name of the file as the user named it (the .zip where it came from one). */
  file: string;
  recordCount: number;
  geometry: LayerGeometry;
  /**
   * Position of each record in the layer's coordinate system: the point itself, or for polygons the
   * centroid of the record's area. Length = recordCount; NaN where the record has no usable geometry.
   */
  x: Float64Array;
  y: Float64Array;
  /** For polygon layers, the polygons (one or more) of each record; null for other layers. */
  polygons: PolygonRings[][] | null;
  columns: RawColumn[];
  /**
   * Number of each record in the file, 1-based, for messages. Left out where no record was dropped,
   * so that record i is number i + 1.
   */
  fileRecord?: Int32Array;
  /** What the coordinates are in. */
  crs: CoordinateSystem;
  notes: Note[];
}

export interface CoordinateSystem {
  /** How it is known: from the file, from the range of the numbers, from the manifest, or by the format's standard. */
  basis: "file" | "range" | "manifest" | "standard";
  /** Text for people, e.g. "WGS 84, degrees" or "WGS_1984_UTM_Zone_17N". */
  name: string;
  /** A definition proj4 understands: "EPSG:4326", a proj string or WKT. Null for a layer without positions. */
  definition: string | null;
}
