/** Polygons of a layer in the field's frame: outer rings counter-clockwise, holes clockwise, all closed. */
import { placeInFrame } from "../ingest/crs/crs.ts";
import type { PolygonRings, RawLayer } from "../ingest/layer.ts";
import { doubledSignedArea } from "../ingest/rings.ts";
import type { LocalFrame, LocalPolygon } from "../vocabulary/field.ts";

type Ring = LocalPolygon[number];

/** The polygons of each record of a polygon layer; empty lists for records without usable geometry. */
export function localPolygons(layer: RawLayer, frame: LocalFrame): LocalPolygon[][] {
  if (layer.polygons === null || layer.crs.definition === null) return [];
  const place = placeInFrame(layer.crs, frame);
  return layer.polygons.map((record) =>
    record.map((rings) => localPolygon(rings, place)).filter((polygon) => polygon.length > 0),
  );
}

function localPolygon(rings: PolygonRings, place: (x: number, y: number) => [number, number]): LocalPolygon {
  const placed = rings.map((ring) => closed(ring.map(([x, y]) => place(x, y))));
  const outer = placed[0];
  if (outer === undefined || !isUsable(outer)) return [];
  return [
    turned(outer, true),
    ...placed
      .slice(1)
      .filter(isUsable)
      .map((hole) => turned(hole, false)),
  ];
}

function closed(ring: Ring): Ring {
  const first = ring[0];
  const last = ring.at(-1);
  if (first === undefined || last === undefined) return ring;
  return first[0] === last[0] && first[1] === last[1] ? ring : [...ring, [first[0], first[1]]];
}

function isUsable(ring: Ring): boolean {
  return (
    ring.length >= 4 &&
    ring.every(([x, y]) => Number.isFinite(x) && Number.isFinite(y)) &&
    doubledSignedArea(ring) !== 0
  );
}

function turned(ring: Ring, counterClockwise: boolean): Ring {
  return doubledSignedArea(ring) > 0 === counterClockwise ? ring : ring.toReversed();
}
