import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  cholesky,
  dot,
  logDeterminant,
  solveCholesky,
  solveLower,
  solveLowerTransposed,
} from "../../src/numerics/cholesky.ts";

const entries = fc.double({ min: -2, max: 2, noNaN: true });

/** A'A + I of a random square A: symmetric, positive definite, well conditioned. */
const positiveDefinite = fc.integer({ min: 1, max: 9 }).chain((size) =>
  fc.tuple(
    fc.array(entries, { minLength: size * size, maxLength: size * size }).map((a) => {
      const matrix = new Float64Array(size * size);
      for (let i = 0; i < size; i++) {
        for (let j = 0; j < size; j++) {
          for (let k = 0; k < size; k++) matrix[i * size + j]! += a[k * size + i]! * a[k * size + j]!;
        }
        matrix[i * size + i]! += 1;
      }
      return matrix;
    }),
    fc.array(entries, { minLength: size, maxLength: size }).map((right) => Float64Array.from(right)),
  ),
);

function times(matrix: Float64Array, vector: Float64Array): Float64Array {
  const size = vector.length;
  return vector.map((_, i) => dot(matrix.subarray(i * size, (i + 1) * size), vector));
}

function expectClose(actual: Float64Array, expected: Float64Array): void {
  expected.forEach((value, i) => {
    expect(actual[i]).toBeCloseTo(value, 9);
  });
}

describe("Cholesky factor", () => {
  it("solves S x = b: S times the answer is b again", () => {
    fc.assert(
      fc.property(positiveDefinite, ([matrix, right]) => {
        expectClose(times(matrix, solveCholesky(cholesky(matrix, right.length), right.length, right)), right);
      }),
    );
  });

  it("solves with either half: their products undo each other", () => {
    fc.assert(
      fc.property(positiveDefinite, ([matrix, right]) => {
        const size = right.length;
        const factor = cholesky(matrix, size);
        const halfway = solveLower(factor, size, right);
        expectClose(times(factor, halfway), right);
        // (C^-1 b)'(C^-1 b) = b' S^-1 b
        expect(dot(halfway, halfway)).toBeCloseTo(dot(right, solveCholesky(factor, size, right)), 9);
        expect(dot(solveLowerTransposed(factor, size, right), right)).toBeCloseTo(dot(right, halfway), 9);
      }),
    );
  });

  it("gives the log determinant", () => {
    // |4 2; 2 5| = 16
    expect(logDeterminant(cholesky(Float64Array.of(4, 2, 2, 5), 2), 2)).toBeCloseTo(Math.log(16), 12);
  });

  it("refuses a matrix that is not positive definite, whatever its scale", () => {
    for (const scale of [1, 1e-12, 1e12]) {
      const singular = Float64Array.of(1, 1, 1, 1).map((value) => value * scale);
      expect(() => cholesky(singular, 2)).toThrow(/not positive definite at row 1/);
      expect(() =>
        cholesky(
          Float64Array.of(1, 0, 0, 1).map((value) => value * scale),
          2,
        ),
      ).not.toThrow();
    }
    expect(() => cholesky(new Float64Array(5), 2)).toThrow(/expected 4 entries/);
  });
});
