/** A fine square raster of ground: rectangles are painted into it, its area measured, its outline traced. */
import { booleanPointInPolygon } from "@turf/boolean-point-in-polygon";
import { lineString, polygon } from "@turf/helpers";
import { simplify } from "@turf/simplify";

/** Closed rings, outer first (counter-clockwise), holes after (clockwise), in the raster's metres. */
export type TracedPolygon = [number, number][][];

export class CoverageGrid {
  readonly minX: number;
  readonly minY: number;
  readonly stepM: number;
  readonly columns: number;
  readonly rows: number;
  /** 1 where ground is covered; row by row from the south, columns from the west. */
  readonly mask: Uint8Array;
  readonly #crossings = new Float64Array(4);

  /** A raster over the box, one empty square beyond it on every side. */
  constructor(minX: number, minY: number, maxX: number, maxY: number, stepM: number) {
    this.stepM = stepM;
    this.minX = minX - stepM;
    this.minY = minY - stepM;
    this.columns = Math.max(1, Math.ceil((maxX - this.minX) / stepM) + 1);
    this.rows = Math.max(1, Math.ceil((maxY - this.minY) / stepM) + 1);
    this.mask = new Uint8Array(this.columns * this.rows);
  }

  /**
   * Covers every square whose centre lies in the rectangle.
   * @param headingDeg direction of its length, degrees clockwise from north
   */
  paintRectangle(x: number, y: number, headingDeg: number, lengthM: number, widthM: number): void {
    const heading = (headingDeg * Math.PI) / 180;
    const sine = Math.sin(heading);
    const cosine = Math.cos(heading);
    const reachX = (Math.abs(sine) * lengthM + Math.abs(cosine) * widthM) / 2;
    const reachY = (Math.abs(cosine) * lengthM + Math.abs(sine) * widthM) / 2;
    const fromColumn = Math.max(0, Math.ceil((x - reachX - this.minX) / this.stepM - 0.5));
    const toColumn = Math.min(this.columns - 1, Math.floor((x + reachX - this.minX) / this.stepM - 0.5));
    const fromRow = Math.max(0, Math.ceil((y - reachY - this.minY) / this.stepM - 0.5));
    const toRow = Math.min(this.rows - 1, Math.floor((y + reachY - this.minY) / this.stepM - 0.5));
    for (let row = fromRow; row <= toRow; row++) {
      const dy = this.minY + (row + 0.5) * this.stepM - y;
      for (let column = fromColumn; column <= toColumn; column++) {
        const dx = this.minX + (column + 0.5) * this.stepM - x;
        const along = dx * sine + dy * cosine;
        const across = dx * cosine - dy * sine;
        if (Math.abs(along) <= lengthM / 2 && Math.abs(across) <= widthM / 2)
          this.mask[row * this.columns + column] = 1;
      }
    }
  }

  /** Covers every square whose centre lies in the polygon of these corners (even-odd rule; not closed). */
  paintPolygon(corners: readonly (readonly [number, number])[]): void {
    this.forEachRun([corners], (from, to) => this.mask.fill(1, from, to));
  }

