/** Point shapefiles as bytes: .shp, .shx, .dbf, .prj and .cpg in one flat zip. */
import { BoxAround, type ShapefileTable, zippedShapefile } from "../src/write/shapefile/shapefile-parts.ts";

export interface PointShapefile extends ShapefileTable {
  /** Positions in the units of `crs`, finite, one entry a record. */
  x: ArrayLike<number>;
  y: ArrayLike<number>;
}

const SHAPE_TYPE_POINT = 1;
const POINT_CONTENT_BYTES = 20;

/**
 * Zipped point shapefile. The same input gives the same bytes (every date in it is 1 January 1980).
 * @throws {RangeError} when the stem, a position, a field or the zone cannot be written as it stands.
 */
export function writePointShapefile(layer: PointShapefile): Uint8Array {
  const { x, y } = layer;
  if (x.length !== y.length) throw new RangeError(`${x.length} x positions but ${y.length} y positions`);
  const around = new BoxAround();
  for (let record = 0; record < x.length; record++) around.add(x[record]!, y[record]!, record);
  return zippedShapefile(layer, {
    type: SHAPE_TYPE_POINT,
    count: x.length,
    box: around.box,
    contentBytes: () => POINT_CONTENT_BYTES,
    writeContent: (record, view, at) => {
      view.setInt32(at, SHAPE_TYPE_POINT, true);
      view.setFloat64(at + 4, x[record]!, true);
      view.setFloat64(at + 12, y[record]!, true);
    },
  });
}
