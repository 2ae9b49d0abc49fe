/** Whether a record is a row unit, a section, or the whole bar at one moment. */
import type { PlantingLog } from "../../vocabulary/field.ts";

/** Times that repeat on more than this share of the records belong to sections, or are coarse (our judgement). */
const REPEATED_SHARE = 1 / 3;
/** No bar is wider than this, m. */
const WIDEST_BAR_M = 40;
/** Records of one time are looked at in at most so many places. */
const SAMPLE = 2000;
/** The next time of one machine is among so many of all machines together (our judgement). */
const LOOK_AHEAD = 6;

/**
 * Row-unit records carry a row unit; section records carry a section, or come several to a moment beside each other.
 * Several records of one time that lie behind each other are those of a coarse clock, and of one bar.
 * @param seconds times of moments, null where the log has none
 */
export function layoutOf(
  { values, labels }: Pick<PlantingLog, "values" | "labels">,
  seconds: Float64Array | null,
  place: Pick<PlantingLog, "x" | "y">,
): PlantingLog["layout"] {
  if (values.rowUnit && severalValues(values.rowUnit)) return "row-unit";
  if ((labels.section?.labels.length ?? 0) > 1) return "section";
  if (!seconds) return "bar";
  const runs = runsOfOneTime(seconds);
  const repeats = seconds.length - runs.length;
  return repeats > REPEATED_SHARE * seconds.length && lieSideBySide(runs, place) ? "section" : "bar";
}

function severalValues(values: Float64Array): boolean {
  const first = values.find((value) => !Number.isNaN(value));
  return first !== undefined && values.some((value) => !Number.isNaN(value) && value !== first);
}

/** Records of each time, in order of time: first place of each run in the sorted records. */
function runsOfOneTime(seconds: Float64Array): Int32Array[] {
  const order = Int32Array.from({ length: seconds.length }, (_, record) => record);
  let isSorted = true;
  for (let record = 1; record < seconds.length && isSorted; record++) {
    isSorted = !(seconds[record]! < seconds[record - 1]!);
  }
  if (!isSorted) order.sort((a, b) => seconds[a]! - seconds[b]! || a - b);
  const runs: Int32Array[] = [];
  for (let from = 0; from < order.length; ) {
    let to = from + 1;
    while (to < order.length && seconds[order[to]!] === seconds[order[from]!]) to++;
    runs.push(order.subarray(from, to));
    from = to;
  }
  return runs;
}

/**
 * True where the records of one time lie across the way to the next time, or all at one place, on most of the sampled
 * times, within the width of a bar.
 */
function lieSideBySide(runs: readonly Int32Array[], { x, y }: Pick<PlantingLog, "x" | "y">): boolean {
  const stride = Math.max(1, Math.floor(runs.length / SAMPLE));
  let beside = 0;
  let behind = 0;
  for (let at = 0; at < runs.length; at += stride) {
    const run = runs[at]!;
    if (run.length < 2) continue;
    const [first, last] = [run[0]!, run.at(-1)!];
    const [acrossX, acrossY] = [x[last]! - x[first]!, y[last]! - y[first]!];
    const reach = Math.hypot(acrossX, acrossY);
    if (reach > WIDEST_BAR_M) {
      behind++;
      continue;
    }
    const next = nearestOf(runs.slice(at + 1, at + 1 + LOOK_AHEAD), first, { x, y }) ?? runs[at - 1];
    // One time for all of them tells nothing.
    if (!next) return false;
    if (reach === 0) {
      beside++;
      continue;
    }
    const [wayX, wayY] = [x[next[0]!]! - x[first]!, y[next[0]!]! - y[first]!];
    const cosine = Math.abs(acrossX * wayX + acrossY * wayY) / (reach * Math.hypot(wayX, wayY) || Number.NaN);
    if (cosine > Math.SQRT1_2) behind++;
    else beside++;
  }
  return beside >= behind;
}

/** The run that begins nearest to a record: the next time of the same machine, whoever was logged between. */
function nearestOf(
  runs: readonly Int32Array[],
  record: number,
  { x, y }: Pick<PlantingLog, "x" | "y">,
): Int32Array | null {
  let nearest: Int32Array | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const run of runs) {
    const step = Math.hypot(x[run[0]!]! - x[record]!, y[run[0]!]! - y[record]!);
    if (step >= least) continue;
    least = step;
    nearest = run;
  }
  return nearest;
}
