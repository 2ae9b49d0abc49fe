/** Direction of travel of each record, by the logged heading or by the records around it. */
import type { LocalFrame, PlantingLog } from "../vocabulary/field.ts";

const RADIANS_PER_DEGREE = Math.PI / 180;

/** Beyond this the next record is of another run, metres. */
const LONGEST_STEP_M = 30;

/**
 * Direction of travel of each record in the frame's grid, radians clockwise from its north; NaN where neither a
 * heading nor a record near it (of the same row unit or section) tells.
 */
export function travelDirections(
  log: Pick<PlantingLog, "recordCount" | "x" | "y" | "values" | "labels">,
  frame: LocalFrame,
): Float64Array {
  const logged = log.values.heading;
  const north = gridNorth(log, frame);
  const neighbours = neighboursOf(log);
  return Float64Array.from({ length: log.recordCount }, (_, record) => {
    const degrees = logged?.[record];
    if (degrees !== undefined && !Number.isNaN(degrees)) return degrees * RADIANS_PER_DEGREE + north;
    return directionAt(log, record, neighbours.before[record]!, neighbours.after[record]!);
  });
}

type Positions = Pick<PlantingLog, "x" | "y">;

/** Angle of true north in the grid at the first record, radians clockwise (meridian convergence). */
function gridNorth({ x: xs, y: ys }: Positions, frame: LocalFrame): number {
  const [x, y] = [xs[0]!, ys[0]!];
  const [longitude, latitude] = frame.toLonLat(x, y);
  const [northX, northY] = frame.toLocal(longitude, latitude + 1e-4);
  return Math.atan2(northX - x, northY - y);
}

/** The records before and after of the same row unit or section; the record itself where there is none. */
function neighboursOf({
  recordCount,
  values,
  labels,
}: Pick<PlantingLog, "recordCount" | "values" | "labels">): {
  before: Int32Array;
  after: Int32Array;
} {
  const part = values.rowUnit ?? labels.section?.codes;
  const before = Int32Array.from({ length: recordCount }, (_, record) => record);
  const after = before.slice();
  const last = new Map<number, number>();
  for (let record = 0; record < recordCount; record++) {
    const key = part?.[record] ?? 0;
    const previous = last.get(key);
    if (previous !== undefined) {
      before[record] = previous;
      after[previous] = record;
    }
    last.set(key, record);
  }
  return { before, after };
}

/** A step this many times as long, or as late, as the one on the other side leads to another run (our judgement). */
const LONGER_STEP = 2.5;

/** From the record before to the record after, where they are of the same run; NaN (no position) where the bar stands alone. */
function directionAt(
  { x, y, values }: Pick<PlantingLog, "x" | "y" | "values">,
  record: number,
  previous: number,
  next: number,
): number {
  const { time } = values;
  const stepTo = (other: number) => {
    const step = Math.hypot(x[other]! - x[record]!, y[other]! - y[record]!);
    return step > 0 && step <= LONGEST_STEP_M ? step : Number.POSITIVE_INFINITY;
  };
  const pauseTo = (other: number) => Math.abs((time?.[other] ?? 0) - (time?.[record] ?? 0)) || 0;
  const [back, ahead] = [stepTo(previous), stepTo(next)];
  const [since, until] = [pauseTo(previous), pauseTo(next)];
  const belongs = (step: number, other: number, pause: number, otherPause: number) =>
    step < Number.POSITIVE_INFINITY &&
    step <= LONGER_STEP * other &&
    (other === Number.POSITIVE_INFINITY || pause <= LONGER_STEP * otherPause);
  const before = belongs(back, ahead, since, until) ? previous : record;
  const after = belongs(ahead, back, until, since) ? next : record;
  const dx = x[after]! - x[before]!;
  const dy = y[after]! - y[before]!;
  return dx === 0 && dy === 0 ? Number.NaN : Math.atan2(dx, dy);
}
