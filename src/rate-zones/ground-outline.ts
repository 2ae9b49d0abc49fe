/** The outline made sound: rings that cross themselves or each other become polygons that do not. */
import type { Note, NoteEffect } from "../errors.ts";
import { crossesItself } from "../ingest/rings.ts";
import { simplifyLine } from "../numerics/coverage-grid.ts";
import type { LocalPolygon } from "../vocabulary/field.ts";
import { type Partition, partitionOf } from "./partition-outline.ts";

/** Overlap of the outline's polygons that is worth a note, m2. */
const WORTH_TELLING_M2 = 1;

/**
 * Polygons of the ground the outline goes round, each once. An outline without crossings is left as it is,
 * coordinate by coordinate. Empty where nothing is gone round.
 */
export function soundOutline(outline: readonly LocalPolygon[]): { outline: LocalPolygon[]; notes: Note[] } {
  const polygons = outline.filter((polygon) => polygon.length > 0);
  const crossing = polygons.flat().filter((ring) => crossesItself(ring) !== false).length;
  if (polygons.length === 0) return { outline: [], notes: [] };
  const partition = partitionOf({
    outline: polygons,
    borders: [],
    labelCount: 1,
    strips: [],
    smallestAreaM2: 0,
    mostPolygons: Number.POSITIVE_INFINITY,
  });
  const notes: Note[] = [];
  if (crossing > 0)
    notes.push(
      noteOf(
        "the boundary crosses itself; all ground it goes round counts as the field, once",
        "converted",
        crossing,
      ),
    );
  if (partition.overlapM2 > WORTH_TELLING_M2)
    notes.push(
      noteOf(
        `${Math.round(partition.overlapM2)} m2 lie in more than one polygon of the boundary; they count once`,
        "converted",
        1,
      ),
    );
  const regions = partition.regions.map((region) => region.polygon);
  const corners = (of: readonly LocalPolygon[]): string =>
    of.map((polygon) => polygon.map((ring) => ring.length).join()).join(" ");
  // Corner for corner the same: only rounded, so the given one is better.
  return { outline: corners(regions) === corners(polygons) ? polygons : regions, notes };
}

export function speckNotes({ leftOutM2 }: Partition): Note[] {
  if (leftOutM2 === 0) return [];
  const reason = `${leftOutM2.toFixed(1)} m2 of the boundary are specks cut off from the field; no zone is drawn for them`;
  return [noteOf(reason, "left out", 1)];
}

/** Every ring straightened by no more than the tolerance, m; a ring too small for it stays as it is. */
export function straightOutline(outline: readonly LocalPolygon[], toleranceM: number): LocalPolygon[] {
  return outline.map((polygon) =>
    polygon.map((ring) => {
      const middle = Math.floor(ring.length / 2);
      const line = [
        ...simplifyLine(ring.slice(0, middle + 1), toleranceM),
        ...simplifyLine(ring.slice(middle), toleranceM).slice(1),
      ];
      return line.length >= 4 ? line : ring;
    }),
  );
}

function noteOf(reason: string, effect: NoteEffect, count: number): Note {
  return { reason, effect, count, field: null, firstRecord: null, value: null };
}
