/**
 * Rate zones in degrees of 7 decimals, one geometry for every file. Neighbours share their vertices, so these
 * round alike and no border opens. But a place may move across a line nearby by rounding: the rounded rings are laid
 * into one planar subdivision again, which mends what touches or crosses and leaves the rest as it is.
 */
import type { RateZone } from "../prescription/prescription.ts";
import type { LocalFrame } from "../vocabulary/field.ts";
import { facesBetween } from "./partition-faces.ts";
import type { Segment } from "./partition-noding.ts";
import { regionsOf, ringsOf } from "./partition-regions.ts";

type Ring = [number, number][];

export interface DegreeZone<Zone> {
  zone: Zone;
  /** [longitude, latitude] in whole 1e-7 degrees; outer ring counter-clockwise first, holes clockwise, closed. */
  rings: Ring[];
}

/** Steps to a degree; about a centimetre on the ground. */
const STEPS = 1e7;
/** A part a rounded neck cut off is left out below this area, square steps (about a square metre). */
const SPECK_STEPS = 1e4;

/** The zones of a prescription are laid once, however many files carry them. */
const laid = new WeakMap<readonly object[], { frame: object; zones: DegreeZone<object>[] }>();

/**
 * The zones' polygons in degrees, single parts without gap or overlap, in the order of the zones. A zone whose
 * narrow neck closes by rounding comes in two parts.
 */
export function zonesInDegrees<Zone extends Pick<RateZone, "polygon">>(
  zones: readonly Zone[],
  frame: Pick<LocalFrame, "toLonLat">,
): DegreeZone<Zone>[] {
  const known = laid.get(zones);
  if (known?.frame === frame) return known.zones as DegreeZone<Zone>[];
  const made = layInDegrees(zones, frame);
  laid.set(zones, { frame, zones: made });
  return made;
}

function layInDegrees<Zone extends Pick<RateZone, "polygon">>(
  zones: readonly Zone[],
  frame: Pick<LocalFrame, "toLonLat">,
): DegreeZone<Zone>[] {
  const placed = zones.map(({ polygon }) =>
    polygon.map((ring) =>
      ring.map(([x, y]): [number, number] => {
        const [longitude, latitude] = frame.toLonLat(x, y);
        return [Math.round(longitude * STEPS), Math.round(latitude * STEPS)];
      }),
    ),
  );
  let [minX, minY] = [Infinity, Infinity];
  for (const [x, y] of placed.flat(2)) {
    if (x < minX) minX = x;
    if (y < minY) minY = y;
  }
  const segments: Segment[] = [];
  for (const [zone, polygon] of placed.entries()) {
    for (const ring of polygon) {
      for (let k = 0; k + 1 < ring.length; k++) {
        const [[ax, ay], [bx, by]] = [ring[k]!, ring[k + 1]!];
        segments.push({ ax: ax - minX, ay: ay - minY, bx: bx - minX, by: by - minY, left: zone, right: -1 });
      }
    }
  }
  const faces = facesBetween(segments, zones.length);
  if (faces === null) throw new Error("the zones could not be laid on a lattice of 1e-7 degrees");
  // A face that no zone winds round is outside; one that several do (edges that changed places) goes to the first.
  const labels = new Int32Array(faces.faceCount).fill(-1);
  for (let face = 1; face < faces.faceCount; face++) {
    const winding = faces.winding.subarray(face * zones.length, (face + 1) * zones.length);
    if (winding.reduce((sum, times) => sum + times, 0) > 0) labels[face] = winding.findIndex((w) => w > 0);
  }
  const regions = regionsOf(faces, labels);
  const rings = ringsOf(faces, regions);
  const largest = new Map<number, number>();
  regions.label.forEach((zone, region) => {
    const area = regions.doubledArea[region]!;
    if (area > (largest.get(zone) ?? 0)) largest.set(zone, area);
  });
  return rings
    .map((polygon, region) => ({
      polygon,
      zone: regions.label[region]!,
      area: regions.doubledArea[region]! / 2,
    }))
    .filter(({ zone, area }) => area >= SPECK_STEPS || 2 * area === largest.get(zone))
    .sort((a, b) => a.zone - b.zone || b.area - a.area)
    .map(({ polygon, zone }) => ({
      zone: zones[zone]!,
      rings: polygon.map((ring) =>
        ring.map(([x, y]): [number, number] => [(x + minX) / STEPS, (y + minY) / STEPS]),
      ),
    }));
}
