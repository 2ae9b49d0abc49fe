/** Records in an order made from their positions alone: neighbours along a line are linked, the lines put end to end. */
import Flatbush from "flatbush";
import { headingOf, turnBetween } from "../../numerics/angles.ts";
import { median } from "../../numerics/descriptive.ts";

/** Links turn by no more than this from one record to the next, degrees (our judgement). */
const LARGEST_TURN_DEG = 60;
/** ... and lie no further than this from the logged heading, either way along it, degrees (our judgement). */
const OFF_HEADING_DEG = 35;
/** A line goes on over a gap this long where the next begins this near to it, m (our judgement). */
const FARTHEST_IN_LINE_M = 80;
const OFF_LINE_M = 1.5;
/** Neighbours looked at for each record. */
const NEIGHBOURS = 8;

/** Records whose nearest neighbour is measured. */
const SAMPLE = 1000;
/** A link is no longer than so many times the distance to the nearest neighbour and this, m (our judgement). */
const LONGEST_LINK = 2.5;
const LINK_SLACK_M = 1;

/** The longest way between two records that are linked, m: by the median distance to the nearest neighbour. */
export function longestLinkM(x: Float64Array, y: Float64Array): number {
  const index = indexOf(x, y);
  const stride = Math.max(1, Math.floor(x.length / SAMPLE));
  const nearest: number[] = [];
  for (let record = 0; record < x.length; record += stride) {
    const apart = (other: number): number => Math.hypot(x[other]! - x[record]!, y[other]! - y[record]!);
    const [other] = index.neighbors(
      x[record]!,
      y[record]!,
      1,
      Number.POSITIVE_INFINITY,
      (at) => apart(at) > 0,
    );
    if (other !== undefined) nearest.push(apart(other));
  }
  return nearest.length === 0 ? LINK_SLACK_M : LONGEST_LINK * median(nearest) + LINK_SLACK_M;
}

function indexOf(x: Float64Array, y: Float64Array): Flatbush {
  const index = new Flatbush(x.length);
  for (let record = 0; record < x.length; record++) index.add(x[record]!, y[record]!);
  index.finish();
  return index;
}

/**
 * Links records that lie one behind the other, the nearest first, each to one before and one behind, and follows the
 * lines so made from end to end, each next one from where it begins nearest.
 * @param headingDeg logged heading, null where there is none: lines are then followed from either end
 * @param longestM longest link, m
 */
export function linkedOrder(
  x: Float64Array,
  y: Float64Array,
  headingDeg: Float64Array | null,
  longestM: number,
): Int32Array {
  const links = linked(x, y, headingDeg, longestM);
  const lines = linesOf(x.length, links);
  if (headingDeg) for (const line of lines) turnToHeading(line, x, y, headingDeg);
  return endToEnd(lines, x, y, headingDeg !== null);
}

/** The one or two neighbours of each record, -1 where none: two entries a record. */
function linked(
  x: Float64Array,
  y: Float64Array,
  headingDeg: Float64Array | null,
  longestM: number,
): Int32Array {
  const count = x.length;
  const index = indexOf(x, y);
  const pairs: { from: number; to: number; lengthM: number }[] = [];
  for (let from = 0; from < count; from++) {
    for (const to of index.neighbors(x[from]!, y[from]!, NEIGHBOURS + 1, longestM)) {
      if (to <= from) continue;
      const [east, north] = [x[to]! - x[from]!, y[to]! - y[from]!];
      const lengthM = Math.hypot(east, north);
      if (lengthM > 0 && headingDeg && !liesAlong(east, north, headingDeg[from]!)) continue;
      pairs.push({ from, to, lengthM });
    }
  }
  pairs.sort((a, b) => a.lengthM - b.lengthM || a.from - b.from || a.to - b.to);
  const links = new Int32Array(2 * count).fill(-1);
  const root = Int32Array.from({ length: count }, (_, record) => record);
  const rootOf = (record: number): number => {
    let at = record;
    while (root[at] !== at) {
      root[at] = root[root[at]!]!;
      at = root[at]!;
    }
    return at;
  };
  for (const { from, to } of pairs) {
    if (links[2 * from + 1]! >= 0 || links[2 * to + 1]! >= 0 || rootOf(from) === rootOf(to)) continue;
    if (!goesOn(x, y, links[2 * from]!, from, to) || !goesOn(x, y, links[2 * to]!, to, from)) continue;
    for (const [one, other] of [
      [from, to],
      [to, from],
    ] as const) {
      links[links[2 * one]! < 0 ? 2 * one : 2 * one + 1] = other;
    }
    root[rootOf(from)] = rootOf(to);
  }
  return links;
}

