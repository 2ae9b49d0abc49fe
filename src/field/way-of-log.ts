/** What the places of a log tell of its way, polygons and their sections with it: the same for guessing and for loading. */
import type { RawLayer } from "../ingest/layer.ts";
import type { Labels } from "../recognise/label-column.ts";
import { type WayHints, wayHints } from "../recognise/way-hints.ts";
import type { LocalFrame, LocalPolygon } from "../vocabulary/field.ts";
import { areaOfFootprint } from "./footprints.ts";
import { localPolygons } from "./local-polygons.ts";
import { sectionsByPosition } from "./order/sections-by-position.ts";

export interface WayOfLog extends WayHints {
  /** Ground of each record; null for a log of points. */
  ground: LocalPolygon[][] | null;
  /** Sections as the polygons lie; null where they do not tell. */
  sections: Labels | null;
}

/** Reads the way from positions in local metres, in the order of the file; where no column names sections, those of the polygons count. */
export function wayOfLog(layer: RawLayer, x: Float64Array, y: Float64Array, frame: LocalFrame): WayOfLog {
  const { hints, wayOver } = wayHints(x, y);
  const ground = layer.polygons === null ? null : localPolygons(layer, frame);
  const sections = ground && sectionsByPosition(x, y, Float64Array.from(ground, areaOfFootprint));
  return {
    hints,
    wayOver: (time, part) => wayOver(time, part ?? sections?.codes ?? null),
    ground,
    sections,
  };
}
