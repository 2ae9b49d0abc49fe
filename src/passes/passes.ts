import type { Note } from "../errors.ts";
import type { PassSpacing } from "./pass-spacing.ts";

/**
 * What the passes stage hands on. Records keep their order in the file; every array has one entry a record
 * unless it says otherwise.
 */
export interface Pass {
  /** Our own number, 1..n in order of planting. */
  number: number;
  /** Pass labels the log carries on these records, sorted; empty when it has none. */
  logPasses: string[];
  /** Mean heading of the run, degrees clockwise from north. */
  headingDeg: number;
  /** Number of moments, and of records. */
  moments: number;
  records: number;
  /** Ground covered: along-track length (m), distance x width (m2). */
  lengthM: number;
  areaM2: number;
  /** A pass round or along the field edge, or a corner: "end rows" on the page. */
  headland: boolean;
  /** Seconds since 1970 UTC of the first record with a time, null when the log has none. */
  startTime: number | null;
  /** ISO date of the pass where known, e.g. "2026-04-24". */
  date: string | null;
}

export interface Passes {
  passes: Pass[];
  /** Pass number (1..n) of each record, 0 where none (lifted, turning, not working). */
  passOf: Int32Array;
  /** Moment of each record: records of one moment of the bar share the number (0-based, increasing in time). */
  momentOf: Int32Array;
  momentCount: number;
  /** Row unit 1..n from the left in the direction of travel, 0 for whole-bar and section records. */
  rowUnitOf: Int16Array;
  rowUnitCount: number;
  /** Distance along the pass at the record's moment, m from the pass's start. */
  alongM: Float64Array;
  /** Heading at the record, degrees clockwise from north. */
  headingDeg: Float64Array;
  /** Ground the record stands for: travelled distance, width, offset of its centre to the right of the logged position, m. */
  distanceM: Float64Array;
  widthM: Float64Array;
  offsetM: Float64Array;
  /** Where on its stretch of travel the logged position lies; taken as the middle when it is not told. */
  pointAt?: "start" | "middle" | "end";
  /** Distance between neighbouring passes, m, and whether enough of them agree; null where none lie side by side. */
  spacing?: PassSpacing | null;
  /** Where the measures of the ground did not agree, and what was taken. */
  notes?: Note[];
  /** How the passes were told apart, in plain words. */
  method: string;
}
