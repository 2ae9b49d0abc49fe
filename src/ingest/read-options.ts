/** How one layer is to be read. */

/**
 * What the job needs of a layer's geometry. "table" needs none; "any" takes points or polygons; "anything"
 * takes lines, multipoints and layers without a record too, for looking at.
 */
export type ExpectedGeometry = "point" | "polygon" | "any" | "table" | "anything";

export interface ReadOptions {
  /** The part the layer plays for the user, e.g. "plantingLog"; named in messages. */
  role: string;
  /** Geometry the job needs; "table" needs none. */
  expect: ExpectedGeometry;
  /** Coordinate system from the manifest ("EPSG:32617", a proj string or WKT); overrides the file. */
  crs?: string | undefined;
  /** Columns of a table that hold the position, by name: longitude or easting, then latitude or northing. */
  position?: readonly [string, string] | undefined;
  /**
   * A place near the layer, WGS 84 degrees, from the other layers of the field. Where the layer does not name
   * its coordinate system, the message names the systems that put it there.
   */
  near?: { longitude: number; latitude: number } | undefined;
  /**
   * "fast": our own readers, straight into columns. "library": `shapefile` for shapes, and JSON.parse with
   * `geojson-validation` for GeoJSON. Both give the same layer. Default: fast for the planting log.
   */
  reader?: "fast" | "library" | undefined;
}
