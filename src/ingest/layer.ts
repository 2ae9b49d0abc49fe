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

/**
 * One file that is read piece by piece, for files too large to hold. `read` gives the bytes of
 * [offset, offset + length), which lie within the file; what it gives may be overwritten by the next call.
 */
export interface StreamedFile {
  name: string;
  /** Bytes in the file. */
  size: number;
  read(offset: number, length: number): Uint8Array;
}

/** A file of a layer, whole or read piece by piece. */
export type LayerFile = InputFile | StreamedFile;

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

/** Lines and multipoints come only where a reader was asked for anything at all: no job of ours works on them. */
export type LayerGeometry = "point" | "polygon" | "line" | "multipoint" | "none";

/** The records that came from one file of an archive (or one of several files): [begin, end). */
export interface LayerPart {
  /** Name of the file, in an archive with its folders. */
  name: string;
  begin: number;
  end: number;
}

export interface RawLayer {
  /** Name of the file as the user named it (the .zip where it came from one). */
  file: string;
  recordCount: number;
  geometry: LayerGeometry;
  /**
   * Position of each record in the layer's coordinate system: the point itself, for polygons the centroid of
   * the record's area, for lines and multipoints the mean of their positions. Length = recordCount; NaN where the record has no usable geometry.
   */
  x: Float64Array;
  y: Float64Array;
  /** For polygon layers, the polygons (one or more) of each record; null for other layers. */
  polygons: PolygonRings[][] | null;
  /** For lines the parts of each record, for multipoints one list of positions; left out for other layers. */
  paths?: [number, number][][][];
  columns: RawColumn[];
  /**
   * Number of each record in the file, 1-based, for messages; over several files counted through. Left out
   * where no record was dropped, so that record i is number i + 1.
   */
  fileRecord?: Int32Array;
  /**
   * Records in the file, those that were dropped (deleted, damaged, no feature) counted in. Left out where it
   * is recordCount.
   */
  recordsInFile?: number;
  /** Where the layer was put together from several files, which records are whose. Ascending, without gaps. */
  parts?: LayerPart[];
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
