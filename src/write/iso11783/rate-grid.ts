/**
 * Rate zones as a grid of cells along the parallels and meridians: which zone the centre of each cell lies in.
 * Rows run from south to north, columns from west to east.
 */
import { PrescriptionError } from "../../errors.ts";
import { levelCrossings } from "../../numerics/label-point.ts";
import type { LocalFrame } from "../../vocabulary/field.ts";

/** Rings in degrees, longitude first. */
export type DegreeRings = readonly (readonly (readonly number[])[])[];

export interface RateGrid {
  /** South-west corner of the first cell, degrees, whole 1e-9. */
  minimumNorth: number;
  minimumEast: number;
  /** Size of a cell, degrees, whole 1e-9. */
  cellNorth: number;
  cellEast: number;
  rows: number;
  columns: number;
  /** Side of a cell, m. */
  cellM: number;
  /** Index of the zone of each cell, row by row, -1 where the centre lies in none. */
  zoneOfCell: Int32Array;
}

/** Most cells of a grid: 1 MB of set-points (our judgement; the standard sets no limit that a field would reach). */
export const MOST_CELLS = 250_000;
/** Smallest cell that may be asked for, m: far below what any machine follows (our judgement). */
const LEAST_CELL_M = 0.5;
/** Cells that each zone must hold for the grid to stand for it; smaller cells are taken until it does (our judgement). */
const LEAST_CELLS_A_ZONE = 4;
const DECIMALS = 9;

/**
 * Lays the grid over the zones. Where a zone holds fewer than four cell centres (a field or strip about as small as a
 * cell) the cell is halved, as often as the limit on cells allows.
 * @param cellM wanted side of a cell, m.
 * @throws {PrescriptionError} when the cell is no length or too small, the grid would be too large, or a zone is left without a cell.
 */
export function rateGrid(zones: readonly DegreeRings[], frame: LocalFrame, cellM: number): RateGrid {
  if (!(cellM >= LEAST_CELL_M) || !Number.isFinite(cellM))
    throw new PrescriptionError(`a grid cell of ${cellM} m cannot be written`, {
      value: String(cellM),
      accepted: `a length of ${LEAST_CELL_M} m or more`,
    });
  const box = boxOf(zones);
  let grid = gridOf(zones, box, frame, cellM);
  while (leastCells(grid, zones.length) < LEAST_CELLS_A_ZONE && grid.zoneOfCell.length * 4 <= MOST_CELLS)
    grid = gridOf(zones, box, frame, grid.cellM / 2);
  if (leastCells(grid, zones.length) === 0)
    throw new PrescriptionError(
      `no cell of ${grid.cellM} m has its centre in one of the rate zones; smaller cells would be more than ${MOST_CELLS}`,
      { value: `${cellM} m`, accepted: "a smaller cell, wider zones, or polygons" },
    );
  return grid;
}

interface Box {
  west: number;
  south: number;
  east: number;
  north: number;
}

function boxOf(zones: readonly DegreeRings[]): Box {
  const box = { west: Infinity, south: Infinity, east: -Infinity, north: -Infinity };
  for (const [longitude, latitude] of zones.flat(2) as unknown as readonly (readonly [number, number])[]) {
    box.west = Math.min(box.west, longitude);
    box.east = Math.max(box.east, longitude);
    box.south = Math.min(box.south, latitude);
    box.north = Math.max(box.north, latitude);
  }
  if (!(box.east > box.west && box.north > box.south))
    throw new PrescriptionError("the prescription has no ground to lay a grid over", {
      accepted: "rate zones with an area",
    });
  return box;
}

function gridOf(zones: readonly DegreeRings[], box: Box, frame: LocalFrame, cellM: number): RateGrid {
  const { northM, eastM } = metresPerDegree(box, frame);
  const cellNorth = rounded(cellM / northM);
  const cellEast = rounded(cellM / eastM);
  const minimumNorth = Math.floor(box.south * 10 ** DECIMALS) / 10 ** DECIMALS;
  const minimumEast = Math.floor(box.west * 10 ** DECIMALS) / 10 ** DECIMALS;
  const rows = Math.max(1, Math.ceil((box.north - minimumNorth) / cellNorth));
  const columns = Math.max(1, Math.ceil((box.east - minimumEast) / cellEast));
  if (!(rows * columns <= MOST_CELLS))
    throw new PrescriptionError(
      `cells of ${cellM} m make a grid of ${rows} rows and ${columns} columns; at most ${MOST_CELLS} cells are written`,
      {
        value: `${cellM} m`,
        accepted: `cells of ${Math.ceil(cellM * Math.sqrt((rows * columns) / MOST_CELLS))} m or more`,
      },
    );
  const zoneOfCell = new Int32Array(rows * columns).fill(-1);
  zones.forEach((rings, zone) => {
    for (let row = 0; row < rows; row++) {
      const cuts = levelCrossings(rings, minimumNorth + (row + 0.5) * cellNorth);
      for (let pair = 0; pair + 1 < cuts.length; pair += 2) {
        // A centre on a border belongs to the zone east of it, so that no cell has two.
        const from = Math.max(0, Math.ceil((cuts[pair]! - minimumEast) / cellEast - 0.5));
        const to = Math.min(columns, Math.ceil((cuts[pair + 1]! - minimumEast) / cellEast - 0.5));
        if (to > from) zoneOfCell.fill(zone, row * columns + from, row * columns + to);
      }
    }
  });
  return { minimumNorth, minimumEast, cellNorth, cellEast, rows, columns, cellM, zoneOfCell };
}

/** Length of a degree at the middle of the box, m. */
function metresPerDegree({ west, south, east, north }: Box, frame: LocalFrame) {
  const [longitude, latitude] = [(west + east) / 2, (south + north) / 2];
  const step = 0.001;
  const [x0, y0] = frame.toLocal(longitude - step / 2, latitude);
  const [x1, y1] = frame.toLocal(longitude + step / 2, latitude);
  const [x2, y2] = frame.toLocal(longitude, latitude - step / 2);
  const [x3, y3] = frame.toLocal(longitude, latitude + step / 2);
  return { eastM: Math.hypot(x1 - x0, y1 - y0) / step, northM: Math.hypot(x3 - x2, y3 - y2) / step };
}

function leastCells({ zoneOfCell }: RateGrid, zones: number): number {
  const cells = new Int32Array(zones);
  for (const zone of zoneOfCell) if (zone >= 0) cells[zone]!++;
  return cells.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
}

function rounded(degrees: number): number {
  return Number(degrees.toFixed(DECIMALS));
}
