/** The heart of a place: where the log predicts most of its loss. */
import { describe, expect, it } from "vitest";
import type { Cells } from "../../src/cells/cells.ts";
import { heartOf } from "../../src/scout/core-of-place.ts";

/** A square of cells 12 m apart. */
const SIDE = 20;
const x = Float64Array.from({ length: SIDE * SIDE }, (_, cell) => (cell % SIDE) * 12);
const y = Float64Array.from({ length: SIDE * SIDE }, (_, cell) => Math.floor(cell / SIDE) * 12);
const cells = { count: SIDE * SIDE, x, y } as Cells;
const isInside = (cell: number): boolean =>
  x[cell]! >= 36 && x[cell]! <= 180 && y[cell]! >= 36 && y[cell]! <= 180;
const isBad = (cell: number): boolean => x[cell]! <= 96 && isInside(cell);

describe("the heart of a place", () => {
  it("leaves out its rim and the ground that a harmless change adds", () => {
    const loss = Float64Array.from(x, (_, cell) => (isBad(cell) ? 0.1 : isInside(cell) ? 0.03 : 0));
    const heart = heartOf(cells, loss, isInside)!;
    const marked = [...heart.keys()].filter((cell) => heart[cell] === 1);
    expect(marked.length).toBeGreaterThan(20);
    expect(marked.every(isBad)).toBe(true);
    // The corner of the bad ground has more ground about it that is not bad than is.
    expect(marked.some((cell) => x[cell] === 36 && y[cell] === 36)).toBe(false);
  });

  it("is none where the log predicts nothing, and none in a place of a few cells", () => {
    expect(heartOf(cells, new Float64Array(cells.count), isInside)).toBeNull();
    expect(heartOf(cells, new Float64Array(cells.count).fill(0.1), (cell) => cell < 5)).toBeNull();
    expect(heartOf(cells, new Float64Array(cells.count).fill(0.1), () => false)).toBeNull();
  });
});
