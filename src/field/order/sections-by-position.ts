/** Polygons of sections that neither a time nor a number puts into moments: told by how they lie in the order of the file. */
import { median } from "../../numerics/descriptive.ts";
import type { Labels } from "../../recognise/label-column.ts";

/** No bar is wider than this, m. */
const WIDEST_BAR_M = 40;
/** Neighbours of one moment lie in one line: the cosine between two steps along it (our judgement, about 18 degrees). */
const IN_LINE = 0.95;
/** The next moment lies across that line: the cosine of the way to it (our judgement, 45 degrees). */
const ACROSS = Math.SQRT1_2;
/** This share of the records has to lie in moments of one size, each followed by one beside it (our judgement). */
const MOST_RECORDS = 0.8;
/** Polygons side by side fill the ground between their middles to within this share (our judgement). */
const FILLS = 0.2;

/** A moment reaches this many times as far as is usual at most (our judgement). */
const LONGER = 1.2;

interface Run {
  from: number;
  to: number;
}

/**
 * The section of each record, 1 the leftmost in the direction of travel, where the file lists the polygons of moment
 * after moment across the way; null where it does not. Sections of a moment in which some are switched off are told by
 * their place beside those of the moment before.
 * @param x middles of the polygons, local metres, NaN where unknown, in the order of the file
 * @param areaM2 area of each polygon
 */
export function sectionsByPosition(
  x: Float64Array,
  y: Float64Array,
  areaM2: ArrayLike<number>,
): Labels | null {
  const inLine = runsInLine(x, y, x.length, WIDEST_BAR_M);
  const size = usualSize(inLine);
  if (size < 2) return null;
  // At a turn the first moment of the next pass may go on in the line of the last one.
  const reaches = inLine.filter(({ from, to }) => to - from === size).map((run) => reachOf(run, x, y));
  const runs = runsInLine(x, y, size, LONGER * median(reaches));
  const isFull = ({ from, to }: Run): boolean => to - from === size;
  let followed = 0;
  const steps: number[] = [];
  const gaps: number[] = [];
  for (let at = 0; at + 1 < runs.length; at++) {
    const [run, next] = [runs[at]!, runs[at + 1]!];
    if (!isFull(run) || !isFull(next)) continue;
    const [acrossX, acrossY] = lineOf(run, x, y);
    const [wayX, wayY] = [x[next.from]! - x[run.from]!, y[next.from]! - y[run.from]!];
    const way = Math.hypot(wayX, wayY);
    if (way === 0 || Math.abs(acrossX * wayX + acrossY * wayY) > ACROSS * way) continue;
    followed += size;
    steps.push(way);
    gaps.push(reachOf(run, x, y) / (size - 1));
  }
  if (followed < MOST_RECORDS * x.length) return null;
  const filled = (median(steps) * median(gaps)) / median(Float64Array.from(areaM2));
  if (Math.abs(filled - 1) > FILLS) return null;
  return { codes: codesOf(runs, size, x, y), labels: Array.from({ length: size }, (_, k) => String(k + 1)) };
}

/** Records that follow each other in one line, at most so many and so far; one without a position is a run of its own. */
function runsInLine(x: Float64Array, y: Float64Array, most: number, farthestM: number): Run[] {
  const runs: Run[] = [];
  for (let from = 0; from < x.length; ) {
    let to = from + 1;
    let line: [number, number] | null = null;
    for (; to < x.length && to - from < most; to++) {
      const [stepX, stepY] = [x[to]! - x[to - 1]!, y[to]! - y[to - 1]!];
      const step = Math.hypot(stepX, stepY);
      const reach = Math.hypot(x[to]! - x[from]!, y[to]! - y[from]!);
      if (!(step > 0 && reach <= farthestM)) break;
      line ??= [stepX / step, stepY / step];
      if (line[0] * stepX + line[1] * stepY < IN_LINE * step) break;
    }
    runs.push({ from, to });
    from = to;
  }
  return runs;
}

/** Size of the run that most records lie in. */
function usualSize(runs: readonly Run[]): number {
  const records = new Map<number, number>();
  for (const { from, to } of runs) records.set(to - from, (records.get(to - from) ?? 0) + to - from);
  let usual = 0;
  for (const [size, count] of records) if (count > (records.get(usual) ?? 0)) usual = size;
  return usual;
}

/** From the first to the last record of a run, m. */
function reachOf({ from, to }: Run, x: Float64Array, y: Float64Array): number {
  return Math.hypot(x[to - 1]! - x[from]!, y[to - 1]! - y[from]!);
}

/** Direction from the first to the last record of a run. */
function lineOf({ from, to }: Run, x: Float64Array, y: Float64Array): [number, number] {
  const [lineX, lineY] = [x[to - 1]! - x[from]!, y[to - 1]! - y[from]!];
  const length = Math.hypot(lineX, lineY);
  return [lineX / length, lineY / length];
}

/** Place of each record on the bar, 0 the leftmost; -1 where a moment is not whole and none before it tells. */
function codesOf(runs: readonly Run[], size: number, x: Float64Array, y: Float64Array): Int32Array {
  const codes = new Int32Array(x.length).fill(-1);
  let last: Run | null = null;
  for (const [at, run] of runs.entries()) {
    if (run.to - run.from === size) {
      const isFromLeft = listsFromLeft(runs, at, x, y);
      for (let k = 0; k < size; k++) codes[run.from + k] = isFromLeft ? k : size - 1 - k;
      last = run;
    } else if (last) {
      const [lineX, lineY] = lineOf(last, x, y);
      const reach = reachOf(last, x, y);
      for (let record = run.from; record < run.to; record++) {
        const aside = (x[record]! - x[last.from]!) * lineX + (y[record]! - y[last.from]!) * lineY;
        const place = Math.round((aside / reach) * (size - 1));
        if (place >= 0 && place < size) codes[record] = codes[last.from + place]!;
      }
    }
  }
  return codes;
}

/** True where a moment is listed from the left of the way to the next moment (or from the one before). */
function listsFromLeft(runs: readonly Run[], at: number, x: Float64Array, y: Float64Array): boolean {
  const run = runs[at]!;
  const [lineX, lineY] = lineOf(run, x, y);
  const wayFrom = (one: Run | undefined, other: Run | undefined): [number, number] | null => {
    if (!one || !other || one.to - one.from !== other.to - other.from) return null;
    const way: [number, number] = [x[other.from]! - x[one.from]!, y[other.from]! - y[one.from]!];
    const length = Math.hypot(...way);
    return Math.abs(lineX * way[0] + lineY * way[1]) <= ACROSS * length && length <= WIDEST_BAR_M
      ? way
      : null;
  };
  const before = wayFrom(runs[at - 1], run);
  const behind = wayFrom(run, runs[at + 1]);
  const near = (way: [number, number] | null): number =>
    way ? Math.hypot(...way) : Number.POSITIVE_INFINITY;
  const way = near(before) < near(behind) ? before : behind;
  // Right of the way (east, north) is (north, -east).
  return way === null || lineX * way[1] - lineY * way[0] > 0;
}
