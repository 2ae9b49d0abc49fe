/** From the outline, the borders between loads and the proof strips to regions that fill the outline. */
import type { LocalPolygon } from "../vocabulary/field.ts";
import { type Faces, facesBetween } from "./partition-faces.ts";
import { mergeRegions } from "./partition-merge.ts";
import type { Segment } from "./partition-noding.ts";
import { type LatticeRings, type Regions, ringsOf } from "./partition-regions.ts";

export interface PartitionLine {
  /** Local metres. */
  line: readonly (readonly [number, number])[];
  /** Load to the left and to the right, by number; -1 for none. */
  left: number;
  right: number;
}

export interface PartitionParts {
  outline: readonly LocalPolygon[];
  borders: readonly PartitionLine[];
  labelCount: number;
  /** Corners of each strip, counter-clockwise, not closed. */
  strips: readonly (readonly [number, number][])[];
  smallestAreaM2: number;
  mostPolygons: number;
}

export interface PartitionRegion {
  /** Number of the label, or `labelCount` + number of the strip. */
  label: number;
  areaM2: number;
  /** Local metres; outer ring counter-clockwise, holes clockwise, closed. */
  polygon: LocalPolygon;
}

export interface Partition {
  regions: PartitionRegion[];
  /** Ground inside the outline, m2. */
  areaM2: number;
  /** Specks of ground cut off by the outline itself and left out, m2. */
  leftOutM2: number;
  /** Ground that lies in more than one polygon of the outline, m2. */
  overlapM2: number;
}

/** A tenth of a millimetre: finer than any position is known, coarse enough for exact arithmetic over 6 km. */
const LATTICE_M = 0.0001;
/** A part of the field smaller than this is no ground to drive on (our judgement): a loop of a walked outline. */
const SPECK_M2 = 100;
/** Specks are left out as long as they are a smaller share of the field than this. */
const SPECK_SHARE = 5e-5;

/** Divides the outline into single-part regions that share their borders vertex by vertex and leave nothing out. */
export function partitionOf(parts: PartitionParts): Partition {
  for (let unitM = LATTICE_M; ; unitM *= 4) {
    const partition = attempt(parts, unitM);
    // A larger field, or lines that rounding does not bring to rest, get a coarser lattice.
    if (partition !== null) return partition;
    if (unitM > 1) throw new Error("the outline could not be laid on a lattice");
  }
}

function attempt(parts: PartitionParts, unitM: number): Partition | null {
  const { outline, borders, strips, labelCount } = parts;
  const groups = { strip: labelCount, outer: labelCount + strips.length, count: 0 };
  groups.count = groups.outer + 2 * outline.length;
  const lines: PartitionLine[] = [
    ...borders,
    ...strips.map((corners, i) => ({ line: [...corners, corners[0]!], left: groups.strip + i, right: -1 })),
    ...outline.flatMap((polygon, i) =>
      polygon.map((line, k) => ({ line, left: groups.outer + 2 * i + Math.min(k, 1), right: -1 })),
    ),
  ];
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { line } of lines) {
    for (const [x, y] of line) {
      if (x < minX) minX = x;
      if (y < minY) minY = y;
      if (x > maxX) maxX = x;
      if (y > maxY) maxY = y;
    }
  }
  if (!(Math.max(maxX - minX, maxY - minY) / unitM < 2 ** 26 - 2)) return null;
  const segments: Segment[] = [];
  for (const { line, left, right } of lines) {
    const points = line.map(([x, y]) => [Math.round((x - minX) / unitM), Math.round((y - minY) / unitM)]);
    for (let k = 0; k + 1 < points.length; k++) {
      const [[ax, ay], [bx, by]] = [points[k]!, points[k + 1]!];
      segments.push({ ax: ax!, ay: ay!, bx: bx!, by: by!, left, right });
    }
  }
  const faces = facesBetween(segments, groups.count);
  if (faces === null) return null;

  const { labels, fieldDoubled, overlapDoubled } = labelsOf(faces, groups, outline.length);
  const squareM = unitM * unitM;
  const regions = mergeRegions(faces, labels, {
    leastDoubledArea: (2 * parts.smallestAreaM2) / squareM,
    mostRegions: parts.mostPolygons,
    firstFixedLabel: labelCount,
  });
  const rings = ringsOf(faces, regions);
  const back = (polygon: LatticeRings): LocalPolygon =>
    polygon.map((ring) => ring.map(([x, y]) => [minX + x * unitM, minY + y * unitM]));
  const all = rings.map((polygon, region) => ({
    label: regions.label[region]!,
    areaM2: (regions.doubledArea[region]! / 2) * squareM,
    polygon: back(polygon),
  }));
  const areaM2 = (fieldDoubled / 2) * squareM;
  const specks = specksOf(all, regions, areaM2, Math.min(SPECK_M2, parts.smallestAreaM2));
  return {
    regions: all.filter((_, region) => !specks.has(region)),
    areaM2,
    leftOutM2: [...specks].reduce((sum, region) => sum + all[region]!.areaM2, 0),
    overlapM2: (overlapDoubled / 2) * squareM,
  };
}

/** Label of each face, -1 outside the field: inside an outer ring, however wound, and in none of its holes. */
function labelsOf(faces: Faces, groups: { strip: number; outer: number }, polygonCount: number) {
  const labels = new Int32Array(faces.faceCount).fill(-1);
  let fieldDoubled = 0;
  let overlapDoubled = 0;
  for (let face = 1; face < faces.faceCount; face++) {
    const winding = faces.winding.subarray(face * faces.groupCount, (face + 1) * faces.groupCount);
    let inside = 0;
    for (let polygon = 0; polygon < polygonCount; polygon++) {
      const outer = groups.outer + 2 * polygon;
      if (winding[outer] !== 0 && winding[outer + 1] === 0) inside++;
    }
    if (inside === 0) continue;
    const area = faces.doubledArea[face]!;
    fieldDoubled += area;
    if (inside > 1) overlapDoubled += area;
    let label = 0;
    for (let rate = 1; rate < groups.strip; rate++) if (winding[rate]! > winding[label]!) label = rate;
    for (let strip = groups.strip; strip < groups.outer; strip++) if (winding[strip] !== 0) label = strip;
    labels[face] = label;
  }
  return { labels, fieldDoubled, overlapDoubled };
}

/** Regions cut off by the outline that are specks, the smallest first while they do not add up. */
function specksOf(
  all: readonly PartitionRegion[],
  regions: Regions,
  areaM2: number,
  speckM2: number,
): Set<number> {
  const specks = new Set<number>();
  let left = SPECK_SHARE * areaM2;
  for (const region of Array.from({ length: regions.count }, (_, k) => k).sort(
    (a, b) => all[a]!.areaM2 - all[b]!.areaM2,
  )) {
    const { areaM2: area } = all[region]!;
    if (area >= speckM2 || area > left) break;
    specks.add(region);
    left -= area;
  }
  return specks;
}
