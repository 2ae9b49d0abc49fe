/** The ground each record stands for: way travelled, width, and its place beside the logged position. */
import type { Note } from "../errors.ts";
import type { Field } from "../vocabulary/field.ts";
import { widthsOfRecords } from "./bar-width.ts";
import type { Moments } from "./moments.ts";
import { type PassSpacing, passSpacing } from "./pass-spacing.ts";
import type { RowUnits } from "./row-units.ts";
import type { Track } from "./track.ts";
import { waysOfRecords } from "./way-of-records.ts";

export interface Ground {
  distanceM: Float64Array;
  widthM: Float64Array;
  offsetM: Float64Array;
  /** Width of the whole bar, m. */
  barWidthM: number;
  /** How far apart the passes lie; null where none lie side by side. */
  spacing: PassSpacing | null;
  method: string;
  /** Where the measures of the ground do not agree, and what was taken. */
  notes: Note[];
}

/** Offsets closer than this are one, m. */
const SAME_OFFSET_M = 0.05;

/**
 * Finds way, width and offset of each record; see the parts for the order in which sources are taken.
 * @throws {ChoiceNeededError} where nothing tells the width of the bar, or what tells it contradicts the passes
 */
export function groundOf(field: Field, moments: Moments, track: Track, rowUnits: RowUnits): Ground {
  const notes: Note[] = [];
  const spacing = passSpacing(track);
  const width = widthsOfRecords(field, moments, track, rowUnits, spacing, notes);
  return {
    ...width,
    distanceM: field.log.footprints
      ? field.log.values.distance!.map((way) => (Number.isNaN(way) ? 0 : way))
      : waysOfRecords(field, moments, track, notes),
    offsetM: offsets(field, moments, rowUnits, width.barWidthM),
    spacing,
    notes,
  };
}

/**
 * Offset of the ground's middle to the right of the logged position, m. Where all row units (or sections) carry the
 * position of the bar and the log gives no offset one by one, it is the place on the bar; an offset that is the
 * same on all records (of the receiver from the middle of the bar) is added, one that comes and goes with
 * section control is not, because the bar itself stays where it is.
 */
function offsets(field: Field, moments: Moments, rowUnits: RowUnits, barWidthM: number): Float64Array {
  const { log } = field;
  const logged = log.values.lateralOffset?.map((offset) => (Number.isNaN(offset) ? 0 : offset));
  const offsetM = logged ?? new Float64Array(log.recordCount);
  if (logged && variesInMoments(logged, moments)) return offsetM;
  const constant = logged?.every((offset) => offset === logged[0]) ? logged[0]! : 0;
  if (log.layout === "section" && moments.part && stackedSections(field, moments)) {
    const part = moments.part;
    const count = 1 + part.reduce((most, code) => Math.max(most, code), 0);
    return offsetM.map((_, record) => constant + (part[record]! - (count - 1) / 2) * (barWidthM / count));
  }
  if (rowUnits.ownPositions) return offsetM;
  const units = Math.max(rowUnits.count, field.planter.rowUnits ?? 0);
  const spacing = barWidthM / units;
  return offsetM.map((_, record) => constant + (rowUnits.of[record]! - (units + 1) / 2) * spacing);
}

/** True where the sections of most moments carry one position. */
function stackedSections({ log }: Field, moments: Moments): boolean {
  const { start, records } = moments.groups;
  let stacked = 0;
  let spread = 0;
  for (let at = 0; at < moments.count; at++) {
    if (start[at + 1]! - start[at]! < 2) continue;
    const [first, last] = [records[start[at]!]!, records[start[at + 1]! - 1]!];
    const apart = Math.hypot(log.x[last]! - log.x[first]!, log.y[last]! - log.y[first]!);
    if (apart <= SAME_OFFSET_M) stacked++;
    else spread++;
  }
  return stacked > spread;
}

function variesInMoments(values: Float64Array, moments: Moments): boolean {
  const { start, records } = moments.groups;
  for (let at = 0; at < moments.count; at++) {
    const first = values[records[start[at]!]!]!;
    for (let index = start[at]! + 1; index < start[at + 1]!; index++) {
      if (Math.abs(values[records[index]!]! - first) > SAME_OFFSET_M) return true;
    }
  }
  return false;
}