  /**
   * Visits the runs of squares, row by row, whose centres lie in the polygon of these rings (even-odd rule; closed or
   * not): `from` is included in the mask, `to` is not.
   */
  forEachRun(
    rings: readonly (readonly (readonly [number, number])[])[],
    visit: (from: number, to: number) => void,
  ): void {
    let lowest = Number.POSITIVE_INFINITY;
    let highest = Number.NEGATIVE_INFINITY;
    for (const ring of rings) {
      for (let i = 0; i < ring.length; i++) {
        const y = ring[i]![1];
        if (y < lowest) lowest = y;
        if (y > highest) highest = y;
      }
    }
    const fromRow = Math.max(0, Math.ceil((lowest - this.minY) / this.stepM - 0.5));
    const toRow = Math.min(this.rows - 1, Math.floor((highest - this.minY) / this.stepM - 0.5));
    const crossings: number[] = [];
    for (let row = fromRow; row <= toRow; row++) {
      const y = this.minY + (row + 0.5) * this.stepM;
      crossings.length = 0;
      for (const ring of rings) {
        for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
          const yi = ring[i]![1];
          const yj = ring[j]![1];
          if (yi > y === yj > y) continue;
          const xi = ring[i]![0];
          crossings.push(xi + ((y - yi) / (yj - yi)) * (ring[j]![0] - xi));
        }
      }
      if (crossings.length > 2) crossings.sort((a, b) => a - b);
      else if (crossings[0]! > crossings[1]!) crossings.reverse();
      for (let pair = 0; pair + 1 < crossings.length; pair += 2) {
        const from = Math.max(0, Math.ceil((crossings[pair]! - this.minX) / this.stepM - 0.5));
        const to = Math.min(
          this.columns - 1,
          Math.floor((crossings[pair + 1]! - this.minX) / this.stepM - 0.5),
        );
        if (to >= from) visit(row * this.columns + from, row * this.columns + to + 1);
      }
    }
  }

  /** Covers every square whose centre lies in a figure of four corners: x, y, x, y ... in order round it. */
  paintQuad(corners: Float64Array): void {
    const { mask } = this;
    this.forEachRunOfQuad(corners, (from, to) => {
      // A row unit is a square or two wide: shorter than a call would take.
      for (let square = from; square < to; square++) mask[square] = 1;
    });
  }

  /** As {@link forEachRun} for a figure of four corners, which need not be convex. */
  forEachRunOfQuad(corners: Float64Array, visit: (from: number, to: number) => void): void {
    const { minX, minY, stepM, columns } = this;
    const lowest = Math.min(corners[1]!, corners[3]!, corners[5]!, corners[7]!);
    const highest = Math.max(corners[1]!, corners[3]!, corners[5]!, corners[7]!);
    const fromRow = Math.max(0, Math.ceil((lowest - minY) / stepM - 0.5));
    const toRow = Math.min(this.rows - 1, Math.floor((highest - minY) / stepM - 0.5));
    const crossings = this.#crossings;
    for (let row = fromRow; row <= toRow; row++) {
      const y = minY + (row + 0.5) * stepM;
      let count = 0;
      for (let i = 0, j = 6; i < 8; j = i, i += 2) {
        const yi = corners[i + 1]!;
        const yj = corners[j + 1]!;
        if (yi > y === yj > y) continue;
        const xi = corners[i]!;
        const x = xi + ((y - yi) / (yj - yi)) * (corners[j]! - xi);
        let place = count++;
        for (; place > 0 && crossings[place - 1]! > x; place--) crossings[place] = crossings[place - 1]!;
        crossings[place] = x;
      }
      for (let pair = 0; pair + 1 < count; pair += 2) {
        const from = Math.max(0, Math.ceil((crossings[pair]! - minX) / stepM - 0.5));
        const to = Math.min(columns - 1, Math.floor((crossings[pair + 1]! - minX) / stepM - 0.5));
        if (to >= from) visit(row * columns + from, row * columns + to + 1);
      }
    }
  }

  /** Place in the mask of the square that holds the point, -1 beyond the raster. */
  squareAt(x: number, y: number): number {
    const column = Math.floor((x - this.minX) / this.stepM);
    const row = Math.floor((y - this.minY) / this.stepM);
    if (column < 0 || row < 0 || column >= this.columns || row >= this.rows) return -1;
    return row * this.columns + column;
  }

  /** Covered area, m2. */
  area(): number {
    let covered = 0;
    for (const square of this.mask) covered += square;
    return covered * this.stepM * this.stepM;
  }

  /** Closes gaps up to twice the given number of squares wide: grown by so many squares, then shrunk again. */
  closeGaps(squares: number): void {
    for (let k = 0; k < squares; k++) this.spread(1);
    for (let k = 0; k < squares; k++) this.spread(0);
  }

  /** Takes away parts narrower than twice the given number of squares: shrunk by so many squares, then grown again. */
  removeThinParts(squares: number): void {
    for (let k = 0; k < squares; k++) this.spread(0);
    for (let k = 0; k < squares; k++) this.spread(1);
  }

  /** One square of growth of the covered (1) or the empty (0) ground. */
  private spread(value: 0 | 1): void {
    const before = this.mask.slice();
    for (let row = 1; row < this.rows - 1; row++) {
      for (let column = 1; column < this.columns - 1; column++) {
        const i = row * this.columns + column;
        if (before[i] === value) continue;
        if (
          before[i - 1] === value ||
          before[i + 1] === value ||
          before[i - this.columns] === value ||
          before[i + this.columns] === value
        ) {
          this.mask[i] = value;
        }
      }
    }
  }

  /** Outline of the covered ground; lines are straightened within the tolerance (m), parts and holes below `leastM2` dropped. */
  trace(toleranceM: number, leastM2: number): TracedPolygon[] {
    const outers: [number, number][][] = [];
    const holes: [number, number][][] = [];
    for (const ring of this.rings()) {
      const area = signedArea(ring);
      if (Math.abs(area) < leastM2) continue;
      const line = simplifyRing(ring, toleranceM);
      if (line.length < 4) continue;
      (area > 0 ? outers : holes).push(line);
    }
    const polygons: TracedPolygon[] = outers.map((outer) => [outer]);
    for (const hole of holes) {
      const [x, y] = hole[0]!;
      const home = polygons
        .filter((polygon) => ringContains(polygon[0]!, x, y))
        .sort((a, b) => Math.abs(signedArea(a[0]!)) - Math.abs(signedArea(b[0]!)))[0];
      home?.push(hole);
    }
    return polygons;
  }

  /** Raw outlines along square edges, covered ground on the left: outer rings counter-clockwise, holes clockwise. */
  private *rings(): Generator<[number, number][]> {
    const width = this.columns + 1;
    const filled = (column: number, row: number): boolean =>
      column >= 0 &&
      row >= 0 &&
      column < this.columns &&
      row < this.rows &&
      this.mask[row * this.columns + column] === 1;
    // Directed edges by their first corner; a corner where two squares touch diagonally has two.
    const next = new Map<number, number[]>();
    const add = (from: number, to: number): void => {
      const list = next.get(from);
      if (list) list.push(to);
      else next.set(from, [to]);
    };
    for (let row = 0; row < this.rows; row++) {
      for (let column = 0; column < this.columns; column++) {
        if (!filled(column, row)) continue;
        const corner = row * width + column;
        if (!filled(column, row - 1)) add(corner, corner + 1);
        if (!filled(column + 1, row)) add(corner + 1, corner + 1 + width);
        if (!filled(column, row + 1)) add(corner + 1 + width, corner + width);
        if (!filled(column - 1, row)) add(corner + width, corner);
      }
    }
    for (const start of [...next.keys()].sort((a, b) => a - b)) {
      while ((next.get(start)?.length ?? 0) > 0) {
        const ring: [number, number][] = [];
        let at = start;
        let came = 0;
        do {
          ring.push([this.minX + (at % width) * this.stepM, this.minY + Math.floor(at / width) * this.stepM]);
          const options = next.get(at)!;
          // At a diagonal touch turn left, so that the two parts stay apart.
          const k = options.length > 1 ? leftmost(options, at, came) : 0;
          const to = options.splice(k, 1)[0]!;
          came = to - at;
          at = to;
        } while (at !== start);
        ring.push(ring[0]!);
        yield ring;
      }
    }
  }
}

