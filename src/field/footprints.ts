/** Logs of polygons: the width and the way of each record from the ground it covers. */
import { doubledSignedArea } from "../ingest/rings.ts";
import type { LocalFrame, LocalPolygon, PlantingLog } from "./field.ts";
import type { LayerReading } from "./layer-reading.ts";
import { localPolygons } from "./local-polygons.ts";
import { travelDirections } from "./travel-direction.ts";

type Log = Pick<PlantingLog, "recordCount" | "x" | "y" | "values" | "labels">;

/**
 * Completes a log of footprints. The position is the middle of the polygon, so that a lateral offset is in it
 * already and is dropped. The width, where not logged, is the area over the distance; the distance, where not
 * logged, is how far the polygon reaches along the direction of travel. A log of points is left as it is.
 * @param kept record numbers, 0-based
 */
export function readFootprints(log: Log, reading: LayerReading, kept: Int32Array, frame: LocalFrame): void {
  const { layer, notes } = reading;
  if (layer.polygons === null) return;
  const { values } = log;
  if (values.lateralOffset) {
    delete values.lateralOffset;
    notes.add({
      reason: "is not added to the middle of the polygons, which lie where they were planted",
      effect: "left out",
      field: reading.found("lateralOffset")!.group.label,
      count: kept.length,
    });
  }
  if (values.swathWidth && values.distance) return;
  const polygons = localPolygons(layer, frame);
  const direction = values.distance ? null : travelDirections(log, frame);
  const distance =
    values.distance ??
    Float64Array.from(kept, (record, index) => reachAlong(polygons[record]!, direction![index]!));
  const width =
    values.swathWidth ??
    Float64Array.from(kept, (record, index) => areaOf(polygons[record]!) / (distance[index]! || Number.NaN));
  const found = [...(values.swathWidth ? [] : ["swath width"]), ...(values.distance ? [] : ["distance"])];
  values.distance = distance;
  values.swathWidth = width;
  notes.add({
    reason: `no ${found.join(" and no ")} in the log: taken from the area and the shape of each polygon`,
    effect: "converted",
    count: kept.length,
  });
}

/** Area of a record's ground, m2. */
function areaOf(polygons: readonly LocalPolygon[]): number {
  // Outer rings turn the one way and holes the other.
  return polygons.flat().reduce((sum, ring) => sum + doubledSignedArea(ring) / 2, 0);
}

/** How far polygons reach along a direction (radians clockwise from north), m; NaN where it is not known. */
function reachAlong(polygons: readonly LocalPolygon[], direction: number): number {
  const [sine, cosine] = [Math.sin(direction), Math.cos(direction)];
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const [x, y] of polygons.flat(2)) {
    const along = x * sine + y * cosine;
    if (along < least) least = along;
    if (along > most) most = along;
  }
  return most > least ? most - least : Number.NaN;
}
