/** The metric frame of a field, by the positions of its log. */
import { FileUnusableError, NothingToAnalyseError } from "../errors.ts";
import { toLonLat, utmFrame } from "../ingest/crs/crs.ts";
import { typicalExtent } from "../ingest/extent.ts";
import type { RawLayer } from "../ingest/layer.ts";
import { middleOfSample } from "../recognise/layer-reading.ts";
import type { LocalFrame } from "../vocabulary/field.ts";

/**
 * The frame of the field: the UTM zone of the middle of the log's positions.
 * @throws {NothingToAnalyseError} when no record has one
 * @throws {FileUnusableError} when the coordinate system puts them where nothing grows
 */
export function frameOf(layer: RawLayer): LocalFrame {
  if (!layer.x.some((value) => Number.isFinite(value))) {
    throw new NothingToAnalyseError(
      `${layer.file}: none of its ${layer.recordCount} records has a position`,
      {
        file: layer.file,
        accepted: "points or polygons",
      },
    );
  }
  const [longitude, latitude] = toLonLat(layer.crs)(middleOfSample(layer.x), middleOfSample(layer.y));
  if (!(Math.abs(latitude) <= FARTHEST_FIELD_LATITUDE) || !Number.isFinite(longitude)) {
    throw disagreeing(
      layer,
      `its middle would lie at longitude ${longitude.toFixed(3)}, latitude ${latitude.toFixed(3)}`,
    );
  }
  return utmFrame(longitude, latitude);
}

/**
 * @param x local metres
 * @param y local metres
 * @throws {FileUnusableError} where nearly all records lie within a step of each other: degrees taken for metres, or a wrong scale
 */
export function requireGround(layer: RawLayer, x: Float64Array, y: Float64Array): void {
  const extent = layer.recordCount < FEWEST_RECORDS ? null : typicalExtent(x, y);
  if (!extent) return;
  const reach = Math.max(extent.maxX - extent.minX, extent.maxY - extent.minY);
  if (reach > LEAST_GROUND_M) return;
  throw disagreeing(layer, `all its records would lie within ${reach.toFixed(2)} m`);
}

/** Nothing is planted beyond this latitude, degrees either side of the equator (from memory: the north of Norway). */
const FARTHEST_FIELD_LATITUDE = 72;
/** So many records within this have planted nothing, m (our judgement). */
const FEWEST_RECORDS = 50;
const LEAST_GROUND_M = 3;

function disagreeing(layer: RawLayer, why: string): FileUnusableError {
  const value = `${middleOfSample(layer.x)}, ${middleOfSample(layer.y)}`;
  const accepted = 'the system of the numbers as "crs" in the manifest, such as "EPSG:4326" for degrees';
  return new FileUnusableError(
    `${layer.file}: its numbers (such as ${value}) and its coordinate system (${layer.crs.name}) do not go together: ${why}; accepted is ${accepted}`,
    { file: layer.file, field: "crs", value, accepted },
  );
}
