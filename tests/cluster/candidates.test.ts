import { describe, expect, it } from "vitest";
import { findRiskRegions, guidedCandidates } from "../../src/cluster/guided.ts";
import {
  cellNeighbours,
  connectedParts,
  neighboursWithin,
  packNeighbours,
} from "../../src/cluster/neighbours.ts";
import { outlineGroup, ringAround } from "../../src/cluster/outline.ts";
import { layOutPasses } from "../../src/cluster/pass-layout.ts";
import { freeCandidates } from "../../src/cluster/windows.ts";
import { PIECE_M, SWATH_M, spotsOnCells, straightCells } from "./support/field-simulator.ts";

const cells = straightCells(12, 20);
const neighbours = cellNeighbours(cells, SWATH_M);
const layout = layOutPasses(cells, SWATH_M);
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

describe("free candidates", () => {
  const points = {
    x: cells.x,
    y: cells.y,
    pass: cells.pass,
    alongM: Float64Array.from(cells.piece, (piece) => (piece + 0.5) * PIECE_M),
  };
  const candidates = freeCandidates(points, layout);

  it("are distinct sets of at least two and at most half of the points, ascending", () => {
    const keys = new Set(candidates.map(({ members }) => members.join()));
    expect(keys.size).toBe(candidates.length);
    for (const { members, family } of candidates) {
      expect(family).toBe("free");
      expect(members.length).toBeGreaterThanOrEqual(2);
      expect(members.length).toBeLessThanOrEqual(cells.count / 2);
      expect(members).toEqual(Int32Array.from(members).sort());
    }
  });

  it("hold every pass, runs of passes side by side, and pieces of them at the same place on the ground", () => {
    const wholePass = candidates.filter(({ label }) => label === "pass");
    expect(wholePass.map(({ members }) => members.length)).toEqual(Array(12).fill(20));
    const block = candidates.find(({ label }) => label === "2 passes x 96 m")!;
    const along = [...block.members].map((i) => cells.y[i]!);
    expect(Math.max(...along) - Math.min(...along)).toBeLessThanOrEqual(96);
    expect(new Set([...block.members].map((i) => cells.pass[i])).size).toBe(2);
  });

  it("take in what lies within the radius", () => {
    const disc = candidates.find(({ label }) => label === "disc of 20 m")!;
    const centres = [...cells.x.keys()].filter((i) =>
      disc.members.every((j) => Math.hypot(cells.x[i]! - cells.x[j]!, cells.y[i]! - cells.y[j]!) <= 20),
    );
    expect(centres.length).toBeGreaterThan(0);
  });

  it("pass over points that lie on no pass", () => {
    const off = { ...points, pass: new Int32Array(cells.count) };
    expect(freeCandidates(off, layout).every(({ label }) => label.startsWith("disc"))).toBe(true);
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

  it("become candidates over the points on them, when there are at least two", () => {
    const regions = findRiskRegions(cells, neighbours, { misses: square(72, 120, 40, 0.06) });
    const cellOfPoint = Int32Array.of(-1, regions[0]!.cells[0]!, 0, regions[0]!.cells[5]!);
    expect(guidedCandidates(regions, cellOfPoint)).toEqual({
      candidates: [
        {
          family: "guided",
          members: Int32Array.of(1, 3),
          label: "misses",
          minimumDeficit: 0.35 * regions[0]!.meanLoss,
        },
      ],
      regionOf: [0],
    });
    // Five points are worth a look however much the log predicts.
    const large = regions.map((region) => ({ ...region, meanLoss: 0.2 }));
    expect(guidedCandidates(large, cellOfPoint).candidates[0]!.minimumDeficit).toBe(0.05);
    expect(guidedCandidates(regions, cellOfPoint.subarray(0, 3)).candidates).toEqual([]);
  });
});

describe("outline of a group", () => {
  const chain = packNeighbours(
    Array.from({ length: 12 }, (_, i) => [i - 1, i + 1].filter((j) => j >= 0 && j < 12)),
  );
  const adjusted = Float64Array.of(0, 0, 0, -1, -1, -1, -1, -1, -1, 0, 0, 0);

  it("takes in low points that hang on to the tested ones and leaves high ones out", () => {
    const none = new Uint8Array(12);
    const outline = outlineGroup(Int32Array.of(4, 5, 6), adjusted, chain, none);
    expect(outline).toEqual(Int32Array.of(3, 4, 5, 6, 7, 8));
    expect(ringAround(Int32Array.of(4, 5, 6), outline, chain)).toEqual(Int32Array.of(2, 9));
  });

  it("stays out of what is explained already, and falls back on the tested points", () => {
    const explained = Uint8Array.from(adjusted, (_, i) => (i >= 6 ? 1 : 0));
    expect(outlineGroup(Int32Array.of(4, 5), adjusted, chain, explained)).toEqual(Int32Array.of(3, 4, 5));
    const all = new Uint8Array(12).fill(1);
    expect(outlineGroup(Int32Array.of(4, 5), adjusted, chain, all)).toEqual(Int32Array.of(4, 5));
  });
});
