/** Strips left at today's setting, one in each soil zone whose load changes: next spring's proof. */
import { sumIn, summed } from "./ground-limits.ts";
import type { GroundRaster } from "./ground-raster.ts";
import type { RatePlan } from "./ground-rates.ts";

export interface ProofStrip {
  soil: number;
  todayN: number;
  /** Corners in local metres, counter-clockwise, not closed. */
  corners: [number, number][];
  widthM: number;
  lengthM: number;
}

export interface StripSize {
  /** Whole bar widths, m. */
  widthM: number;
  lengthM: number;
  /** Ground of the zone's own load to leave beside the strip and before and behind it, m. */
  besideM: number;
  beforeM: number;
}

/** Share of a strip's squares that must be of its soil zone (our judgement; the rest was absorbed into it). */
const OWN_SOIL_SHARE = 0.9;

/**
 * Places a strip along the heading in each zone of the plan: the first of the sizes that fits with the ground
 * around it, in the middle of the places where it fits. Soil zones without a place are returned by number.
 */
export function placeStrips(
  raster: GroundRaster,
  labels: Int16Array,
  plan: RatePlan,
  sizes: readonly StripSize[],
): { strips: ProofStrip[]; without: number[] } {
  const { grid, field, soil: soils, heading } = raster;
  const { columns, rows, stepM } = grid;
  const taken = new Uint8Array(field.length);
  const squares = sizes.map((size) => inSquares(size, stepM));
  const strips: ProofStrip[] = [];
  const without: number[] = [];
  const withoutSoil = plan.rateOfSoil.length - 1;
  for (const { soil, todayN } of plan.strips) {
    const free = summed(columns, rows, (i) =>
      field[i] === 1 && labels[i] === soil && taken[i] === 0 ? 1 : 0,
    );
    const wanted = soil === withoutSoil ? -1 : soil;
    const own = summed(columns, rows, (i) => (soils[i] === wanted ? 1 : 0));
    let chosen = 0;
    let best: [number, number] | null = null;
    for (; best === null && chosen < squares.length; chosen++)
      best = middlePlace(free, own, columns, rows, squares[chosen]!);
    chosen--;
    if (best === null) {
      without.push(soil);
      continue;
    }
    const size = sizes[chosen]!;
    const { wide, long } = squares[chosen]!;
    for (let row = best[1]; row < best[1] + long; row++)
      taken.fill(1, row * columns + best[0], row * columns + best[0] + wide);
    const middleU = grid.minX + (best[0] + wide / 2) * stepM;
    const middleV = grid.minY + (best[1] + long / 2) * stepM;
    const [halfU, halfV] = [size.widthM / 2, size.lengthM / 2];
    const corners = [
      [-halfU, -halfV],
      [halfU, -halfV],
      [halfU, halfV],
      [-halfU, halfV],
    ].map(([du, dv]) => heading.back(middleU + du!, middleV + dv!));
    strips.push({ soil, todayN, corners, widthM: size.widthM, lengthM: size.lengthM });
  }
  return { strips, without };
}

interface SquareSize {
  across: number;
  along: number;
  beside: number;
  before: number;
  /** With the ground around it. */
  wide: number;
  long: number;
}

function inSquares(size: StripSize, stepM: number): SquareSize {
  const [across, along] = [Math.ceil(size.widthM / stepM), Math.ceil(size.lengthM / stepM)];
  const [beside, before] = [Math.ceil(size.besideM / stepM), Math.ceil(size.beforeM / stepM)];
  return { across, along, beside, before, wide: across + 2 * beside, long: along + 2 * before };
}

/**
 * South-west square (column, row) of the ground a strip takes, in the middle of all places where it fits; null
 * where there is none.
 */
function middlePlace(
  free: Int32Array,
  own: Int32Array,
  columns: number,
  rows: number,
  { across, along, beside, before, wide, long }: SquareSize,
): [number, number] | null {
  const places: [number, number][] = [];
  let [sumColumn, sumRow] = [0, 0];
  for (let row = 0; row + long <= rows; row++) {
    for (let column = 0; column + wide <= columns; column++) {
      if (sumIn(free, columns + 1, column, row, wide, long) < wide * long) continue;
      const ofSoil = sumIn(own, columns + 1, column + beside, row + before, across, along);
      if (ofSoil < OWN_SOIL_SHARE * across * along) continue;
      places.push([column, row]);
      sumColumn += column;
      sumRow += row;
    }
  }
  const [middleColumn, middleRow] = [sumColumn / places.length, sumRow / places.length];
  let best: [number, number] | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const place of places) {
    const distance = (place[0] - middleColumn) ** 2 + (place[1] - middleRow) ** 2;
    if (distance >= least) continue;
    best = place;
    least = distance;
  }
  return best;
}
