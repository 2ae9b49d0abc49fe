/** Borders between labels of a raster as lines: each border once, smoothed, with the labels on either side. */
import { simplifyLine } from "../numerics/coverage-grid.ts";

/** A line in the raster's squares (column, row), with the label to its left and to its right; -1 outside the raster. */
export interface Border {
  line: [number, number][];
  left: number;
  right: number;
}

/** Rounds of averaging with both neighbours: smooths over about two squares to either side. */
const SMOOTHING_ROUNDS = 8;

/**
 * Borders of the labelling, from junction to junction or closed. Both sides share the line, so whatever is done to
 * it opens no gap.
 * @param toleranceSquares lines are straightened by no more than this, squares
 */
export function bordersBetween(
  labels: Int16Array,
  columns: number,
  rows: number,
  toleranceSquares: number,
): Border[] {
  const width = columns + 1;
  const corners = width * (rows + 1);
  const labelAt = (column: number, row: number): number =>
    column < 0 || row < 0 || column >= columns || row >= rows ? -1 : labels[row * columns + column]!;
  // Steps from corner to corner along which labels differ: bit 0 east, 1 north, 2 west, 3 south.
  const ways = new Uint8Array(corners);
  for (let row = 0; row <= rows; row++) {
    for (let column = 0; column <= columns; column++) {
      const corner = row * width + column;
      if (column < columns && labelAt(column, row) !== labelAt(column, row - 1)) {
        ways[corner]! |= 1;
        ways[corner + 1]! |= 4;
      }
      if (row < rows && labelAt(column, row) !== labelAt(column - 1, row)) {
        ways[corner]! |= 2;
        ways[corner + width]! |= 8;
      }
    }
  }
  const stepOf = [1, width, -1, -width] as const;
  const follow = (start: number, first: number): Border => {
    const [column, row] = [start % width, Math.floor(start / width)];
    const sides = [
      [labelAt(column, row), labelAt(column, row - 1)],
      [labelAt(column - 1, row), labelAt(column, row)],
      [labelAt(column - 1, row - 1), labelAt(column - 1, row)],
      [labelAt(column, row - 1), labelAt(column - 1, row - 1)],
    ][first]!;
    const path = [start];
    let at = start;
    let way = first;
    for (;;) {
      ways[at]! &= ~(1 << way);
      at += stepOf[way]!;
      const back = (way + 2) % 4;
      ways[at]! &= ~(1 << back);
      path.push(at);
      const open = ways[at]!;
      if (junction[at] || open === 0) break;
      way = 31 - Math.clz32(open);
    }
    const points = path.map((corner): [number, number] => [corner % width, Math.floor(corner / width)]);
    return { line: points, left: sides[0]!, right: sides[1]! };
  };
  const junction = new Uint8Array(corners);
  for (let corner = 0; corner < corners; corner++) {
    const bits = ways[corner]!;
    const degree = (bits & 1) + ((bits >> 1) & 1) + ((bits >> 2) & 1) + (bits >> 3);
    if (degree > 2) junction[corner] = 1;
  }
  const borders: Border[] = [];
  for (const junctionsOnly of [true, false]) {
    for (let corner = 0; corner < corners; corner++) {
      if (junctionsOnly && !junction[corner]) continue;
      for (let way = 0; way < 4; way++) if ((ways[corner]! >> way) & 1) borders.push(follow(corner, way));
    }
  }
  return borders.map((border) => {
    // The frame of the raster lies outside the field and stays.
    const line = border.left < 0 || border.right < 0 ? border.line : smoothed(border.line);
    return { ...border, line: straightened(line, toleranceSquares) };
  });
}

/** A stair of unit steps as a smooth line through the middles of its steps; ends stay. */
function smoothed(stair: [number, number][]): [number, number][] {
  const closed = isClosed(stair);
  const middles = stair
    .slice(1)
    .map(([x, y], i): [number, number] => [(x + stair[i]![0]) / 2, (y + stair[i]![1]) / 2]);
  let line = closed ? middles : [stair[0]!, ...middles, stair.at(-1)!];
  const count = line.length;
  for (let round = 0; round < SMOOTHING_ROUNDS; round++) {
    line = line.map((point, i): [number, number] => {
      if (!closed && (i === 0 || i === count - 1)) return point;
      const before = line[(i + count - 1) % count]!;
      const after = line[(i + 1) % count]!;
      return [(before[0] + 2 * point[0] + after[0]) / 4, (before[1] + 2 * point[1] + after[1]) / 4];
    });
  }
  return closed ? [...line, line[0]!] : line;
}

function straightened(line: [number, number][], tolerance: number): [number, number][] {
  if (!isClosed(line)) return simplifyLine(line, tolerance);
  // A closed line is taken in two halves, from its start to the point farthest from it and back.
  const [startX, startY] = line[0]!;
  let far = 0;
  let farthest = -1;
  for (const [i, [x, y]] of line.entries()) {
    const distance = (x - startX) ** 2 + (y - startY) ** 2;
    if (distance <= farthest) continue;
    far = i;
    farthest = distance;
  }
  return [
    ...simplifyLine(line.slice(0, far + 1), tolerance),
    ...simplifyLine(line.slice(far), tolerance).slice(1),
  ];
}

function isClosed(line: readonly [number, number][]): boolean {
  const first = line[0]!;
  const last = line.at(-1)!;
  return line.length > 2 && first[0] === last[0] && first[1] === last[1];
}
