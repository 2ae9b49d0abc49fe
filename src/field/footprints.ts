/** Logs of polygons: the width and the way of each record from the ground it covers. */
import { crossesItself, doubledSignedArea } from "../ingest/rings.ts";
import { median } from "../numerics/descriptive.ts";
import type { LayerReading } from "../recognise/layer-reading.ts";
import type { LocalFrame, LocalPolygon, PlantingLog } from "../vocabulary/field.ts";
import { travelDirections } from "./travel-direction.ts";

type Log = Pick<PlantingLog, "recordCount" | "x" | "y" | "values" | "labels" | "footprints">;

/** A logged width or way that differs by more than this from the polygons' own is noted (our judgement). */
const AGREES = 0.15;
/** Lines laid across a ring that crosses itself, to measure it. */
const LINES_ACROSS = 64;

/**
 * Completes a log of footprints. The position is the middle of the polygon, so that a lateral offset is in it
 * already and is dropped. Way and width are those of the polygon: how far it reaches along the direction of travel, and
 * its area over that.
 * @param kept record numbers, 0-based
 * @param ground polygons of every record of the layer
 */
export function readFootprints(
  log: Log,
  reading: LayerReading,
  kept: Int32Array,
  ground: readonly LocalPolygon[][],
  frame: LocalFrame,
): void {
  const { notes } = reading;
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
  const polygons = Array.from(kept, (record) => ground[record]!);
  const direction = travelDirections(log, frame);
  const distance = Float64Array.from(polygons, (own, index) => {
    const reach = reachAlong(own, direction[index]!);
    return Number.isNaN(reach) ? (values.distance?.[index] ?? Number.NaN) : reach;
  });
  const width = Float64Array.from(
    polygons,
    (own, index) => areaOfFootprint(own) / (distance[index]! || Number.NaN),
  );
  const { swathWidth, distance: logged } = values;
  // A swath of no width is a bar that is switched off, whatever ground its polygon shows.
  for (let index = 0; index < width.length; index++) if (swathWidth?.[index] === 0) width[index] = 0;
  noteDifference(reading, "swathWidth", swathWidth, width);
  noteDifference(reading, "distance", logged, distance);
  const missing = [...(swathWidth ? [] : ["swath width"]), ...(logged ? [] : ["distance"])];
  values.distance = distance;
  values.swathWidth = width;
  log.footprints = polygons;
  if (missing.length > 0) {
    notes.add({
      reason: `no ${missing.join(" and no ")} in the log: taken from the area and the shape of each polygon`,
      effect: "converted",
      count: kept.length,
    });
  }
}

/** Notes a column that says otherwise than the polygons, which are followed. */
function noteDifference(
  reading: LayerReading,
  variable: "swathWidth" | "distance",
  logged: Float64Array | undefined,
  own: Float64Array,
): void {
  if (!logged) return;
  const ratios = logged.map((value, index) => value / own[index]!).filter((ratio) => ratio > 0);
  if (ratios.length === 0) return;
  const ratio = median(ratios);
  if (Math.abs(ratio - 1) <= AGREES) return;
  reading.notes.add({
    reason: `is ${Number(ratio.toPrecision(2))} times ${variable === "distance" ? "the length" : "the width"} of the polygons; the polygons are followed`,
    effect: "assumed",
    field: reading.found(variable)!.group.label,
    count: logged.length,
  });
}

/** Area of a record's ground, m2; where a ring crosses itself the ground that its even-odd filling covers. */
export function areaOfFootprint(polygons: readonly LocalPolygon[]): number {
  // Outer rings turn the one way and holes the other.
  return polygons.reduce(
    (sum, rings) =>
      sum +
      (rings.some((ring) => crossesItself(ring) === true)
        ? evenOddArea(rings)
        : rings.reduce((area, ring) => area + doubledSignedArea(ring) / 2, 0)),
    0,
  );
}

/** Area by the lengths inside the rings of lines laid across them, m2. */
function evenOddArea(rings: LocalPolygon): number {
  const ys = rings.flat().map(([, y]) => y);
  const [low, high] = [Math.min(...ys), Math.max(...ys)];
  let inside = 0;
  for (let line = 0; line < LINES_ACROSS; line++) {
    const y = low + ((line + 0.5) / LINES_ACROSS) * (high - low);
    const crossings: number[] = [];
    for (const ring of rings) {
      for (let corner = 1; corner < ring.length; corner++) {
        const [[ax, ay], [bx, by]] = [ring[corner - 1]!, ring[corner]!];
        if (ay > y !== by > y) crossings.push(ax + ((y - ay) / (by - ay)) * (bx - ax));
      }
    }
    crossings.sort((a, b) => a - b);
    for (let pair = 1; pair < crossings.length; pair += 2) inside += crossings[pair]! - crossings[pair - 1]!;
  }
  return (inside * (high - low)) / LINES_ACROSS;
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
