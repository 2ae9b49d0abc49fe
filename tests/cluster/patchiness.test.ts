import { describe, expect, it } from "vitest";
import { mean } from "../../src/numerics/descriptive.ts";
import { patchinessByPlace, patchinessByZone } from "../../src/stand-model/noise/patchiness.ts";
import { standNoise, straightCells } from "./support/field-simulator.ts";

const NOISE = { spatialVariance: 0.03 ** 2, rangeM: 20, nuggetVariance: 0.01 ** 2 };
const SPACING_M = 12;

describe("patchiness", () => {
  const cells = straightCells(30, 30);
  const middle = mean(cells.x);
  const west = Uint8Array.from(cells.x, (x) => (x < middle ? 1 : 0));
  /** Noise twice as strong in the east, away from the border by more than the surroundings looked at. */
  const uneven = (seed: number): Float64Array =>
    standNoise(cells.x, cells.y, seed, NOISE).map((value, i) => (west[i] ? value : 2 * value));
  const meanOf = (values: Float64Array, inWest: boolean): number =>
    mean(values.filter((_, i) => Math.abs(cells.x[i]! - middle) > 75 && (west[i] === 1) === inWest));

  it("by place finds the part twice as patchy without being told of it (10 fields; ratio 2 within a quarter)", () => {
    const ratios = Array.from({ length: 10 }, (_, k) => {
      const zone = new Int32Array(cells.count);
      const input = { x: cells.x, y: cells.y, zone, residual: uneven(k), countingVariance: null };
      const values = patchinessByPlace(input, SPACING_M)(input);
      return meanOf(values, false) / meanOf(values, true);
    });
    expect(mean(Float64Array.from(ratios))).toBeGreaterThan(1.5);
    expect(mean(Float64Array.from(ratios))).toBeLessThan(2.5);
  });

  it("by place is hardly moved by a place that is short as a whole", () => {
    const residual = standNoise(cells.x, cells.y, 3, NOISE);
    const about = (i: number): boolean => Math.hypot(cells.x[i]! - middle, cells.y[i]! - mean(cells.y)) < 45;
    const at = { x: cells.x, y: cells.y, zone: new Int32Array(cells.count), countingVariance: null };
    const sound = patchinessByPlace({ ...at, residual }, SPACING_M)(at);
    const short = residual.map((value, i) => (about(i) ? value - 0.1 : value));
    const hurt = patchinessByPlace({ ...at, residual: short }, SPACING_M)(at);
    const inside = [...cells.x.keys()].filter(about);
    const change = inside.map((i) => hurt[i]! / sound[i]!);
    expect(inside.length).toBeGreaterThan(20);
    expect(Math.max(...change)).toBeLessThan(1.5);
  });

  it("by zone tells the patchier zone, and is 1 for a zone it has not seen", () => {
    const zone = Int32Array.from(west, (isWest) => 1 - isWest);
    const at = patchinessByZone({
      x: cells.x,
      y: cells.y,
      zone,
      residual: uneven(1),
      countingVariance: null,
    });
    const [calm, patchy, unseen] = at({ x: cells.x, y: cells.y, zone: Int32Array.of(0, 1, 7) });
    expect(patchy! / calm!).toBeGreaterThan(1.4);
    expect(unseen).toBe(1);
  });
});
