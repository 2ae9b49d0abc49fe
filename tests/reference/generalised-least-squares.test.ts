import { describe, expect, it } from "vitest";
import { covarianceMatrix } from "../../src/cluster/covariance.ts";
import { packNeighbours } from "../../src/cluster/neighbours.ts";
import { scanForGroups } from "../../src/cluster/score-scan.ts";
import { cholesky, logDeterminant } from "../../src/numerics/cholesky.ts";
import { generalisedLeastSquares } from "../../src/numerics/least-squares.ts";
import wheat from "./data/wheat2.json" with { type: "json" };

const x = Float64Array.from(wheat.longitude);
const y = Float64Array.from(wheat.latitude);
const model = { spatialVariance: 0.8, rangeM: 10, nuggetVariance: 0.2 };
const factor = cholesky(covarianceMatrix(model, x, y, null), x.length);
const intercept = new Float64Array(x.length).fill(1);

describe("generalised least squares with fixed covariance against R (see data/wheat2.json)", () => {
  it("gives the coefficient, its standard error and the log determinant to 1e-10", () => {
    const fit = generalisedLeastSquares([intercept], Float64Array.from(wheat.yield), factor);
    expect(fit.coefficients[0]).toBeCloseTo(wheat.fixed.beta, 10);
    expect(Math.sqrt(fit.covariance[0]!)).toBeCloseTo(wheat.fixed.se, 10);
    expect(logDeterminant(factor, x.length)).toBeCloseTo(wheat.fixed.logdetS, 8);
  });

  it("gives the score of a window; the scan counts a deficit as positive, so the yield is turned over", () => {
    const members = Int32Array.from([...x.keys()].filter((i) => y[i]! > 20 && x[i]! > 10));
    const response = Float64Array.from(wheat.yield, (value) => -value);
    const { groups } = scanForGroups(
      {
        response,
        columns: [intercept],
        factor,
        candidates: [{ family: "guided", members, label: "window" }],
        neighbours: packNeighbours(wheat.yield.map(() => [])),
        adjusted: response,
      },
      { seed: 1, simulations: 99 },
    );
    expect(groups[0]!.score).toBeCloseTo(wheat.fixed.score_z, 9);
  });
});
