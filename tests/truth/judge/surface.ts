/** Correlated variation over the ground: a sum of waves whose frequencies follow the spectrum of the wanted law. */
import { between, type Chance, gauss } from "./chance.ts";

const WAVES = 120;

/** Height at a place, m to the right and m along; variance 1 unless said otherwise. */
export type Surface = (across: number, along: number) => number;

/**
 * `exponential`: correlation exp(-d/a). `smooth`: Matern with smoothness 2.5. `patchy`: exponential, its strength
 * between 0.4 and 2 over the field (not stationary). `trending`: smooth on a slow swell.
 */
export type NoiseLaw = "exponential" | "smooth" | "patchy" | "trending";

/** Draws a surface of a law with a range, m. */
export function drawSurface(chance: Chance, law: NoiseLaw, rangeM: number): Surface {
  switch (law) {
    case "exponential":
      return waves(chance, 1, rangeM);
    case "smooth":
      return waves(chance, 5, rangeM);
    case "patchy": {
      const own = waves(chance, 1, rangeM);
      const strength = waves(chance, 5, 140);
      return (x, y) => own(x, y) * Math.min(2, Math.max(0.4, Math.exp(0.45 * strength(x, y) - 0.1)));
    }
    case "trending": {
      const own = waves(chance, 3, rangeM);
      const swell = waves(chance, 5, 180);
      return (x, y) => 0.85 * own(x, y) + 0.5 * swell(x, y);
    }
  }
}

/**
 * The spectral density of a Matern law with smoothness k/2 is a bivariate t law with k degrees of freedom
 * (Rasmussen & Williams 2006, Gaussian Processes for Machine Learning, ch. 4; from memory).
 */
function waves(chance: Chance, degrees: number, rangeM: number): Surface {
  const [kx, ky, phase] = [new Float64Array(WAVES), new Float64Array(WAVES), new Float64Array(WAVES)];
  for (let wave = 0; wave < WAVES; wave++) {
    let square = 0;
    for (let k = 0; k < degrees; k++) square += gauss(chance) ** 2;
    const length = rangeM * Math.sqrt(square / degrees);
    kx[wave] = gauss(chance) / length;
    ky[wave] = gauss(chance) / length;
    phase[wave] = between(chance, 0, 2 * Math.PI);
  }
  const height = Math.sqrt(2 / WAVES);
  return (x, y) => {
    let sum = 0;
    for (let wave = 0; wave < WAVES; wave++) sum += Math.cos(kx[wave]! * x + ky[wave]! * y + phase[wave]!);
    return height * sum;
  };
}

/**
 * The same surface from a grid of knots, each worked out when first asked for, straight between them: for slow
 * surfaces that are asked for at every row.
 */
export function onKnots(surface: Surface, widthM: number, lengthM: number): Surface {
  const columns = Math.ceil((widthM + 2 * KNOT_MARGIN_M) / KNOT_STEP_M) + 2;
  const rows = Math.ceil((lengthM + 2 * KNOT_MARGIN_M) / KNOT_STEP_M) + 2;
  const heights = new Float64Array(columns * rows).fill(Number.NaN);
  const knot = (column: number, row: number): number => {
    const at = row * columns + column;
    const known = heights[at]!;
    if (!Number.isNaN(known)) return known;
    const height = surface(column * KNOT_STEP_M - KNOT_MARGIN_M, row * KNOT_STEP_M - KNOT_MARGIN_M);
    heights[at] = height;
    return height;
  };
  return (x, y) => {
    const right = Math.min(columns - 2, Math.max(0, (x + KNOT_MARGIN_M) / KNOT_STEP_M));
    const up = Math.min(rows - 2, Math.max(0, (y + KNOT_MARGIN_M) / KNOT_STEP_M));
    const [column, row] = [Math.floor(right), Math.floor(up)];
    const [a, b] = [right - column, up - row];
    const low = knot(column, row) * (1 - a) + knot(column + 1, row) * a;
    const high = knot(column, row + 1) * (1 - a) + knot(column + 1, row + 1) * a;
    return low * (1 - b) + high * b;
  };
}

const KNOT_STEP_M = 10;
const KNOT_MARGIN_M = 60;
