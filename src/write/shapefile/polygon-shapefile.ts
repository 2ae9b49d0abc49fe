/** Polygon shapefiles as bytes: .shp, .shx, .dbf, .prj and .cpg in one flat zip. */
import { doubledSignedArea } from "../../ingest/rings.ts";
import { BoxAround, type ShapefileTable, zippedShapefile } from "./shapefile-parts.ts";

type Ring = [number, number][];

export interface PolygonShapefile extends ShapefileTable {
  /** One polygon a record in the units of `crs`: outer ring, then holes; closed, wound either way. */
  polygons: readonly (readonly Ring[])[];
}

const SHAPE_TYPE_POLYGON = 5;
/** Shape type, box, number of rings and number of positions. */
const FIXED_CONTENT_BYTES = 44;

/**
 * Zipped polygon shapefile. Outer rings are written clockwise and holes counter-clockwise, as the format asks.
 * The same input gives the same bytes (every date in it is 1 January 1980).
 * @throws {RangeError} when the stem, a ring, a field or the zone cannot be written as it stands.
 */
export function writePolygonShapefile(layer: PolygonShapefile): Uint8Array {
  const around = new BoxAround();
  const records = layer.polygons.map((rings, record) => {
    if (rings.length === 0) throw new RangeError(`record ${record + 1} has no ring`);
    const own = new BoxAround();
    const wound = rings.map((ring, index) => {
      for (const [x, y] of ring) {
        around.add(x, y, record);
        own.add(x, y, record);
      }
      return woundRing(ring, index === 0, record);
    });
    const positions = wound.reduce((sum, ring) => sum + ring.length, 0);
    return { box: own.box, rings: wound, positions };
  });
  return zippedShapefile(layer, {
    type: SHAPE_TYPE_POLYGON,
    count: records.length,
    box: around.box,
    contentBytes: (record) => {
      const { rings, positions } = records[record]!;
      return FIXED_CONTENT_BYTES + 4 * rings.length + 16 * positions;
    },
    writeContent: (record, view, at) => {
      const { box, rings, positions } = records[record]!;
      view.setInt32(at, SHAPE_TYPE_POLYGON, true);
      box.forEach((value, index) => {
        view.setFloat64(at + 4 + 8 * index, value, true);
      });
      view.setInt32(at + 36, rings.length, true);
      view.setInt32(at + 40, positions, true);
      let written = 0;
      for (const [index, ring] of rings.entries()) {
        view.setInt32(at + FIXED_CONTENT_BYTES + 4 * index, written, true);
        for (const [x, y] of ring) {
          const place = at + FIXED_CONTENT_BYTES + 4 * rings.length + 16 * written;
          view.setFloat64(place, x, true);
          view.setFloat64(place + 8, y, true);
          written++;
        }
      }
    },
  });
}

function woundRing(ring: Ring, outer: boolean, record: number): Ring {
  const first = ring[0];
  const last = ring.at(-1);
  if (ring.length < 4 || first?.[0] !== last?.[0] || first?.[1] !== last?.[1]) {
    throw new RangeError(
      `a ring of record ${record + 1} is not closed or has fewer than 4 positions (${ring.length})`,
    );
  }
  const area = doubledSignedArea(ring);
  if (area === 0) throw new RangeError(`a ring of record ${record + 1} encloses no area`);
  return area < 0 === outer ? ring : ring.toReversed();
}
