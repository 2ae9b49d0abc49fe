/**
 * A small invented field for the tests of the search: straight passes, three soil zones, stand noise with a
 * known covariance. Everything follows from the seed.
 */
import type { Cells } from "../../../src/cells/cells.ts";
import { cholesky } from "../../../src/numerics/cholesky.ts";
import { normal, seededRandom } from "../../../src/numerics/random.ts";
import { covarianceMatrix } from "../../../src/stand-model/noise/covariance.ts";

export const SWATH_M = 12;
export const PIECE_M = 12;

/** Straight passes to and fro, `pieces` cells long, cut into three zones by lines across the field. */
export function straightCells(passes: number, pieces: number): Cells {
  const count = passes * pieces;
  const cells: Cells = {
    count,
    pass: new Int32Array(count),
    piece: new Int32Array(count),
    x: new Float64Array(count),
    y: new Float64Array(count),
    areaM2: new Float64Array(count).fill(SWATH_M * PIECE_M),
    headingDeg: new Float64Array(count),
    zone: new Int32Array(count),
    mean: {},
    depthSdMm: null,
    marginP10N: null,
    noLoadShare: null,
    records: new Int32Array(count).fill(10),
  };
  for (let pass = 0; pass < passes; pass++) {
    for (let piece = 0; piece < pieces; piece++) {
      const i = pass * pieces + piece;
      const north = pass % 2 === 0;
      cells.pass[i] = pass + 1;
      cells.piece[i] = piece;
      cells.x[i] = (pass + 0.5) * SWATH_M;
      cells.y[i] = ((north ? piece : pieces - 1 - piece) + 0.5) * PIECE_M;
      cells.headingDeg[i] = north ? 0 : 180;
      const across = cells.x[i]! / (passes * SWATH_M) + cells.y[i]! / (pieces * PIECE_M);
      cells.zone[i] = across < 0.7 ? 0 : across < 1.3 ? 1 : 2;
    }
  }
  return cells;
}

/** Counted spots spread over the cells in strata, a little off their centres. */
export function spotsOnCells(
  cells: Cells,
  count: number,
  seed: number,
): {
  x: Float64Array;
  y: Float64Array;
  pass: Int32Array;
  alongM: Float64Array;
  cell: Int32Array;
  zone: Int32Array;
} {
  const random = seededRandom(seed);
  const cell = Int32Array.from({ length: count }, (_, k) =>
    Math.floor(((k + random()) / count) * cells.count),
  );
  const at = (values: Float64Array): Float64Array =>
    Float64Array.from(cell, (i) => values[i]! + (random() - 0.5) * 8);
  return {
    x: at(cells.x),
    y: at(cells.y),
    pass: Int32Array.from(cell, (i) => cells.pass[i]!),
    alongM: Float64Array.from(cell, (i) => (cells.piece[i]! + random()) * PIECE_M),
    cell,
    zone: Int32Array.from(cell, (i) => cells.zone[i]!),
  };
}

/** Noise with the covariance of the library's own model: exponential, practical range 3 x rangeM. */
export function standNoise(
  x: Float64Array,
  y: Float64Array,
  seed: number,
  model = { spatialVariance: 0.025 ** 2, rangeM: 22, nuggetVariance: 0.02 ** 2 },
): Float64Array {
  const random = seededRandom(seed);
  const size = x.length;
  const factor = cholesky(covarianceMatrix(model, x, y, null), size);
  const white = Float64Array.from(x, () => normal(random));
  return white.map((_, row) => {
    let sum = 0;
    for (let k = 0; k <= row; k++) sum += factor[row * size + k]! * white[k]!;
    return sum;
  });
}

/** Stand level of each zone of {@link straightCells} with nothing wrong. */
export const ZONE_LEVELS = [0.92, 0.95, 0.89] as const;
