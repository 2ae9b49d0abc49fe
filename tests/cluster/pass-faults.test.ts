import { describe, expect, it } from "vitest";
import type { Cells } from "../../src/cells/cells.ts";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { findPassFaults } from "../../src/places/pass-faults.ts";
import { layOutPasses } from "../../src/places/pass-layout.ts";
import { SWATH_M, straightCells } from "./support/field-simulator.ts";

/** Depth with soil, a slow trend across the field and noise; some passes are shifted. */
function depthCells(seed: number, shifts: Record<number, number>): Cells {
  const random = seededRandom(seed);
  const cells = straightCells(30, 30);
  const depth = Float64Array.from(cells.x, (x, i) => {
    const soil = [0, 4, -5][cells.zone[i]!]!;
    return 50 + soil + 0.02 * x + (shifts[cells.pass[i]!] ?? 0) + 1.5 * normal(random);
  });
  return { ...cells, mean: { seedingDepth: depth } };
}

const search = (cells: Cells) => findPassFaults(cells, layOutPasses(cells, SWATH_M));

describe("passes that depart from their neighbours", () => {
  it("finds one shallow pass, its size and nothing beside it", () => {
    const faults = search(depthCells(1, { 12: -6 }));
    expect(faults).toHaveLength(1);
    expect(faults[0]!.passes).toEqual([12]);
    expect(faults[0]!.shift).toBeCloseTo(-6, 0);
    expect(faults[0]!.agreement).toBeGreaterThan(0.9);
  });

  it("finds three passes side by side as one run", () => {
    const faults = search(depthCells(2, { 7: 7, 8: 7, 9: 7 }));
    expect(faults.map((fault) => fault.passes)).toEqual([[7, 8, 9]]);
  });

  it("tells two separate passes apart, the larger first", () => {
    const faults = search(depthCells(3, { 5: -5, 20: 8 }));
    expect(faults.map((fault) => fault.passes)).toEqual([[20], [5]]);
  });

  it("stays silent on 40 fields with soils and a trend but no departing pass", () => {
    const alarms = Array.from({ length: 40 }, (_, seed) => search(depthCells(100 + seed, {})).length);
    expect(alarms.filter((count) => count > 0)).toHaveLength(0);
  });

  it("lets a departure too small to matter be", () => {
    expect(search(depthCells(4, { 12: -2 }))).toEqual([]);
  });

  it("compares passes side by side on the ground, not by number", () => {
    const cells = depthCells(5, {});
    // The driver plants every second line and comes back for the rest.
    const order = [...Array(15).keys()]
      .flatMap((k) => [2 * k])
      .concat([...Array(15).keys()].map((k) => 2 * k + 1));
    const numberOfLine = new Map(order.map((line, k) => [line, k + 1]));
    const renumbered = { ...cells, pass: cells.pass.map((pass) => numberOfLine.get(pass - 1)!) };
    const depth = renumbered.mean.seedingDepth!.map((value, i) => value - (cells.pass[i] === 12 ? 6 : 0));
    const faults = search({ ...renumbered, mean: { seedingDepth: depth } });
    expect(faults.map((fault) => fault.passes)).toEqual([[numberOfLine.get(11)!]]);
  });
});
