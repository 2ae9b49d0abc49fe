import { describe, expect, it } from "vitest";
import { median } from "../../src/numerics/descriptive.ts";
import { denseWhitening } from "../../src/numerics/whitening.ts";
import { covarianceMatrix } from "../../src/stand-model/noise/covariance.ts";
import {
  fitByRestrictedLikelihood,
  fitByRobustVariogram,
} from "../../src/stand-model/noise/covariance-fit.ts";
import { fitStandModel } from "../../src/stand-model/noise/noise-of-stand.ts";
import { fitZoneModel } from "../../src/stand-model/noise/zone-model.ts";
import { spotsOnCells, standNoise, straightCells, ZONE_LEVELS } from "./support/field-simulator.ts";

const NOISE = { spatialVariance: 0.03 ** 2, rangeM: 25, nuggetVariance: 0.02 ** 2 };
const TOTAL = Math.sqrt(NOISE.spatialVariance + NOISE.nuggetVariance);

describe("covariance of the stand", () => {
  it("is symmetric, holds counting on its diagonal and falls off exponentially", () => {
    const x = Float64Array.of(0, 30);
    const matrix = covarianceMatrix(NOISE, x, new Float64Array(2), Float64Array.of(0.001, 0));
    expect(matrix[0]).toBeCloseTo(0.0009 + 0.0004 + 0.001, 12);
    expect(matrix[3]).toBeCloseTo(0.0009 + 0.0004, 12);
    expect(matrix[1]).toBeCloseTo(0.0009 * Math.exp(-30 / 25), 12);
    expect(matrix[2]).toBe(matrix[1]);
  });

  it("comes back within a third by restricted likelihood (median of 15 fields of 120 spots)", () => {
    const cells = straightCells(36, 50);
    const fits = Array.from({ length: 15 }, (_, k) => {
      const spots = spotsOnCells(cells, 120, k);
      const residual = standNoise(spots.x, spots.y, 50 + k, NOISE);
      const columns = [new Float64Array(120).fill(1)];
      return fitByRestrictedLikelihood({ ...spots, residual, columns, countingVariance: null });
    });
    const total = median(fits.map((fit) => Math.sqrt(fit.spatialVariance + fit.nuggetVariance)));
    expect(total / TOTAL).toBeGreaterThan(0.9);
    expect(total / TOTAL).toBeLessThan(1.1);
    const range = median(fits.map((fit) => fit.rangeM));
    expect(range).toBeGreaterThan(25 / 1.5);
    expect(range).toBeLessThan(25 * 1.5);
  });

  it("comes back by the robust variogram, one cell in twenty being a wild one", () => {
    const cells = straightCells(15, 40);
    const fits = Array.from({ length: 5 }, (_, k) => {
      const residual = standNoise(cells.x, cells.y, 90 + k, NOISE);
      for (let i = 0; i < residual.length; i += 20) residual[i]! -= 0.5;
      return fitByRobustVariogram({ x: cells.x, y: cells.y, residual, columns: [], countingVariance: null });
    });
    const total = median(fits.map((fit) => Math.sqrt(fit.spatialVariance + fit.nuggetVariance)));
    expect(total / TOTAL).toBeGreaterThan(0.8);
    expect(total / TOTAL).toBeLessThan(1.25);
  });
});

describe("zone levels", () => {
  const cells = straightCells(15, 30);
  const noise = standNoise(cells.x, cells.y, 5);
  // A fault over more than half of zone 1, which the log predicts at 8 points and which costs 10.
  const inFault = (i: number): boolean => cells.zone[i] === 1 && cells.x[i]! > 60;
  const predicted = cells.x.map((_, i) => (inFault(i) ? 0.08 : 0));
  const response = noise.map((value, i) => value + ZONE_LEVELS[cells.zone[i]!]! - (inFault(i) ? 0.1 : 0));

  it("are not dragged down by a fault over more than half of the zone, as a median is", () => {
    const share = [...cells.zone.keys()].filter(inFault).length / cells.zone.filter((z) => z === 1).length;
    expect(share).toBeGreaterThan(0.5);
    const model = fitStandModel({
      x: cells.x,
      y: cells.y,
      response,
      zone: cells.zone,
      losses: { shallow: predicted },
      countingVariance: null,
    });
    const plainMedian = median(response.filter((_, i) => cells.zone[i] === 1));
    expect(Math.abs(plainMedian - ZONE_LEVELS[1])).toBeGreaterThan(0.05);
    expect(Math.abs(model.zoneLevel.get(1)! - ZONE_LEVELS[1])).toBeLessThan(0.03);
    // The planting loss is still in the adjusted stand and out of the residual.
    const inside = [...cells.x.keys()].filter(inFault);
    expect(median(inside.map((i) => model.adjusted[i]!))).toBeLessThan(-0.07);
    expect(Math.abs(median(inside.map((i) => model.residual[i]!)))).toBeLessThan(0.03);
    expect(model.response.shallow!.share).toBeGreaterThan(0.8);
    expect(model.method).toBe("robust variogram");
  });

  it("see that one zone is twice as patchy as the others", () => {
    const patchy = response.map((value, i) => value + (cells.zone[i] === 0 ? noise[i]! : 0));
    const model = fitStandModel({
      x: cells.x,
      y: cells.y,
      response: patchy,
      zone: cells.zone,
      losses: { shallow: predicted },
      countingVariance: null,
    });
    const patchinessOf = (zone: number): number => model.patchiness[cells.zone.indexOf(zone)]!;
    expect(patchinessOf(0) / patchinessOf(2)).toBeGreaterThan(1.4);
    expect(patchinessOf(0) / patchinessOf(2)).toBeLessThan(2.6);
  });

  it("leans on the prior where the stand says nothing of a factor", () => {
    const { whiten } = denseWhitening(
      covarianceMatrix(NOISE, cells.x.subarray(0, 40), cells.y.subarray(0, 40), null),
      40,
    );
    const model = fitZoneModel({
      response: response.subarray(0, 40),
      zone: new Int32Array(40).fill(-1),
      losses: { speed: new Float64Array(40) },
      whiten,
    });
    expect(model.response.speed!.share).toBeCloseTo(1, 9);
    expect(model.response.speed!.standardError).toBeCloseTo(0.6, 9);
    expect(model.zoneLevel.has(-1)).toBe(true);
  });
});
