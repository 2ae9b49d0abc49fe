import { describe, expect, it } from "vitest";
import { packNeighbours } from "../../src/cells/neighbours.ts";
import { geary, getisOrdG, getisOrdGStar, localMoran, moran } from "../truth/local-statistics.ts";
import columbus from "./data/columbus.json" with { type: "json" };

const values = Float64Array.from(columbus.values);
const neighbours = packNeighbours(columbus.neighbours);

function expectAll(actual: Float64Array, expected: number[]): void {
  expect(actual).toHaveLength(expected.length);
  expected.forEach((value, i) => {
    expect(actual[i], `place ${i}`).toBeCloseTo(value, 10);
  });
}

describe("spatial association on CRIME of columbus against spdep (see data/columbus.json), to 1e-10", () => {
  it("Gi and Gi*, binary weights", () => {
    expectAll(getisOrdG(values, neighbours), columbus.gi);
    expectAll(getisOrdGStar(values, neighbours), columbus.giStar);
  });

  it("local Moran with conditional moments", () => {
    const local = localMoran(values, neighbours);
    expectAll(local.statistic, columbus.localMoranConditional.statistic);
    expectAll(local.expectation, columbus.localMoranConditional.expectation);
    expectAll(local.variance, columbus.localMoranConditional.variance);
    expectAll(local.z, columbus.localMoranConditional.z);
  });

  it("Moran's I", () => {
    const result = moran(values, neighbours);
    expect(result.statistic).toBeCloseTo(columbus.moran.statistic, 12);
    expect(result.expectation).toBeCloseTo(columbus.moran.expectation, 12);
    expect(result.variance).toBeCloseTo(columbus.moran.varianceRandomisation, 12);
    expect(result.z).toBeCloseTo(columbus.moran.z, 10);
  });

  it("Geary's C", () => {
    const result = geary(values, neighbours);
    expect(result.statistic).toBeCloseTo(columbus.geary.statistic, 12);
    expect(result.variance).toBeCloseTo(columbus.geary.variance, 12);
    expect(result.z).toBeCloseTo(columbus.geary.z, 10);
  });
});
