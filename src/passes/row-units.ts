/** Which physical row unit a record belongs to, and how far apart the row units are. */
import { median } from "../numerics/descriptive.ts";
import type { PlantingLog } from "../vocabulary/field.ts";
import type { Moments } from "./moments.ts";
import { isPlanted, type Track } from "./track.ts";

export interface RowUnits {
  /** Row unit 1..n from the left in the direction of travel; 0 for whole-bar and section records. */
  of: Int16Array;
  count: number;
  /** Distance between neighbouring units as the positions show it, m; NaN where they do not. */
  measuredSpacingM: number;
  /** False when all row units of a moment carry the same position (that of the bar). */
  ownPositions: boolean;
  /** How the numbers were found, in plain words. */
  method: string;
}

/** Moments looked at to measure the spacing. */
const SAMPLED_MOMENTS = 400;
/** Units closer than this share one position, m. */
const ONE_POSITION_M = 0.05;

/**
 * Takes the numbers of the log where they name the same place on the bar in both directions of travel; else
 * (no numbers, or numbers counted from one side of the field) numbers the units of a moment from left to right.
 */
export function numberRowUnits(log: PlantingLog, moments: Moments, track: Track): RowUnits {
  const of = new Int16Array(log.recordCount);
  if (log.layout !== "row-unit") {
    return { of, count: 0, measuredSpacingM: Number.NaN, ownPositions: true, method: "" };
  }
  const numbers = log.values.rowUnit ?? labelNumbers(log);
  if (numbers) {
    const slopes = spacingByNumber(log, moments, track, numbers);
    const spacing = slopes.length > 0 ? median(slopes.map(Math.abs)) : Number.NaN;
    const ownPositions = !(spacing < ONE_POSITION_M);
    const fromRight = slopes.filter((slope) => slope < 0).length;
    const opposite = Math.min(fromRight, slopes.length - fromRight);
    if (!ownPositions || opposite <= 0.1 * slopes.length) {
      let count = 0;
      for (let record = 0; record < of.length; record++) {
        const number = numbers[record]!;
        of[record] = Number.isNaN(number) ? 0 : Math.max(number, 0);
        if (of[record]! > count) count = of[record]!;
      }
      const side = fromRight > opposite && ownPositions ? ", which counts from the right" : "";
      const measuredSpacingM = ownPositions ? spacing : Number.NaN;
      return { of, count, measuredSpacingM, ownPositions, method: `row units numbered as in the log${side}` };
    }
  }
  const { count, spacing } = numberFromLeft(log, moments, track, of);
  const method = numbers
    ? "row units numbered from the left in the direction of travel, because the log's numbers change sides with it"
    : "row units numbered from the left in the direction of travel, by their positions";
  return { of, count, measuredSpacingM: spacing, ownPositions: true, method };
}

function labelNumbers(log: PlantingLog): Float64Array | null {
  const label = log.labels.rowUnit;
  if (!label) return null;
  const numbers = label.labels.map(Number);
  return Float64Array.from(label.codes, (code) => (code < 0 ? Number.NaN : numbers[code]!));
}

/** Place across the direction of travel, m to the right. */
function lateral(log: PlantingLog, record: number, headingDeg: number): number {
  const heading = (headingDeg * Math.PI) / 180;
  return log.x[record]! * Math.cos(heading) - log.y[record]! * Math.sin(heading);
}

/** Lateral distance per unit number, by regression within some moments spread over the log. */
function spacingByNumber(
  log: PlantingLog,
  moments: Moments,
  track: Track,
  numbers: Float64Array,
): Float64Array {
  const { start, records } = moments.groups;
  const slopes: number[] = [];
  const stride = Math.max(1, Math.floor(track.length / SAMPLED_MOMENTS));
  for (let place = 0; place < track.length; place += stride) {
    const members = records.subarray(start[track.moment[place]!]!, start[track.moment[place]! + 1]!);
    const meanNumber = members.reduce((sum, record) => sum + numbers[record]!, 0) / members.length;
    let products = 0;
    let squares = 0;
    for (const record of members) {
      const off = numbers[record]! - meanNumber;
      products += off * lateral(log, record, track.headingDeg[place]!);
      squares += off * off;
    }
    if (squares > 0 && Number.isFinite(products)) slopes.push(products / squares);
  }
  return Float64Array.from(slopes);
}

/** Numbers the units of full moments from left to right, those of part-full ones by the lane they run in. */
function numberFromLeft(
  log: PlantingLog,
  moments: Moments,
  track: Track,
  of: Int16Array,
): { count: number; spacing: number } {
  const { start, records } = moments.groups;
  const membersAt = (place: number): number[] =>
    Array.from(records.subarray(start[track.moment[place]!]!, start[track.moment[place]! + 1]!)).filter(
      (record) => isPlanted(log, record),
    );
  let count = 0;
  let firstFull = 0;
  for (let place = 0; place < track.length; place++) {
    const size = start[track.moment[place]! + 1]! - start[track.moment[place]!]!;
    if (size > count) {
      count = size;
      firstFull = place;
    }
  }
  const gaps: number[] = [];
  let lanes: number[] = [];
  for (const place of [firstFull, ...Array.from({ length: track.length }, (_, index) => index)]) {
    const heading = track.headingDeg[place]!;
    const members = membersAt(place);
    if (members.length === count) {
      lanes = members.sort((a, b) => lateral(log, a, heading) - lateral(log, b, heading));
      lanes.forEach((record, lane) => {
        of[record] = lane + 1;
      });
      if (gaps.length < 100_000) {
        for (let lane = 1; lane < count; lane++) {
          gaps.push(lateral(log, lanes[lane]!, heading) - lateral(log, lanes[lane - 1]!, heading));
        }
      }
      continue;
    }
    const places = lanes.map((record) => lateral(log, record, heading));
    for (const record of members) {
      const own = lateral(log, record, heading);
      let nearest = 0;
      for (let lane = 1; lane < places.length; lane++) {
        if (Math.abs(places[lane]! - own) < Math.abs(places[nearest]! - own)) nearest = lane;
      }
      of[record] = nearest + 1;
    }
  }
  return { count, spacing: gaps.length > 0 ? median(gaps) : Number.NaN };
}