function liesAlong(east: number, north: number, headingDeg: number): boolean {
  if (Number.isNaN(headingDeg)) return true;
  const off = Math.abs(turnBetween(headingOf(east, north), headingDeg));
  return Math.min(off, 180 - off) <= OFF_HEADING_DEG;
}

/** True where the way from `before` over `at` to `next` hardly turns. */
function goesOn(x: Float64Array, y: Float64Array, before: number, at: number, next: number): boolean {
  if (before < 0) return true;
  const came = headingOf(x[at]! - x[before]!, y[at]! - y[before]!);
  const goes = headingOf(x[next]! - x[at]!, y[next]! - y[at]!);
  const turn = Math.abs(turnBetween(came, goes));
  return Number.isNaN(turn) || turn <= LARGEST_TURN_DEG;
}

/** Records of each line from one end to the other. */
function linesOf(count: number, links: Int32Array): Int32Array[] {
  const lines: Int32Array[] = [];
  const done = new Uint8Array(count);
  for (let start = 0; start < count; start++) {
    if (done[start] || links[2 * start + 1]! >= 0) continue;
    const line: number[] = [];
    let before = -1;
    for (let at = start; at >= 0; ) {
      line.push(at);
      done[at] = 1;
      const next: number = links[2 * at] === before ? links[2 * at + 1]! : links[2 * at]!;
      before = at;
      at = next >= 0 && !done[next] ? next : -1;
    }
    lines.push(Int32Array.from(line));
  }
  return lines;
}

function turnToHeading(line: Int32Array, x: Float64Array, y: Float64Array, headingDeg: Float64Array): void {
  let along = 0;
  for (let place = 1; place < line.length; place++) {
    const [from, to] = [line[place - 1]!, line[place]!];
    const heading = (headingDeg[from]! * Math.PI) / 180;
    const way = (x[to]! - x[from]!) * Math.sin(heading) + (y[to]! - y[from]!) * Math.cos(heading);
    if (!Number.isNaN(way)) along += way;
  }
  if (along < 0) line.reverse();
}

/** Of the ends of lines near the end of a line, the first that lies ahead of it on its line. */
function inLine(
  line: Int32Array,
  ends: readonly number[],
  lines: readonly Int32Array[],
  x: Float64Array,
  y: Float64Array,
): number | undefined {
  if (line.length < 2) return undefined;
  const last = line.at(-1)!;
  const before = line[Math.max(0, line.length - 6)]!;
  const way = Math.hypot(x[last]! - x[before]!, y[last]! - y[before]!);
  const [east, north] = [(x[last]! - x[before]!) / way, (y[last]! - y[before]!) / way];
  return ends.find((end) => {
    const other = lines[end >> 1]!;
    const at = end % 2 === 0 ? other[0]! : other.at(-1)!;
    const [dx, dy] = [x[at]! - x[last]!, y[at]! - y[last]!];
    return dx * east + dy * north > 0 && Math.abs(dx * north - dy * east) <= OFF_LINE_M;
  });
}

/** Lines one behind the other: first the one whose start lies furthest west, then the one that begins nearest to the end. */
function endToEnd(lines: Int32Array[], x: Float64Array, y: Float64Array, directed: boolean): Int32Array {
  const index = new Flatbush(2 * lines.length);
  for (const line of lines) {
    for (const end of [line[0]!, line.at(-1)!]) index.add(x[end]!, y[end]!);
  }
  index.finish();
  const done = new Uint8Array(lines.length);
  const order = new Int32Array(lines.reduce((sum, line) => sum + line.length, 0));
  let filled = 0;
  const startX = lines.map((line) => (directed ? x[line[0]!]! : Math.min(x[line[0]!]!, x[line.at(-1)!]!)));
  let next = startX.indexOf(
    startX.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY),
  );
  let fromBehind = !directed && x[lines[next]!.at(-1)!]! < x[lines[next]![0]!]!;
  for (let count = 0; count < lines.length; count++) {
    const line = fromBehind ? lines[next]!.toReversed() : lines[next]!;
    order.set(line, filled);
    filled += line.length;
    done[next] = 1;
    const last = line.at(-1)!;
    const isOpen = (end: number): boolean => done[end >> 1] === 0 && !(directed && end % 2 === 1);
    const end =
      inLine(
        line,
        index.neighbors(x[last]!, y[last]!, NEIGHBOURS, FARTHEST_IN_LINE_M, isOpen),
        lines,
        x,
        y,
      ) ?? index.neighbors(x[last]!, y[last]!, 1, Number.POSITIVE_INFINITY, isOpen)[0];
    if (end === undefined) break;
    next = end >> 1;
    fromBehind = end % 2 === 1;
  }
  return order;
}
