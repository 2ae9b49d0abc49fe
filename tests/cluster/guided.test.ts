import { describe, expect, it } from "vitest";
import {
  cellNeighbours,
  connectedParts,
  neighboursWithin,
  packNeighbours,
} from "../../src/cells/neighbours.ts";
import { findRiskRegions } from "../../src/places/guided.ts";
import { layOutPasses } from "../../src/places/pass-layout.ts";
import { PIECE_M, SWATH_M, spotsOnCells, straightCells } from "./support/field-simulator.ts";

const cells = straightCells(12, 20);
const neighbours = cellNeighbours(cells, SWATH_M);
const listOf = (place: number): number[] => [
  ...neighbours.index.subarray(neighbours.start[place]!, neighbours.start[place + 1]!),
];

describe("neighbours", () => {
  it("of a cell are the pieces before and after and the cells beside it, both ways", () => {
    const place = 5 * 20 + 10;
    const near = listOf(place);
    expect(near).toContain(place - 1);
    expect(near).toContain(place + 1);
    expect(near).not.toContain(place + 2);
    // Beside it on pass 4 and 6, which run the other way: piece 9.
    expect(near).toContain(4 * 20 + 9);
    expect(near).toContain(6 * 20 + 9);
    for (const other of near) expect(listOf(other)).toContain(place);
  });

  it("within a radius agree with all distances", () => {
    const spots = spotsOnCells(cells, 60, 3);
    const within = neighboursWithin(spots.x, spots.y, 40);
    for (let i = 0; i < 60; i++) {
      const expected = [...spots.x.keys()].filter(
        (j) => j !== i && Math.hypot(spots.x[i]! - spots.x[j]!, spots.y[i]! - spots.y[j]!) <= 40,
      );
      expect([...within.index.subarray(within.start[i]!, within.start[i + 1]!)]).toEqual(expected);
    }
  });

  it("fall into connected parts", () => {
    const chain = packNeighbours([[1], [0, 2], [1], [4], [3]]);
    expect(connectedParts(Uint8Array.of(1, 1, 0, 1, 1), chain)).toEqual([
      Int32Array.of(0, 1),
      Int32Array.of(3, 4),
    ]);
  });
});

describe("layout of passes", () => {
  it("ranks passes by where they lie, and puts end rows into a block of their own", () => {
    const withEndRows = {
      ...cells,
      headingDeg: cells.headingDeg.map((heading, i) => (cells.pass[i]! > 10 ? 90 : heading)),
    };
    const result = layOutPasses(withEndRows, SWATH_M);
    expect(result.axisDeg).toHaveLength(2);
    expect([...result.rank.subarray(1, 11)]).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
    expect(new Set(result.block.subarray(1, 11)).size).toBe(1);
    expect(result.block[11]).not.toBe(result.block[10]);
  });

  it("leaves a gap in the ranks where a strip was not planted", () => {
    const apart = { ...cells, x: cells.x.map((x, i) => (cells.pass[i]! > 6 ? x + 2 * SWATH_M : x)) };
    const result = layOutPasses(apart, SWATH_M);
    expect(result.rank[7]! - result.rank[6]!).toBe(3);
  });
});

describe("places the log points to", () => {
  const square = (x: number, y: number, half: number, loss: number): Float64Array =>
    cells.x.map((cellX, i) => (Math.abs(cellX - x) <= half && Math.abs(cells.y[i]! - y) <= half ? loss : 0));

  it("are connected, hold their mean loss, and close a hole of one cell", () => {
    const loss = square(72, 120, 40, 0.06);
    const inside = [...loss.keys()].filter((i) => loss[i]! > 0);
    const hole = inside[Math.floor(inside.length / 2)]!;
    loss[hole] = 0;
    const [region, ...others] = findRiskRegions(cells, neighbours, { "too-shallow": loss });
    expect(others).toEqual([]);
    expect(region!.factors).toEqual(["too-shallow"]);
    expect(region!.cells).toContain(hole);
    expect(region!.areaM2).toBe(region!.cells.length * SWATH_M * PIECE_M);
    expect(region!.meanLoss).toBeGreaterThan(0.04);
    expect(region!.meanLoss).toBeLessThanOrEqual(0.06);
  });

  it("are left out when small or weak", () => {
    expect(findRiskRegions(cells, neighbours, { misses: square(72, 120, 8, 0.06) })).toEqual([]);
    expect(findRiskRegions(cells, neighbours, { misses: square(72, 120, 40, 0.02) })).toEqual([]);
  });

  it("of two factors on the same ground are one, the larger factor first; apart they are two", () => {
    const losses = { misses: square(72, 120, 40, 0.04), "excess-speed": square(72, 120, 40, 0.07) };
    const [region, ...others] = findRiskRegions(cells, neighbours, losses);
    expect(others).toEqual([]);
    expect(region!.factors).toEqual(["excess-speed", "misses"]);
    const apart = { misses: square(40, 60, 30, 0.04), "excess-speed": square(110, 190, 30, 0.07) };
    expect(findRiskRegions(cells, neighbours, apart)).toHaveLength(2);
  });
});
