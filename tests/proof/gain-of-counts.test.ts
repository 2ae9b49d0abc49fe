/** The interval of what new loads gained, on simulated stands with patches: it has to hold as often as it says. */
import { describe, expect, it } from "vitest";
import { cholesky } from "../../src/numerics/cholesky.ts";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { gainAt, gainOver, noiseOf } from "../../src/proof/gain-of-counts.ts";
import type { Sides } from "../../src/proof/sides.ts";
import type { Spots } from "../../src/stand/spots.ts";
import { covarianceMatrix } from "../../src/stand-model/noise/covariance.ts";

const PLANTS = 32;

/** Strips 300 m long with counts along them and 25 m beside; another 30 counts over the field. */
function stand(seed: number, strips: number, counts: number, gain: number) {
  const random = seededRandom(seed);
  const [x, y]: [number[], number[]] = [[], []];
  const sides: Sides[] = [];
  for (let s = 0; s < strips; s++) {
    const at: Sides["spots"] = { strip: [], beside: [] };
    for (let k = 0; k < counts; k++) {
      for (const side of ["strip", "beside"] as const) {
        at[side].push(x.length);
        x.push(s * 250 + (side === "strip" ? 0 : k % 2 === 0 ? 25 : -25));
        y.push(((k + 0.5) / counts) * 300);
      }
    }
    sides.push({ spots: at } as Sides);
  }
  for (let k = 0; k < 30; k++) {
    x.push(random() * 250 * strips);
    y.push(random() * 600);
  }
  const count = x.length;
  const [xs, ys] = [Float64Array.from(x), Float64Array.from(y)];
  // Patches and unevenness of other sizes and ranges than those taken for usual.
  const [patch, spot, rangeM] = [0.015 + 0.03 * random(), 0.015 + 0.03 * random(), 20 + 80 * random()];
  const truth = { spatialVariance: patch ** 2, nuggetVariance: spot ** 2, rangeM };
  const factor = cholesky(covarianceMatrix(truth, xs, ys, null), count)!;
  const draws = Float64Array.from({ length: count }, () => normal(random));
  const strip = new Set(sides.flatMap((side) => side.spots.strip));
  const response = Float64Array.from({ length: count }, (_, i) => {
    let noise = 0;
    for (let j = 0; j <= i; j++) noise += factor[i * count + j]! * draws[j]!;
    const expected = 0.92 + noise - (strip.has(i) ? gain : 0);
    return Math.round(PLANTS * expected + Math.sqrt(PLANTS * 0.07) * normal(random)) / PLANTS;
  });
  const spots = {
    count,
    x: xs,
    y: ys,
    response,
    zone: new Int32Array(count),
    countingVariance: new Float64Array(count).fill(0.07 / PLANTS),
  } as Partial<Spots> as Spots;
  return { spots, sides };
}

function holds(seed: number, strips: number, counts: number, gain: number): boolean {
  const { spots, sides } = stand(seed, strips, counts, gain);
  const noise = noiseOf(spots, sides);
  const over = gainOver(sides.map((side) => ({ gain: gainAt(side, spots, noise)!, counts: 2 * counts })))!;
  return over.low <= gain && gain <= over.high;
}

describe("the interval of a gain", () => {
  it.each([
    [1, 8, 0],
    [2, 8, 0.04],
    [4, 6, 0.08],
  ])("with %i strips of %i counts holds a gain of %f in nine of ten stands", (strips, counts, gain) => {
    const stands = 200;
    let held = 0;
    for (let seed = 1; seed <= stands; seed++) if (holds(1000 * strips + seed, strips, counts, gain)) held++;
    // Three standard errors of a share of 0.9 of 200 stands.
    expect(held / stands).toBeGreaterThan(0.836);
    expect(held / stands).toBeLessThanOrEqual(0.985);
  });
});