/** Index of the edge that turns left when coming with the given step. */
function leftmost(options: readonly number[], at: number, came: number): number {
  const left = came === 1 || came === -1 ? 1 : -1;
  const wanted = options.findIndex((to) => {
    const step = to - at;
    // East (1) turns left to north (+width), north to west (-1), west to south (-width), south to east (1).
    return came === 1 || came === -1 ? Math.sign(step) === Math.sign(came) * left : step === -Math.sign(came);
  });
  return Math.max(0, wanted);
}

/** Signed area of a closed ring; positive when counter-clockwise. */
export function signedArea(ring: readonly (readonly [number, number])[]): number {
  let twice = 0;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    twice += ring[j]![0] * ring[i]![1] - ring[i]![0] * ring[j]![1];
  }
  return twice / 2;
}

/** True when the point lies inside the closed ring. */
export function ringContains(ring: [number, number][], x: number, y: number): boolean {
  return booleanPointInPolygon([x, y], polygon([ring]));
}

/** A closed ring straightened within the tolerance (Douglas & Peucker 1973, Cartographica 10:112-122). */
function simplifyRing(ring: [number, number][], toleranceM: number): [number, number][] {
  const options = { tolerance: toleranceM, highQuality: true };
  return simplify(polygon([ring]), options).geometry.coordinates[0] as [number, number][];
}

/** The same on an open line of at least two points; first and last point stay. */
export function simplifyLine(line: [number, number][], toleranceM: number): [number, number][] {
  if (line.length < 3) return line;
  const options = { tolerance: toleranceM, highQuality: true };
  return simplify(lineString(line), options).geometry.coordinates as [number, number][];
}

/** Distance from a point to a segment. */
export function distanceToSegment(
  p: readonly [number, number],
  a: readonly [number, number],
  b: readonly [number, number],
): number {
  const length2 = (a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2;
  const t = length2 === 0 ? 0 : ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / length2;
  const clamped = Math.max(0, Math.min(1, t));
  return Math.hypot(p[0] - a[0] - clamped * (b[0] - a[0]), p[1] - a[1] - clamped * (b[1] - a[1]));
}
