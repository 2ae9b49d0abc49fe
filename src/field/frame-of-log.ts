/** The metric frame of a field, by the positions of its log. */
import { NothingToAnalyseError } from "../errors.ts";
import { toLonLat, utmFrame } from "../ingest/crs.ts";
import type { RawLayer } from "../ingest/layer.ts";
import type { LocalFrame } from "./field.ts";
import { middleOfSample } from "./layer-reading.ts";

/**
 * The frame of the field: the UTM zone of the middle of the log's positions.
 * @throws {NothingToAnalyseError} when no record has one
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
  return utmFrame(longitude, latitude);
}
