/** Covariances taken out of columns: by nearest neighbours and with shared effects, against the whole matrix. */
import { describe, expect, it } from "vitest";
import { cholesky, dot } from "../../src/numerics/cholesky.ts";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { denseWhitening, type Whitening, withSharedEffects } from "../../src/numerics/whitening.ts";
import { nearestBefore, nearestNeighbourWhitening } from "../../src/stand-model/noise/nearest-neighbours.ts";

/** Places of a field of 36 ha with a stand's noise. */
function placesOf(count: number) {
  const random = seededRandom(7);
  const x = Float64Array.from({ length: count }, () => 600 * random());
  const y = Float64Array.from({ length: count }, () => 600 * random());
  const own = Float64Array.from({ length: count }, () => 5e-4 + 5e-4 * random());
  const covariance = (i: number, j: number): number =>
    i === j ? 6e-4 + own[i]! : 6e-4 * Math.exp(-Math.hypot(x[i]! - x[j]!, y[i]! - y[j]!) / 30);
  const groups = Int32Array.from({ length: count }, (_, i) => Math.floor(x[i]! / 50) - 1);
  const column = (): Float64Array => Float64Array.from({ length: count }, () => normal(random));
  return { count, x, y, covariance, groups, column };
}

type Places = ReturnType<typeof placesOf>;

function matrixOf({ count, covariance }: Places): Float64Array {
  const matrix = new Float64Array(count * count);
  for (let i = 0; i < count; i++) for (let j = 0; j < count; j++) matrix[i * count + j] = covariance(i, j);
  return matrix;
}

const products = (whitening: Whitening, a: Float64Array, b: Float64Array): number[] => [
  dot(whitening.whiten(a), whitening.whiten(a)),
  dot(whitening.whiten(a), whitening.whiten(b)),
  dot(whitening.pull(whitening.whiten(a)), b),
];

function expectEqual(one: readonly number[], other: readonly number[], tolerance = 1e-9): void {
  one.forEach((value, k) => {
    expect(Math.abs(value - other[k]!)).toBeLessThan(tolerance * Math.abs(one[0]!));
  });
}

describe("whitening", () => {
  it("by neighbours is that of the whole matrix where all others are neighbours", () => {
    const places = placesOf(40);
    const exact = denseWhitening(matrixOf(places), places.count);
    const near = nearestNeighbourWhitening(nearestBefore(places.x, places.y, 40), places.covariance);
    const [a, b] = [places.column(), places.column()];
    expectEqual(products(exact, a, b), products(near, a, b));
  });

  it("finds the nearest of the places before", () => {
    const { x, y } = placesOf(200);
    const { order, start, place } = nearestBefore(x, y, 5);
    expect([...order].sort((a, b) => a - b)).toEqual([...Array(200).keys()]);
    for (const k of [3, 5, 60, 199]) {
      const far = (i: number): number => Math.hypot(x[i]! - x[order[k]!]!, y[i]! - y[order[k]!]!);
      const wanted = [...order.slice(0, k)].sort((a, b) => far(a) - far(b)).slice(0, 5);
      expect([...place.subarray(start[k]!, start[k + 1]!)]).toEqual(wanted);
    }
  });

  it("by sixty neighbours is close to the whole matrix for 600 places", () => {
    const places = placesOf(600);
    const matrix = matrixOf(places);
    const exact = denseWhitening(matrix, places.count);
    const near = nearestNeighbourWhitening(nearestBefore(places.x, places.y), places.covariance);
    // A disc of 60 m, an even field, and a sample of the noise itself.
    const disc = Float64Array.from(places.x, (x, i) =>
      Math.hypot(x - 300, places.y[i]! - 300) < 60 ? 1 : 0,
    );
    const even = new Float64Array(600).fill(1);
    const factor = cholesky(matrix, 600);
    const white = places.column();
    const noise = Float64Array.from({ length: 600 }, (_, i) => {
      let sum = 0;
      for (let k = 0; k <= i; k++) sum += factor[i * 600 + k]! * white[k]!;
      return sum;
    });
    for (const column of [disc, even, noise]) {
      const [length] = products(exact, column, noise);
      expect(products(near, column, noise)[0]! / length!).toBeCloseTo(1, 2);
    }
    const score = (by: Whitening): number =>
      dot(by.whiten(disc), by.whiten(noise)) / Math.sqrt(dot(by.whiten(disc), by.whiten(disc)));
    expect(Math.abs(score(near) - score(exact))).toBeLessThan(0.05);
  });

  it("with shared effects is that of the matrix with these added", () => {
    const places = placesOf(60);
    const { count, groups } = places;
    const matrix = matrixOf(places);
    const with2 = matrix.slice();
    for (let i = 0; i < count; i++)
      for (let j = 0; j < count; j++)
        with2[i * count + j]! += 0.025 ** 2 + (groups[i] === groups[j] ? 0.02 ** 2 : 0);
    const whole = denseWhitening(with2, count);
    const apart = withSharedEffects(denseWhitening(matrix, count), count, [
      { groupOf: new Int32Array(count), sd: 0.025 },
      { groupOf: groups, sd: 0.02 },
    ]);
    const [a, b] = [places.column(), places.column()];
    expectEqual(products(whole, a, b), products(apart, a, b));
    expect(dot(apart.pull(b), a)).toBeCloseTo(dot(b, apart.whiten(a)), 8);
  });
});
