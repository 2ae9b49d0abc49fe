import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dot } from "../../src/numerics/cholesky.ts";
import { extendBasis, generalisedLeastSquares, removeBasis } from "../../src/numerics/least-squares.ts";
import { denseWhitening, type Whitening } from "../../src/numerics/whitening.ts";

function diagonal(values: number[]): Whitening["whiten"] {
  const matrix = new Float64Array(values.length ** 2);
  values.forEach((value, i) => {
    matrix[i * values.length + i] = value;
  });
  return denseWhitening(matrix, values.length).whiten;
}

describe("generalised least squares", () => {
  it("is the mean weighted by 1 / variance for one constant column", () => {
    const fit = generalisedLeastSquares(
      [Float64Array.of(1, 1, 1)],
      Float64Array.of(3, 5, 10),
      diagonal([1, 2, 4]),
    );
    // (3/1 + 5/2 + 10/4) / (1 + 1/2 + 1/4) = 8 / 1.75
    expect(fit.coefficients[0]).toBeCloseTo(8 / 1.75, 12);
    expect(fit.covariance[0]).toBeCloseTo(1 / 1.75, 12);
    expect(fit.logDetInformation).toBeCloseTo(Math.log(1.75), 12);
  });

  it("takes a prior as one more observation", () => {
    const fit = generalisedLeastSquares([Float64Array.of(1, 1)], Float64Array.of(4, 6), diagonal([1, 1]), {
      mean: Float64Array.of(2),
      precision: Float64Array.of(2),
    });
    expect(fit.coefficients[0]).toBeCloseTo((4 + 6 + 2 * 2) / 4, 12);
    expect(fit.covariance[0]).toBeCloseTo(1 / 4, 12);
  });

  it("leaves a collinear column out, whatever its unit, and says so", () => {
    const zone = Float64Array.of(1, 1, 0, 0);
    const other = Float64Array.of(0, 0, 1, 1);
    for (const unit of [1e-9, 1, 1e9]) {
      const again = Float64Array.of(1, 1, 1, 1).map((value) => value * unit);
      const fit = generalisedLeastSquares(
        [zone, other, again],
        Float64Array.of(1, 3, 5, 9),
        diagonal([1, 1, 1, 1]),
      );
      expect(fit.kept).toEqual([true, true, false]);
      expect(fit.coefficients[0]).toBeCloseTo(2, 12);
      expect(fit.coefficients[1]).toBeCloseTo(7, 12);
      expect(fit.coefficients[2]).toBeNaN();
    }
  });
});

describe("orthonormal basis", () => {
  it("does not grow by rounding noise, and what it removes stays removed", () => {
    const column = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 8, maxLength: 8 });
    fc.assert(
      fc.property(fc.array(column, { minLength: 1, maxLength: 12 }), (columns) => {
        const basis: Float64Array[] = [];
        for (const values of columns) extendBasis(basis, Float64Array.from(values));
        expect(basis.length).toBeLessThanOrEqual(8);
        basis.forEach((unit, i) => {
          for (let j = 0; j <= i; j++) expect(dot(unit, basis[j]!)).toBeCloseTo(i === j ? 1 : 0, 10);
        });
        for (const values of columns) {
          const left = Float64Array.from(values);
          removeBasis(basis, left);
          const length = Math.hypot(...values);
          expect(Math.hypot(...left)).toBeLessThanOrEqual(3.1e-3 * length + 1e-12);
        }
      }),
    );
  });
});
