import { describe, expect, it } from "vitest";
import { countingVariance } from "../../src/cluster/covariance.ts";
import { usualSpacing } from "../../src/cluster/covariance-fit.ts";
import { findGroups } from "../../src/cluster/find-groups.ts";
import { findRiskRegions, guidedCandidates } from "../../src/cluster/guided.ts";
import { cellNeighbours, neighboursWithin } from "../../src/cluster/neighbours.ts";
import { layOutPasses } from "../../src/cluster/pass-layout.ts";
import { freeCandidates } from "../../src/cluster/windows.ts";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { SWATH_M, spotsOnCells, standNoise, straightCells, ZONE_LEVELS } from "./support/field-simulator.ts";

const cells = straightCells(36, 50);
const layout = layOutPasses(cells, SWATH_M);
const ofCells = cellNeighbours(cells, SWATH_M);
const COUNTING = countingVariance(0.9, 108);

/**
 * A field of 26 ha with counted spots, a place where the log predicts 5 to 8 points of loss and another where
 * it predicts 4 to 6 that do no harm. Covariance and zone levels are not known to the search.
 * @param truth how much of the first place's prediction comes true
 */
function search(seed: number, count: number, truth: number) {
  const random = seededRandom(seed);
  const [placeX, placeY] = [60 + 300 * random(), 100 + 400 * random()];
  const harmlessX = (placeX + 180) % 400;
  const real = cells.x.map((x, i) =>
    Math.abs(x - placeX) < 48 && Math.abs(cells.y[i]! - placeY) < 75 ? 0.05 + 0.03 * random() : 0,
  );
  const harmless = cells.x.map((x, i) =>
    Math.abs(x - harmlessX) < 30 && Math.abs(cells.y[i]! - placeY) < 60 ? 0.04 + 0.02 * random() : 0,
  );
  const losses = { real, harmless };
  const spots = spotsOnCells(cells, count, seed + 1);
  const noise = standNoise(spots.x, spots.y, seed + 2);
  const at = (values: Float64Array): Float64Array => Float64Array.from(spots.cell, (cell) => values[cell]!);
  const expected = at(real);
  const response = noise.map((value, i) => {
    const loss = truth * expected[i]! * (1 + 0.3 * normal(random));
    return ZONE_LEVELS[spots.zone[i]!]! + value + Math.sqrt(COUNTING) * normal(random) - loss;
  });
  const regions = findRiskRegions(cells, ofCells, losses);
  const candidates = [...guidedCandidates(regions, spots.cell).candidates, ...freeCandidates(spots, layout)];
  const found = findGroups(
    {
      x: spots.x,
      y: spots.y,
      response,
      zone: spots.zone,
      losses: { real: expected, harmless: at(harmless) },
      countingVariance: new Float64Array(count).fill(COUNTING),
      candidates,
      neighbours: neighboursWithin(spots.x, spots.y, 1.8 * usualSpacing(spots.x, spots.y)),
    },
    { seed, simulations: 199 },
  );
  const inPlace = (members: Int32Array): number =>
    members.filter((i) => expected[i]! > 0).length / members.length;
  return { ...found, hit: found.groups.some(({ outline }) => inPlace(outline) >= 0.3), inPlace };
}

describe("search for groups with everything estimated", () => {
  it("stays near its 5 % where the log predicts losses but none came (60 spots: at most 4 of 30)", () => {
    const alarms = Array.from({ length: 30 }, (_, k) => search(300 + k, 60, 0).groups.length > 0);
    expect(alarms.filter(Boolean).length).toBeLessThanOrEqual(4);
  });

  it("finds 6 points on 1.4 ha with 120 spots most of the time, and calls nothing else", () => {
    const runs = Array.from({ length: 15 }, (_, k) => search(700 + k, 120, 1));
    // Measured: 87 % of 60 fields of this kind.
    expect(runs.filter(({ hit }) => hit).length).toBeGreaterThanOrEqual(10);
    const elsewhere = runs.flatMap(({ groups, inPlace }) =>
      groups.filter(({ outline }) => inPlace(outline) < 0.3),
    );
    // Measured: 3 % of 120 fields of this kind (nominal 5 %).
    expect(elsewhere.length).toBeLessThanOrEqual(2);
  });

  it("is not hidden by its own size: a deep group leaves the noise estimate as it is", () => {
    const { model, hit } = search(42, 120, 4);
    const { covariance } = model;
    expect(hit).toBe(true);
    // Put in: 0.025 and 0.02 and counting; with the group left in the estimate it is well above 0.05.
    expect(Math.sqrt(covariance.spatialVariance + covariance.nuggetVariance)).toBeLessThan(0.045);
  });
});
