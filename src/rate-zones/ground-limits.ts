/** Labels on the raster made fit to drive: no place narrower than so many bars or shorter than so far, where it can be had. */
import type { GroundRaster } from "./ground-raster.ts";

/**
 * Steps to a straight and a diagonal neighbour. Ground of another label is half as far again: borders then stay where
 * the soil map has them, and narrow tails still go soon.
 */
const OWN_STEPS = { straight: 10, diagonal: 14 };
const OTHER_STEPS = { straight: 15, diagonal: 21 };
const LONGEST_STEP = OTHER_STEPS.diagonal;

/**
 * Keeps of each label the ground covered by whole rectangles of it, then gives the rest to what lies nearest,
 * inside the field. Ground of mixed narrow strips that is itself large enough becomes one piece with the label
 * that most of it has. Squares outside the field take the nearest label, so that borders run out across the outline.
 * @param labels label of each square, 0..labelCount-1, of squares in the field; others are ignored
 * @param across smallest width, squares; `along` smallest length in travel, squares
 */
export function drivableLabels(
  raster: GroundRaster,
  labels: Int16Array,
  labelCount: number,
  across: number,
  along: number,
): Int16Array {
  const { field, grid } = raster;
  const cores = new Int16Array(labels.length).fill(-1);
  const shape = { columns: grid.columns, rows: grid.rows, across, along };
  const present = new Uint8Array(labelCount);
  labels.forEach((label, square) => {
    if (field[square]) present[label] = 1;
  });
  for (let label = 0; label < labelCount; label++) {
    if (!present[label]) continue;
    const covered = opened(shape, (square) => field[square] === 1 && labels[square] === label);
    covered.forEach((inside, square) => {
      if (inside) cores[square] = label;
    });
  }
  const mixed = opened(shape, (square) => field[square] === 1 && cores[square] === -1);
  giveMostCommon(grid.columns, labels, cores, (square) => mixed[square] === 1);
  // Parts of the field without any rectangle: one label each.
  const rooted = reachable(grid.columns, cores, (square) => field[square] === 1);
  giveMostCommon(grid.columns, labels, cores, (square) => field[square] === 1 && !rooted[square]);
  const grown = grow(grid.columns, grid.rows, cores, labels, (square) => field[square] === 1);
  return grow(grid.columns, grid.rows, grown, grown, () => true);
}

interface Shape {
  columns: number;
  rows: number;
  across: number;
  along: number;
}

/** Squares covered by rectangles that lie wholly in the ground (an opening with a rectangle). */
export function opened(
  { columns, rows, across, along }: Shape,
  inGround: (square: number) => boolean,
): Uint8Array {
  const sums = summed(columns, rows, (square) => (inGround(square) ? 1 : 0));
  const width = columns + 1;
  // Corners of the rectangles found, summed up afterwards into how many cover each square.
  const corners = new Int32Array(width * (rows + 1));
  for (let row = 0; row + along <= rows; row++) {
    for (let column = 0; column + across <= columns; column++) {
      if (sumIn(sums, width, column, row, across, along) < across * along) continue;
      corners[row * width + column]!++;
      corners[row * width + column + across]!--;
      corners[(row + along) * width + column]!--;
      corners[(row + along) * width + column + across]!++;
    }
  }
  const covered = new Uint8Array(columns * rows);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const at = row * width + column;
      if (column > 0) corners[at]! += corners[at - 1]!;
      if (row > 0) corners[at]! += corners[at - width]!;
      if (column > 0 && row > 0) corners[at]! -= corners[at - width - 1]!;
      if (corners[at]! > 0) covered[row * columns + column] = 1;
    }
  }
  return covered;
}

/** Sums over all squares south-west of each corner; rows of `columns + 1` corners. */
export function summed(columns: number, rows: number, value: (square: number) => number): Int32Array {
  const width = columns + 1;
  const sums = new Int32Array(width * (rows + 1));
  for (let row = 0; row < rows; row++) {
    let line = 0;
    for (let column = 0; column < columns; column++) {
      line += value(row * columns + column);
      sums[(row + 1) * width + column + 1] = sums[row * width + column + 1]! + line;
    }
  }
  return sums;
}

