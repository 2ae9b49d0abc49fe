/** How much of each point lies on which cell, by where its counts may have been made. */
import type { Exposure } from "./exposure.ts";
import type { Points } from "./points.ts";

export interface GroundShares {
  /** Cells of point p are `cell[start[p]..start[p + 1])` with shares that sum to 1 (none off the cells). */
  start: Int32Array;
  cell: Int32Array;
  share: Float64Array;
}

/** @param cellOf cell of each record, -1 where none */
export function groundShares(points: Points, exposure: Exposure, cellOf: Int32Array): GroundShares {
  const start = new Int32Array(points.count + 1);
  const cells: number[] = [];
  const shares: number[] = [];
  for (let p = 0; p < points.count; p++) {
    const sums = new Map<number, number>();
    let total = 0;
    for (let k = points.start[p]!; k < points.start[p + 1]!; k++) {
      const s = points.spot[k]!;
      for (let e = exposure.start[s]!; e < exposure.start[s + 1]!; e++) {
        const cell = cellOf[exposure.record[e]!]!;
        if (cell < 0) continue;
        sums.set(cell, (sums.get(cell) ?? 0) + exposure.share[e]!);
        total += exposure.share[e]!;
      }
    }
    for (const [cell, sum] of [...sums].sort((a, b) => a[0] - b[0])) {
      cells.push(cell);
      shares.push(sum / total);
    }
    start[p + 1] = cells.length;
  }
  return { start, cell: Int32Array.from(cells), share: Float64Array.from(shares) };
}

/** Value of each point from the values of the cells; cells without a value (NaN) are left out, 0 where none has one. */
export function overGround(shares: GroundShares, values: ArrayLike<number>): Float64Array {
  return Float64Array.from({ length: shares.start.length - 1 }, (_, p) => {
    let sum = 0;
    let weight = 0;
    for (let k = shares.start[p]!; k < shares.start[p + 1]!; k++) {
      const value = values[shares.cell[k]!]!;
      if (Number.isNaN(value)) continue;
      sum += shares.share[k]! * value;
      weight += shares.share[k]!;
    }
    return weight > 0 ? sum / weight : 0;
  });
}

/** The cell with the largest share of each point, -1 where none. */
export function likeliestCell(shares: GroundShares): Int32Array {
  return Int32Array.from({ length: shares.start.length - 1 }, (_, p) => {
    let best = -1;
    let most = 0;
    for (let k = shares.start[p]!; k < shares.start[p + 1]!; k++) {
      if (shares.share[k]! <= most) continue;
      most = shares.share[k]!;
      best = shares.cell[k]!;
    }
    return best;
  });
}
