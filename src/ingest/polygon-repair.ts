/** Makes the rings of one record fit to use: closed, finite, long enough, wound the RFC 7946 way. */
import type { PolygonRings } from "./layer.ts";
import type { NoteBook } from "./note-book.ts";
import { crossesItself, doubledSignedArea, holesLieWithin, type Ring } from "./rings.ts";
import { shownJson } from "./values/shown-json.ts";

/** Larger numbers are no coordinates in any unit, and their areas would overflow. */
const FARTHEST = 1e12;

export interface RepairOptions {
  /** 1-based number of the record in the file. */
  record: number;
  /** False where the format itself winds outer rings clockwise, so that turning them is not worth a note. */
  noteWinding: boolean;
}

/**
 * The usable polygons of a record, outer rings counter-clockwise and holes clockwise (RFC 7946, 3.1.6).
 * What had to be mended or left out is noted. Returns [] where nothing usable is left. The input may be
 * anything a JSON file holds in the place of coordinates.
 */
export function repairPolygons(
  polygons: readonly unknown[],
  notes: NoteBook,
  options: RepairOptions,
): PolygonRings[] {
  const usable: PolygonRings[] = [];
  for (const candidate of polygons) {
    const rings = Array.isArray(candidate) ? candidate : [];
    const repaired: PolygonRings = [];
    for (const [index, ring] of rings.entries()) {
      const outer = index === 0;
      const mended = repairRing(ring, outer, notes, options);
      if (mended) repaired.push(mended);
      else if (outer) break;
    }
    if (repaired.length > 0) {
      usable.push(repaired);
      noteHolesOutside(repaired, notes, options.record);
    } else {
      notes.add({
        reason:
          "a polygon without a usable outer ring; four or more positions that enclose an area would be accepted",
        effect: "left out",
        record: options.record,
        value: shownJson(candidate),
      });
    }
  }
  return usable;
}

/** A hole that reaches out of its outer ring takes ground away that the polygon does not have. */
function noteHolesOutside(rings: PolygonRings, notes: NoteBook, record: number): void {
  const within = holesLieWithin(rings);
  if (within === true) return;
  notes.add({
    reason:
      within === false
        ? "a hole crosses its outer ring or lies outside of it; it is used as it stands, the area may be wrong"
        : "a polygon has holes of so many corners that it was not looked whether they lie inside; they are used as they stand",
    effect: "kept",
    record,
  });
}

function repairRing(
  candidate: unknown,
  outer: boolean,
  notes: NoteBook,
  options: RepairOptions,
): Ring | null {
  const { record } = options;
  if (!Array.isArray(candidate)) return null;
  const ring: Ring = [];
  let broken = 0;
  for (const position of candidate) {
    const [x, y] = Array.isArray(position) ? position : [];
    if (typeof x === "number" && typeof y === "number" && Math.abs(x) <= FARTHEST && Math.abs(y) <= FARTHEST)
      ring.push([x, y]);
    else broken++;
  }
  if (broken > 0) {
    notes.add({
      reason: "a ring has positions that are not two finite numbers, so the ring is not used",
      effect: "left out",
      record,
      value: shownJson(candidate),
    });
    return null;
  }
  const first = ring[0];
  const last = ring.at(-1);
  if (!first || !last) return null;
  const dimensions = [candidate[0], candidate.at(-1)].map((position) => (position as unknown[]).length);
  if (dimensions[0] !== dimensions[1]) {
    notes.add({
      reason:
        "the first and last positions of a ring differ in how many numbers they have; the first two are used",
      effect: "kept",
      record,
      value: `${dimensions[0]} and ${dimensions[1]} numbers`,
    });
  }
  if (first[0] !== last[0] || first[1] !== last[1]) {
    if (ring.length < 3) return null;
    ring.push([first[0], first[1]]);
    notes.add({
      reason: "a ring that does not end where it begins was closed",
      effect: "converted",
      record,
      value: `${last.join(" ")} to ${first.join(" ")}`,
    });
  }
  if (ring.length < 4) return null;
  const area = doubledSignedArea(ring);
  if (area === 0) {
    if (!outer) {
      notes.add({ reason: "a hole that encloses no area is not used", effect: "left out", record });
    }
    return null;
  }
  if (area > 0 !== outer) {
    ring.reverse();
    if (options.noteWinding) {
      notes.add({
        reason:
          "a ring runs the wrong way round (outer rings run counter-clockwise, holes clockwise); it was turned",
        effect: "converted",
        record,
      });
    }
  }
  const crossing = crossesItself(ring);
  if (crossing !== false) {
    notes.add({
      reason: crossing
        ? "a ring crosses itself; it is used as it stands, its area may be wrong"
        : "a ring has so many long edges that it was not looked through for crossings; it is used as it stands",
      effect: "kept",
      record,
    });
  }
  return ring;
}
