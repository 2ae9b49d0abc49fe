/** Picks cells one after the other, each as far as may be from all counts and picks before it. */
import type { Cells } from "../cells/cells.ts";

/** Spots nearer to each other than this say the same twice, m (our judgement). */
const NEAREST_M = 20;

export class SpotPicker {
  readonly #cells: Cells;
  readonly #usable: number[];
  /** Distance of each cell to the nearest count or pick, m. */
  readonly #away: Float64Array;
  readonly #taken: { x: number; y: number }[] = [];

  /**
   * @param usable cells that may be picked
   * @param counts places counted before
   */
  constructor(cells: Cells, usable: (cell: number) => boolean, counts: { x: number[]; y: number[] }) {
    this.#cells = cells;
    this.#usable = [...Array(cells.count).keys()].filter(usable);
    this.#away = new Float64Array(cells.count).fill(Number.POSITIVE_INFINITY);
    counts.x.forEach((x, k) => {
      this.#take(x, counts.y[k]!);
    });
  }

  /** The cell farthest from everything counted or picked, and marks it picked; -1 where no room is left. */
  farthest(isWanted: (cell: number) => boolean): number {
    let best = -1;
    const wanted = this.#usable.filter((cell) => this.#away[cell]! >= NEAREST_M && isWanted(cell));
    if (this.#taken.length === 0) best = this.#middleOf(wanted);
    else for (const cell of wanted) if (best < 0 || this.#away[cell]! > this.#away[best]!) best = cell;
    if (best >= 0) this.#take(this.#cells.x[best]!, this.#cells.y[best]!);
    return best;
  }

  /** Counts and picks so far whose nearest usable cell is wanted. */
  countIn(isWanted: (cell: number) => boolean): number {
    return this.#taken.filter(({ x, y }) => {
      let nearest = -1;
      let least = Number.POSITIVE_INFINITY;
      for (const cell of this.#usable) {
        const away = Math.hypot(this.#cells.x[cell]! - x, this.#cells.y[cell]! - y);
        if (away < least) {
          least = away;
          nearest = cell;
        }
      }
      return nearest >= 0 && isWanted(nearest);
    }).length;
  }

  /** With nothing counted or picked yet, the first pick is the one nearest the middle of what is wanted. */
  #middleOf(wanted: readonly number[]): number {
    const { x, y } = this.#cells;
    const middleX = wanted.reduce((sum, cell) => sum + x[cell]!, 0) / wanted.length;
    const middleY = wanted.reduce((sum, cell) => sum + y[cell]!, 0) / wanted.length;
    const awayOf = (cell: number): number => Math.hypot(x[cell]! - middleX, y[cell]! - middleY);
    return wanted.reduce((best, cell) => (best < 0 || awayOf(cell) < awayOf(best) ? cell : best), -1);
  }

  #take(x: number, y: number): void {
    this.#taken.push({ x, y });
    for (const cell of this.#usable) {
      const away = Math.hypot(this.#cells.x[cell]! - x, this.#cells.y[cell]! - y);
      if (away < this.#away[cell]!) this.#away[cell] = away;
    }
  }
}