/** Sum over a rectangle of squares whose south-west one is (column, row). */
export function sumIn(
  sums: Int32Array,
  width: number,
  column: number,
  row: number,
  across: number,
  along: number,
): number {
  const south = row * width + column;
  const north = south + along * width;
  return sums[north + across]! - sums[north]! - sums[south + across]! + sums[south]!;
}

/** Gives every connected piece of the chosen squares, as core, the label most of it has. */
function giveMostCommon(
  columns: number,
  labels: Int16Array,
  cores: Int16Array,
  chosen: (square: number) => boolean,
): void {
  const seen = new Uint8Array(labels.length);
  for (let start = 0; start < labels.length; start++) {
    if (seen[start] || !chosen(start)) continue;
    const counts = new Map<number, number>();
    const piece = [start];
    seen[start] = 1;
    for (let at = 0; at < piece.length; at++) {
      const square = piece[at]!;
      counts.set(labels[square]!, (counts.get(labels[square]!) ?? 0) + 1);
      for (const near of [square - 1, square + 1, square - columns, square + columns]) {
        if (seen[near] === 0 && chosen(near)) {
          seen[near] = 1;
          piece.push(near);
        }
      }
    }
    const most = [...counts].reduce((best, entry) =>
      entry[1] > best[1] || (entry[1] === best[1] && entry[0] < best[0]) ? entry : best,
    )[0];
    for (const square of piece) cores[square] = most;
  }
}

/** Squares that can be reached from a core within the ground. */
function reachable(columns: number, cores: Int16Array, inGround: (square: number) => boolean): Uint8Array {
  const reached = new Uint8Array(cores.length);
  const queue: number[] = [];
  cores.forEach((core, square) => {
    if (core < 0) return;
    reached[square] = 1;
    queue.push(square);
  });
  for (let at = 0; at < queue.length; at++) {
    const square = queue[at]!;
    for (const near of [square - 1, square + 1, square - columns, square + columns]) {
      if (reached[near] === 0 && inGround(near)) {
        reached[near] = 1;
        queue.push(near);
      }
    }
  }
  return reached;
}

/** Spreads labels from the cores over the ground, the nearest first; queues by distance (Dial 1969, CACM 12:632). */
function grow(
  columns: number,
  rows: number,
  cores: Int16Array,
  own: Int16Array,
  inGround: (square: number) => boolean,
): Int16Array {
  const result = cores.slice();
  const distance = new Int32Array(cores.length).fill(0x7fffffff);
  const queues: number[][] = Array.from({ length: LONGEST_STEP + 1 }, () => []);
  let waiting = 0;
  cores.forEach((core, square) => {
    if (core < 0) return;
    distance[square] = 0;
    queues[0]!.push(square);
    waiting++;
  });
  for (let reach = 0; waiting > 0; reach++) {
    const queue = queues[reach % queues.length]!;
    queues[reach % queues.length] = [];
    waiting -= queue.length;
    for (const square of queue) {
      if (distance[square] !== reach) continue;
      const label = result[square]!;
      const column = square % columns;
      const row = (square - column) / columns;
      for (let down = -1; down <= 1; down++) {
        for (let right = -1; right <= 1; right++) {
          if (down === 0 && right === 0) continue;
          const [toRow, toColumn] = [row + down, column + right];
          if (toRow < 0 || toColumn < 0 || toRow >= rows || toColumn >= columns) continue;
          const near = toRow * columns + toColumn;
          if (!inGround(near)) continue;
          const steps = own[near] === label ? OWN_STEPS : OTHER_STEPS;
          const step = down !== 0 && right !== 0 ? steps.diagonal : steps.straight;
          if (reach + step >= distance[near]!) continue;
          distance[near] = reach + step;
          result[near] = label;
          queues[(reach + step) % queues.length]!.push(near);
          waiting++;
        }
      }
    }
  }
  return result;
}
