import { describe, expect, it } from "vitest";
import { cholesky, logDeterminant } from "../../src/numerics/cholesky.ts";
import { generalisedLeastSquares } from "../../src/numerics/least-squares.ts";
import { denseWhitening } from "../../src/numerics/whitening.ts";
import { covarianceMatrix } from "../../src/stand-model/noise/covariance.ts";
import wheat from "./data/wheat2.json" with { type: "json" };

const x = Float64Array.from(wheat.longitude);
const y = Float64Array.from(wheat.latitude);
const model = { spatialVariance: 0.8, rangeM: 10, nuggetVariance: 0.2 };
const matrix = covarianceMatrix(model, x, y, null);
const { whiten } = denseWhitening(matrix, x.length);
const intercept = new Float64Array(x.length).fill(1);

describe("generalised least squares with fixed covariance against R (see data/wheat2.json)", () => {
  it("gives the coefficient, its standard error and the log determinant to 1e-10", () => {
    const fit = generalisedLeastSquares([intercept], Float64Array.from(wheat.yield), whiten);
    expect(fit.coefficients[0]).toBeCloseTo(wheat.fixed.beta, 10);
    expect(Math.sqrt(fit.covariance[0]!)).toBeCloseTo(wheat.fixed.se, 10);
    expect(logDeterminant(cholesky(matrix, x.length), x.length)).toBeCloseTo(wheat.fixed.logdetS, 8);
  });

  it("gives the score of a window, which is its coefficient over the standard error", () => {
    const inside = x.map((_, i) => (y[i]! > 20 && x[i]! > 10 ? 1 : 0));
    const fit = generalisedLeastSquares([intercept, inside], Float64Array.from(wheat.yield), whiten);
    expect(fit.coefficients[1]! / Math.sqrt(fit.covariance[3]!)).toBeCloseTo(wheat.fixed.score_z, 9);
  });
});
