import fc from "fast-check";
import { expect, it } from "vitest";
import { clusteredLeastSquares } from "../../src/numerics/clustered-least-squares.ts";
import { expectRelative } from "../support/relative.ts";

const ones = (count: number) => new Float64Array(count).fill(1);

it("a worked line by hand: slope, and error from leaving out each cluster", () => {
  // One level, x = -1, -1, 1, 1, y = 0, 1, 3, 6: slope 2, mean 2.5, residuals -0.5, 0.5, -1.5, 1.5.
  const fit = clusteredLeastSquares({
    y: Float64Array.of(0, 1, 3, 6),
    columns: [Float64Array.of(-1, -1, 1, 1)],
    weights: ones(4),
    levelOf: new Int32Array(4),
    levels: 1,
    clusterOf: Int32Array.of(0, 1, 1, 2),
    clusters: 3,
  })!;
  expectRelative(fit.coefficients[0]!, 2, 1e-12);
  // A = 4; by cluster A_g = 1, 2, 1 and score 0.5, -0.5 - 1.5 = -2, 1.5: moves 0.5/3, -2/2, 1.5/3.
  const moves = 0.5 ** 2 / 9 + 1 + 1.5 ** 2 / 9;
  // All but a thousandth of a cluster is left out.
  expectRelative(fit.standardErrors[0]!, Math.sqrt((2 / 3) * moves), 3e-3);
  expect(fit.clusters).toBe(3);
});

it("the error is that of a jackknife over clusters with the means held", () => {
  const x = Float64Array.of(1, 2, 4, 7, 8, 11);
  const y = Float64Array.of(2.1, 3.9, 9.2, 13.1, 17.5, 20.2);
  const fit = clusteredLeastSquares({
    y,
    columns: [x],
    weights: ones(6),
    levelOf: new Int32Array(6),
    levels: 1,
    clusterOf: Int32Array.of(0, 0, 1, 1, 2, 2),
    clusters: 3,
  })!;
  const mx = x.reduce((a, b) => a + b) / 6;
  const my = y.reduce((a, b) => a + b) / 6;
  const slopeOf = (used: number[]) =>
    used.reduce((sum, i) => sum + (x[i]! - mx) * (y[i]! - my), 0) /
    used.reduce((sum, i) => sum + (x[i]! - mx) ** 2, 0);
  const slope = slopeOf([0, 1, 2, 3, 4, 5]);
  const moves = [
    [2, 3, 4, 5],
    [0, 1, 4, 5],
    [0, 1, 2, 3],
  ].map((used) => slopeOf(used) - slope);
  expectRelative(fit.coefficients[0]!, slope, 1e-12);
  expectRelative(
    fit.standardErrors[0]!,
    Math.sqrt((2 / 3) * moves.reduce((sum, move) => sum + move ** 2, 0)),
    5e-3,
  );
});

it("a column that rests on one cluster alone is left out", () => {
  const fit = clusteredLeastSquares({
    y: Float64Array.of(1, 2, 1, 4, 1.5, 1.2),
    columns: [Float64Array.of(3, 3, 5, 6, 1, 1), Float64Array.of(1, 2, 2, 1, 3, 5)],
    weights: ones(6),
    levelOf: Int32Array.of(0, 0, 1, 1, 2, 2),
    levels: 3,
    clusterOf: Int32Array.of(0, 0, 1, 1, 2, 2),
    clusters: 3,
  })!;
  expect(fit.coefficients[0]).toBeNaN();
  expect(fit.coefficients[1]).not.toBeNaN();
});

it("levels fall out, whatever they are", () => {
  const random = fc.array(fc.double({ min: -5, max: 5, noNaN: true }), { minLength: 12, maxLength: 12 });
  fc.assert(
    fc.property(random, random, fc.double({ min: -100, max: 100, noNaN: true }), (a, b, shift) => {
      const problem = {
        y: Float64Array.from(a),
        columns: [Float64Array.from(b, (value, i) => value + i)],
        weights: Float64Array.from(a, (_, i) => 1 + (i % 3)),
        levelOf: Int32Array.from(a, (_, i) => i % 2),
        levels: 2,
        clusterOf: Int32Array.from(a, (_, i) => i % 4),
        clusters: 4,
      };
      const fit = clusteredLeastSquares(problem);
      const moved = clusteredLeastSquares({
        ...problem,
        y: problem.y.map((value, i) => value + (i % 2) * shift),
      });
      if (!fit || !moved) return;
      expect(Math.abs(moved.coefficients[0]! - fit.coefficients[0]!)).toBeLessThan(1e-8);
    }),
    { seed: 8, numRuns: 60 },
  );
});

it("a column that repeats another is left out, too few clusters give nothing", () => {
  const x = Float64Array.of(1, 2, 3, 4, 6);
  const problem = {
    y: Float64Array.of(1, 3, 2, 5, 5),
    columns: [x, x.map((value) => 3 * value - 7)],
    weights: ones(5),
    levelOf: new Int32Array(5),
    levels: 1,
    clusterOf: Int32Array.of(0, 1, 2, 0, 1),
    clusters: 3,
  };
  const fit = clusteredLeastSquares(problem)!;
  expect(fit.coefficients[0]).not.toBeNaN();
  expect(fit.coefficients[1]).toBeNaN();
  expect(clusteredLeastSquares({ ...problem, clusterOf: new Int32Array(5), clusters: 1 })).toBeNull();
});
