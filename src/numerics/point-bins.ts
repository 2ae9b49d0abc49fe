/** Points of the plane in square bins: which lie in a box, and which is nearest, without looking at the others. */

/** More bins than this, and sides grow: points far from each other must not cost memory (our judgement). */
const MOST_BINS = 4_000_000;

export class PointBins {
  readonly #x: ArrayLike<number>;
  readonly #y: ArrayLike<number>;
  readonly #sideM: number;
  readonly #column: number;
  readonly #row: number;
  readonly #columns: number;
  readonly #rows: number;
  /** Points of bin b are `#points[#start[b]..#start[b + 1])`, ascending. */
  readonly #start: Int32Array;
  readonly #points: Int32Array;

  /**
   * @param sideM side of a bin, m; larger where the points lie so far apart that bins would be too many
   * @param isIn which points count; those without a place (NaN) never do
   */
  constructor(
    x: ArrayLike<number>,
    y: ArrayLike<number>,
    sideM: number,
    isIn: (point: number) => boolean = () => true,
  ) {
    this.#x = x;
    this.#y = y;
    let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
    const counts = (point: number): boolean =>
      isIn(point) && Number.isFinite(x[point]!) && Number.isFinite(y[point]!);
    for (let point = 0; point < x.length; point++) {
      if (!counts(point)) continue;
      if (x[point]! < minX) minX = x[point]!;
      if (x[point]! > maxX) maxX = x[point]!;
      if (y[point]! < minY) minY = y[point]!;
      if (y[point]! > maxY) maxY = y[point]!;
    }
    if (!(maxX >= minX)) [minX, minY, maxX, maxY] = [0, 0, 0, 0];
    const binsOf = (side: number): number => ((maxX - minX) / side + 2) * ((maxY - minY) / side + 2);
    while (binsOf(sideM) > MOST_BINS) sideM *= 2;
    this.#sideM = sideM;
    this.#column = Math.floor(minX / sideM);
    this.#row = Math.floor(minY / sideM);
    this.#columns = Math.floor(maxX / sideM) - this.#column + 1;
    this.#rows = Math.floor(maxY / sideM) - this.#row + 1;
    const binOf = (point: number): number =>
      (Math.floor(x[point]! / sideM) - this.#column) * this.#rows + Math.floor(y[point]! / sideM) - this.#row;
    const start = new Int32Array(this.#columns * this.#rows + 1);
    for (let point = 0; point < x.length; point++) if (counts(point)) start[binOf(point) + 1]!++;
    for (let bin = 1; bin < start.length; bin++) start[bin]! += start[bin - 1]!;
    const next = start.slice();
    this.#points = new Int32Array(start[start.length - 1]!);
    for (let point = 0; point < x.length; point++)
      if (counts(point)) this.#points[next[binOf(point)]!++] = point;
    this.#start = start;
  }

  /** Visits the points of all bins that a box touches: every point of the box and some beyond, bin by bin. */
  forEachAbout(minX: number, minY: number, maxX: number, maxY: number, visit: (point: number) => void): void {
    const side = this.#sideM;
    const firstColumn = Math.max(0, Math.floor(minX / side) - this.#column);
    const lastColumn = Math.min(this.#columns - 1, Math.floor(maxX / side) - this.#column);
    const firstRow = Math.max(0, Math.floor(minY / side) - this.#row);
    const lastRow = Math.min(this.#rows - 1, Math.floor(maxY / side) - this.#row);
    if (firstRow > lastRow) return;
    for (let column = firstColumn; column <= lastColumn; column++) {
      const to = this.#start[column * this.#rows + lastRow + 1]!;
      for (let k = this.#start[column * this.#rows + firstRow]!; k < to; k++) visit(this.#points[k]!);
    }
  }

  /** The nearest point within a distance but for one left out, the first of those as near; -1 where none. */
  nearest(x: number, y: number, withinM: number, leftOut = -1): number {
    const side = this.#sideM;
    const column = Math.floor(x / side) - this.#column;
    const row = Math.floor(y / side) - this.#row;
    const last = Math.ceil(withinM / side);
    let best = -1;
    let bestM = withinM;
    for (let ring = 0; ring <= last; ring++) {
      // What lies in a ring of bins is at least this far away.
      if (best >= 0 && bestM < (ring - 1) * side) break;
      for (let c = Math.max(0, column - ring); c <= Math.min(this.#columns - 1, column + ring); c++) {
        const whole = Math.abs(c - column) === ring;
        for (let r = row - ring; r <= row + ring; r += whole ? 1 : Math.max(1, 2 * ring)) {
          if (r < 0 || r >= this.#rows) continue;
          const bin = c * this.#rows + r;
          for (let k = this.#start[bin]!; k < this.#start[bin + 1]!; k++) {
            const point = this.#points[k]!;
            const awayM = Math.hypot(this.#x[point]! - x, this.#y[point]! - y);
            if (awayM > bestM || (awayM === bestM && best >= 0 && best < point) || point === leftOut)
              continue;
            best = point;
            bestM = awayM;
          }
        }
      }
    }
    return best;
  }
}
