/** The outline of a place: its cells painted on a fine raster, small gaps closed, traced. */
import type { Cells } from "../cells/cells.ts";
import { CELL_LENGTH_M } from "../cells/make-cells.ts";
import { CoverageGrid } from "../numerics/coverage-grid.ts";
import type { LocalPolygon } from "../vocabulary/field.ts";

const STEP_M = 2;
/** Gaps up to 8 m (uneven pass joints, one missing reading) are closed. */
const GAP_SQUARES = 2;
const STRAIGHTEN_M = 4;
const SMALLEST_PART_M2 = 150;

/**
 * Outline of the cells in local metres.
 * @param swathWidthM width of the bar, m
 */
export function outlineCells(cells: Cells, members: ArrayLike<number>, swathWidthM: number): LocalPolygon[] {
  if (members.length === 0) return [];
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (const cell of Array.from(members)) {
    minX = Math.min(minX, cells.x[cell]!);
    minY = Math.min(minY, cells.y[cell]!);
    maxX = Math.max(maxX, cells.x[cell]!);
    maxY = Math.max(maxY, cells.y[cell]!);
  }
  const reach = swathWidthM + CELL_LENGTH_M;
  const grid = new CoverageGrid(minX - reach, minY - reach, maxX + reach, maxY + reach, STEP_M);
  for (const cell of Array.from(members)) {
    grid.paintRectangle(
      cells.x[cell]!,
      cells.y[cell]!,
      cells.headingDeg[cell]!,
      CELL_LENGTH_M + 1,
      swathWidthM + 0.5,
    );
  }
  grid.closeGaps(GAP_SQUARES);
  return grid.trace(STRAIGHTEN_M, SMALLEST_PART_M2);
}
