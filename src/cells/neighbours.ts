/** Who lies beside whom: neighbour lists of points and of cells, in one flat pair of arrays. */
import Flatbush from "flatbush";
import type { Cells } from "./cells.ts";

/** Neighbours of item i are `index[start[i]..start[i + 1])`, ascending, never i itself. */
export interface Neighbours {
  /** Length = items + 1. */
  start: Int32Array;
  index: Int32Array;
}

/** Packs one list a place; lists are sorted and freed of doubles. */
export function packNeighbours(lists: readonly (readonly number[])[]): Neighbours {
  const start = new Int32Array(lists.length + 1);
  const sorted = lists.map((list) => [...new Set(list)].sort((a, b) => a - b));
  sorted.forEach((list, i) => {
    start[i + 1] = start[i]! + list.length;
  });
  return { start, index: Int32Array.from(sorted.flat()) };
}

/**
 * Points no farther than a radius from each other.
 * @param x metres @param y metres @param radiusM metres, inclusive
 */
export function neighboursWithin(x: Float64Array, y: Float64Array, radiusM: number): Neighbours {
  return packNeighbours(listsWithin(x, y, radiusM));
}

function listsWithin(x: Float64Array, y: Float64Array, radiusM: number): number[][] {
  const count = x.length;
  if (count === 0) return [];
  const tree = new Flatbush(count);
  for (let i = 0; i < count; i++) tree.add(x[i]!, y[i]!, x[i]!, y[i]!);
  tree.finish();
  const lists: number[][] = [];
  for (let i = 0; i < count; i++) {
    const near = tree.search(x[i]! - radiusM, y[i]! - radiusM, x[i]! + radiusM, y[i]! + radiusM, (other) => {
      return other !== i && (x[other]! - x[i]!) ** 2 + (y[other]! - y[i]!) ** 2 <= radiusM ** 2;
    });
    lists.push(near);
  }
  return lists;
}

/** Share of the swath width within which cells of other passes count as neighbours (our judgement). */
const REACH_IN_SWATHS = 1.3;

/**
 * Neighbours of cells: the piece before and after on the same pass, and the cells of other passes whose
 * centres lie within 1.3 swath widths.
 * @param swathWidthM width of the bar, metres
 */
export function cellNeighbours(cells: Cells, swathWidthM: number): Neighbours {
  const lists = listsWithin(cells.x, cells.y, REACH_IN_SWATHS * swathWidthM).map((list, i) =>
    list.filter((other) => cells.pass[other] !== cells.pass[i]),
  );
  const cellAt = new Map<string, number>();
  for (let i = 0; i < cells.count; i++) cellAt.set(`${cells.pass[i]}/${cells.piece[i]}`, i);
  for (let i = 0; i < cells.count; i++) {
    const next = cellAt.get(`${cells.pass[i]}/${cells.piece[i]! + 1}`);
    if (next === undefined) continue;
    lists[i]!.push(next);
    lists[next]!.push(i);
  }
  return packNeighbours(lists);
}

/** Connected parts of the marked places, each ascending, ordered by their first place. */
export function connectedParts(marked: Uint8Array, neighbours: Neighbours): Int32Array[] {
  const seen = new Uint8Array(marked.length);
  const parts: Int32Array[] = [];
  for (let first = 0; first < marked.length; first++) {
    if (!marked[first] || seen[first]) continue;
    const part = [first];
    seen[first] = 1;
    for (let next = 0; next < part.length; next++) {
      const place = part[next]!;
      for (let k = neighbours.start[place]!; k < neighbours.start[place + 1]!; k++) {
        const other = neighbours.index[k]!;
        if (marked[other] && !seen[other]) {
          seen[other] = 1;
          part.push(other);
        }
      }
    }
    parts.push(Int32Array.from(part).sort());
  }
  return parts;
}

/** A place that is not marked is taken in when at least this share of its neighbours (and three of them) is: a hole. */
const HOLE_SHARE = 0.75;

/** Marks the holes of the marked ground, in place. */
export function closeHoles(marked: Uint8Array, neighbours: Neighbours): void {
  const before = marked.slice();
  for (let place = 0; place < marked.length; place++) {
    const from = neighbours.start[place]!;
    const to = neighbours.start[place + 1]!;
    let count = 0;
    for (let k = from; k < to; k++) count += before[neighbours.index[k]!]!;
    if (count >= 3 && count >= HOLE_SHARE * (to - from)) marked[place] = 1;
  }
}
