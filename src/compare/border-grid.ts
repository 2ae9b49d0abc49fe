/** Squares over the records that no border of a polygon runs through: what holds for one of their records holds for all. */
import type { LocalPolygon } from "../vocabulary/field.ts";

/** Answers of a square: not asked yet; a border runs through it; from {@link NOTHING_INSIDE} on, the caller's answer. */
export const UNKNOWN = 0;
const HAS_BORDER = 1;
export const NOTHING_INSIDE = 2;

const MOST_SQUARES_A_SIDE = 512;
/** Records to a square, about. */
const RECORDS_A_SQUARE = 4;
/** Borders are marked this much wider, as a share of a square, so that rounding leaves no square out. */
const MARGIN = 1e-3;

export class BorderGrid {
  /** One entry a square. */
  readonly answers: Int32Array;
  private readonly side: number;
  private readonly minX: number;
  private readonly minY: number;
  private readonly perMetreX: number;
  private readonly perMetreY: number;

  /** @param x positions of the records, NaN where missing */
  constructor(x: Float64Array, y: Float64Array) {
    this.side = Math.max(1, Math.min(MOST_SQUARES_A_SIDE, Math.ceil(Math.sqrt(x.length / RECORDS_A_SQUARE))));
    const [minX, maxX] = range(x);
    const [minY, maxY] = range(y);
    this.minX = minX;
    this.minY = minY;
    this.perMetreX = maxX > minX ? this.side / (maxX - minX) : 0;
    this.perMetreY = maxY > minY ? this.side / (maxY - minY) : 0;
    this.answers = new Int32Array(this.side * this.side);
  }

  /** Square of a position within the records' range. */
  squareOf(x: number, y: number): number {
    const last = this.side - 1;
    const column = Math.min(last, Math.floor((x - this.minX) * this.perMetreX));
    const row = Math.min(last, Math.floor((y - this.minY) * this.perMetreY));
    return row * this.side + column;
  }

  /** Marks the squares that the edges of a polygon run through. */
  markBorders(polygon: LocalPolygon): void {
    for (const ring of polygon) {
      for (let corner = 0; corner < ring.length; corner++) {
        const [ax, ay] = ring[corner]!;
        const [bx, by] = ring[(corner + 1) % ring.length]!;
        this.markEdge(
          (ax - this.minX) * this.perMetreX,
          (ay - this.minY) * this.perMetreY,
          (bx - this.minX) * this.perMetreX,
          (by - this.minY) * this.perMetreY,
        );
      }
    }
  }

  /** Ends in squares from the corner of the grid. */
  private markEdge(ax: number, ay: number, bx: number, by: number): void {
    const last = this.side - 1;
    const [low, high] = ay <= by ? [ay, by] : [by, ay];
    const firstRow = Math.max(0, Math.floor(low - MARGIN));
    const lastRow = Math.min(last, Math.floor(high + MARGIN));
    for (let row = firstRow; row <= lastRow; row++) {
      // The part of the edge within the row, a margin wider.
      const from = clamp((row - MARGIN - ay) / (by - ay));
      const to = clamp((row + 1 + MARGIN - ay) / (by - ay));
      const flat = by - ay === 0;
      const [left, right] = flat ? [ax, bx] : [ax + from * (bx - ax), ax + to * (bx - ax)];
      const firstColumn = Math.max(0, Math.floor(Math.min(left, right) - MARGIN));
      const lastColumn = Math.min(last, Math.floor(Math.max(left, right) + MARGIN));
      for (let column = firstColumn; column <= lastColumn; column++) {
        this.answers[row * this.side + column] = HAS_BORDER;
      }
    }
  }
}

function clamp(share: number): number {
  return Math.min(1, Math.max(0, share));
}

function range(values: Float64Array): [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return [low, high];
}
