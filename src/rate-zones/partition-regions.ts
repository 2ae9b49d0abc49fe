/** Faces with one label put together: connected regions, their borders with each other, and their rings. */
import { doubledSignedArea } from "../ingest/rings.ts";
import type { Faces } from "./partition-faces.ts";

/** A region's rings in lattice units: the outer one counter-clockwise first, then holes clockwise; closed. */
export type LatticeRings = [number, number][][];

export interface Regions {
  /** Region of each face, -1 for ground that belongs to none. */
  ofFace: Int32Array;
  count: number;
  /** Label of each region. */
  label: number[];
  /** Twice the area of each region, square lattice units. */
  doubledArea: number[];
}

/** Connected regions (across edges, not corners) of faces with the same label; label -1 is no region. */
export function regionsOf(faces: Faces, labelOfFace: Int32Array): Regions {
  const parent = Int32Array.from({ length: faces.faceCount }, (_, face) => face);
  const root = (face: number): number => {
    while (parent[face] !== face) face = parent[face] = parent[parent[face]!]!;
    return face;
  };
  for (let h = 0; h < faces.face.length; h += 2) {
    const [a, b] = [faces.face[h]!, faces.face[h + 1]!];
    if (labelOfFace[a]! >= 0 && labelOfFace[a] === labelOfFace[b]) parent[root(a)] = root(b);
  }
  const ofFace = new Int32Array(faces.faceCount).fill(-1);
  const ofRoot = new Map<number, number>();
  const label: number[] = [];
  const doubledArea: number[] = [];
  for (let face = 1; face < faces.faceCount; face++) {
    if (labelOfFace[face]! < 0) continue;
    const top = root(face);
    let region = ofRoot.get(top);
    if (region === undefined) {
      region = label.length;
      ofRoot.set(top, region);
      label.push(labelOfFace[face]!);
      doubledArea.push(0);
    }
    ofFace[face] = region;
    doubledArea[region]! += faces.doubledArea[face]!;
  }
  return { ofFace, count: label.length, label, doubledArea };
}

/** Length of border between neighbouring regions, lattice units, by region. */
export function bordersOf(faces: Faces, regions: Regions): Map<number, number>[] {
  const borders: Map<number, number>[] = Array.from({ length: regions.count }, () => new Map());
  for (let h = 0; h < faces.face.length; h++) {
    const here = regions.ofFace[faces.face[h]!]!;
    const there = regions.ofFace[faces.face[h ^ 1]!]!;
    if (here < 0 || there < 0 || here === there) continue;
    const [a, b] = [faces.origin[h]!, faces.origin[h ^ 1]!];
    const length = Math.hypot(faces.x[a]! - faces.x[b]!, faces.y[a]! - faces.y[b]!);
    borders[here]!.set(there, (borders[here]!.get(there) ?? 0) + length);
  }
  return borders;
}

/**
 * Rings of every region. No ring passes a place twice: where ground touches itself at a corner the ring is
 * split there, which leaves an outer ring and holes that touch at points, as the Simple Features standard allows.
 */
export function ringsOf(faces: Faces, regions: Regions): LatticeRings[] {
  const outers: LatticeRings[] = Array.from({ length: regions.count }, () => []);
  const holes: LatticeRings[] = Array.from({ length: regions.count }, () => []);
  const regionAt = (h: number): number => regions.ofFace[faces.face[h]!]!;
  const done = new Uint8Array(faces.face.length);
  for (let start = 0; start < faces.face.length; start++) {
    const region = regionAt(start);
    if (done[start] || region < 0 || regionAt(start ^ 1) === region) continue;
    const vertices: number[] = [];
    for (let h = start; !done[h]; ) {
      done[h] = 1;
      vertices.push(faces.origin[h]!);
      h = faces.next[h]!;
      while (regionAt(h ^ 1) === region) h = faces.next[h ^ 1]!;
    }
    for (const loop of simpleLoops(vertices)) {
      const ring = loop.map((vertex): [number, number] => [faces.x[vertex]!, faces.y[vertex]!]);
      ring.push([...ring[0]!]);
      (doubledSignedArea(ring) > 0 ? outers : holes)[region]!.push(ring);
    }
  }
  return outers.map((list, region) => [...list, ...holes[region]!]);
}

/** A closed walk over vertices taken apart where it comes back to one. */
function simpleLoops(vertices: readonly number[]): number[][] {
  const loops: number[][] = [];
  const path: number[] = [];
  const place = new Map<number, number>();
  for (const vertex of vertices) {
    const before = place.get(vertex);
    if (before !== undefined) {
      const loop = path.splice(before);
      for (const gone of loop) place.delete(gone);
      loops.push(loop);
    }
    place.set(vertex, path.length);
    path.push(vertex);
  }
  loops.push(path);
  return loops.filter((loop) => loop.length >= 3);
}
