/**
 * The heart of a place the log points to. The line around a place is drawn where the predicted loss ends, so its rim
 * and what a harmless change beside it adds lie inside the line too; counts there tell little of whether it does harm.
 */
import type { Cells } from "../cells/cells.ts";

/** A cell and what lies about it are taken together, m: the pieces before and after it and the passes beside it. */
const ABOUT_M = 19;
/** The heart: cells that predict at least this share of what the worst sixth of the place predicts (our judgement). */
const LEAST_SHARE = 0.6;
const WORST_QUANTILE = 0.85;
/** A heart of fewer cells is no heart: then the whole place is taken. */
const FEWEST_CELLS = 8;

/**
 * Marks the heart of a place.
 * @param loss loss the log predicts at each cell, all factors together, share of stand
 * @param isInside cells of the place
 * @returns 1 for each cell of the heart; null where the log predicts no loss there, or the place is too small for one
 */
export function heartOf(
  cells: Cells,
  loss: Float64Array,
  isInside: (cell: number) => boolean,
): Uint8Array | null {
  const own = [...Array(cells.count).keys()].filter(isInside);
  if (own.length === 0) return null;
  const smooth = own.map((cell) => meanAbout(cells, loss, cell));
  const worst = [...smooth].sort((a, b) => a - b)[Math.floor(WORST_QUANTILE * own.length)]!;
  if (!(worst > 0)) return null;
  const heart = new Uint8Array(cells.count);
  let count = 0;
  own.forEach((cell, k) => {
    if (smooth[k]! < LEAST_SHARE * worst) return;
    heart[cell] = 1;
    count++;
  });
  return count >= FEWEST_CELLS ? heart : null;
}

function meanAbout(cells: Cells, loss: Float64Array, cell: number): number {
  let sum = 0;
  let count = 0;
  for (let other = 0; other < cells.count; other++) {
    const away = Math.hypot(cells.x[other]! - cells.x[cell]!, cells.y[other]! - cells.y[cell]!);
    if (away > ABOUT_M) continue;
    sum += loss[other]!;
    count++;
  }
  return sum / count;
}
