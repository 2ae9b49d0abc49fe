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

/** How much of the points lies on some ground; points that do not touch it are left out. */
export interface PointsOnGround {
  /** Ascending. */
  point: Int32Array;
  /** Share of each point that lies on it, above 0. */
  share: Float64Array;
}

/** What {@link overGround} gives for 1 on some cells and 0 on the others, at the cost of those cells alone. */
export function groundFinder(
  shares: GroundShares,
  cellCount: number,
): (cells: ArrayLike<number>) => PointsOnGround {
  const points = shares.start.length - 1;
  const start = new Int32Array(cellCount + 1);
  for (const cell of shares.cell) start[cell + 1]!++;
  for (let cell = 0; cell < cellCount; cell++) start[cell + 1]! += start[cell]!;
  const next = start.slice();
  const pointOf = new Int32Array(shares.cell.length);
  const shareOf = new Float64Array(shares.cell.length);
  const whole = new Float64Array(points);
  for (let p = 0; p < points; p++) {
    for (let k = shares.start[p]!; k < shares.start[p + 1]!; k++) {
      const at = next[shares.cell[k]!]!++;
      pointOf[at] = p;
      shareOf[at] = shares.share[k]!;
      whole[p]! += shares.share[k]!;
    }
  }
  const sum = new Float64Array(points);
  return (cells) => {
    const touched: number[] = [];
    for (let c = 0; c < cells.length; c++) {
      for (let k = start[cells[c]!]!; k < start[cells[c]! + 1]!; k++) {
        const p = pointOf[k]!;
        if (shareOf[k]! <= 0) continue;
        if (sum[p] === 0) touched.push(p);
        sum[p]! += shareOf[k]!;
      }
    }
    const point = Int32Array.from(touched).sort();
    const share = Float64Array.from(point, (p) => sum[p]! / whole[p]!);
    for (const p of touched) sum[p] = 0;
    return { point, share };
  };
}

/** Share of every point on some ground, 0 for those that do not touch it. */
export function overAllPoints({ point, share }: PointsOnGround, pointCount: number): Float64Array {
  const values = new Float64Array(pointCount);
  for (let k = 0; k < point.length; k++) values[point[k]!] = share[k]!;
  return values;
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
