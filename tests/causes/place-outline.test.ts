import { describe, expect, it } from "vitest";
import { outlineCells } from "../../src/causes/place-outline.ts";
import { rowStrips } from "../../src/causes/row-strips.ts";
import type { Cells } from "../../src/cells/cells.ts";
import { CELL_LENGTH_M } from "../../src/cells/make-cells.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import type { LocalPolygon } from "../../src/vocabulary/field.ts";
import { drive, upAndDown } from "../support/driven-log.ts";
import { buildField } from "../support/field-builder.ts";
import { passesOf, shoelace } from "./support/parts.ts";

/** Cells of straight passes, turned by `headingDeg` as a whole. */
function cellsOf(passes: number, pieces: number, swathM: number, headingDeg: number): Cells {
  const count = passes * pieces;
  const turn = (headingDeg * Math.PI) / 180;
  const at = (k: number): [number, number] => {
    const along = ((k % pieces) + 0.5) * CELL_LENGTH_M;
    const across = (Math.floor(k / pieces) + 0.5) * swathM;
    return [
      along * Math.sin(turn) + across * Math.cos(turn),
      along * Math.cos(turn) - across * Math.sin(turn),
    ];
  };
  const index = Array.from({ length: count }, (_, k) => k);
  return {
    count,
    pass: Int32Array.from(index, (k) => Math.floor(k / pieces) + 1),
    piece: Int32Array.from(index, (k) => k % pieces),
    x: Float64Array.from(index, (k) => at(k)[0]),
    y: Float64Array.from(index, (k) => at(k)[1]),
    areaM2: new Float64Array(count).fill(swathM * CELL_LENGTH_M),
    headingDeg: new Float64Array(count).fill(headingDeg),
    zone: new Int32Array(count).fill(-1),
    mean: {},
    depthSdMm: null,
    marginP10N: null,
    noLoadShare: null,
    records: new Int32Array(count).fill(1),
  };
}

function expectClosed(polygons: readonly LocalPolygon[]): void {
  for (const rings of polygons) {
    rings.forEach((ring, k) => {
      expect(ring.length).toBeGreaterThanOrEqual(4);
      expect(ring.at(-1)).toEqual(ring[0]);
      // Outer rings counter-clockwise, holes clockwise.
      if (k === 0) expect(shoelace(ring)).toBeGreaterThan(0);
      else expect(shoelace(ring)).toBeLessThan(0);
    });
  }
}

const areaOf = (polygons: readonly LocalPolygon[]) =>
  polygons.flat().reduce((sum, ring) => sum + shoelace(ring), 0);

describe("the outline of a place", () => {
  it.each([0, 30, 77, 135, 270])("has about the area of its cells (heading %i)", (headingDeg) => {
    const swathM = 18.288;
    const cells = cellsOf(6, 10, swathM, headingDeg);
    const members = [...cells.piece.keys()].filter((k) => cells.piece[k]! >= 2 && cells.piece[k]! < 8);
    const polygons = outlineCells(cells, members, swathM);
    expect(polygons).toHaveLength(1);
    expectClosed(polygons);
    const wanted = members.length * swathM * CELL_LENGTH_M;
    // Painted on squares of 2 m and straightened within 4 m: 5 % of these 7,900 m2.
    expect(Math.abs(areaOf(polygons) / wanted - 1)).toBeLessThan(0.05);
  });

  it("keeps a hole that is too wide to be a missing reading, closes a narrow gap", () => {
    const cells = cellsOf(7, 9, 18.288, 0);
    const all = [...cells.piece.keys()];
    const hole = (k: number) =>
      cells.pass[k]! >= 3 && cells.pass[k]! <= 4 && cells.piece[k]! >= 3 && cells.piece[k]! <= 4;
    const withHole = outlineCells(cells, all.filter((k) => !hole(k)), 18.288); // biome-ignore format: one line
    expect(withHole.map((rings) => rings.length)).toEqual([2]);
    expectClosed(withHole);
    const cellArea = 18.288 * CELL_LENGTH_M;
    expect(Math.abs(areaOf(withHole) / ((all.length - 4) * cellArea) - 1)).toBeLessThan(0.07);
    const joints = outlineCells(cells, all, 18.288 - 4);
    expect(joints.map((rings) => rings.length)).toEqual([1]);
  });

  it("two places apart are two polygons; no cells are none", () => {
    const cells = cellsOf(8, 6, 18.288, 0);
    const apart = [...cells.pass.keys()].filter((k) => cells.pass[k]! <= 2 || cells.pass[k]! >= 7);
    const polygons = outlineCells(cells, apart, 18.288);
    expect(polygons).toHaveLength(2);
    expectClosed(polygons);
    expect(outlineCells(cells, [], 18.288)).toEqual([]);
  });
});

describe("the strips of a row unit", () => {
  const units = 8;
  const spacing = 0.762;
  const log = drive(upAndDown(4, units * spacing, 120), { rowUnits: units, rowSpacingM: spacing });
  const stripsAt = (changes: { x?: number[]; y?: number[] }, unit: number) => {
    const field = buildField({
      x: changes.x ?? log.x,
      y: changes.y ?? log.y,
      values: { time: log.time, rowUnit: log.rowUnit, heading: log.headingDeg },
      layout: "row-unit",
      hasClockTime: true,
      planter: { rowUnits: units, rowSpacingM: spacing },
    });
    const passes = findPasses(field);
    return rowStrips(
      field,
      passes,
      Uint8Array.from(passes.rowUnitOf, (other) => (other === unit ? 1 : 0)),
    );
  };

  it("one a pass, as wide as the row, with the area the records stand for", () => {
    const { polygons, areaM2 } = stripsAt({}, 3);
    expect(polygons).toHaveLength(4);
    expectClosed(polygons);
    expect(Math.abs(areaM2 / (4 * 120 * spacing) - 1)).toBeLessThan(0.001);
    // From the first record's middle to the last one's: half a step is missing at both ends, 2 of 120 m.
    expect(Math.abs(areaOf(polygons) / areaM2 - 1)).toBeLessThan(0.02);
    const first = polygons[0]![0]!.map(([x]) => x);
    const middle = (3 - (units + 1) / 2) * spacing;
    expect(Math.min(...first)).toBeCloseTo(middle - spacing / 2, 6);
    expect(Math.max(...first)).toBeCloseTo(middle + spacing / 2, 6);
  });

  it("lie on the row also where the log gives the position of the bar", () => {
    const own = stripsAt({}, 3);
    const shared = stripsAt({ x: log.line.map((line) => line * units * spacing) }, 3);
    expect(shared.areaM2).toBeCloseTo(own.areaM2, 6);
    const xs = (strips: typeof own) => strips.polygons.map(([ring]) => Math.min(...ring!.map(([x]) => x)));
    xs(shared).forEach((x, k) => {
      expect(x).toBeCloseTo(xs(own)[k]!, 6);
    });
  });

  it("follow a bend", () => {
    const points = Array.from({ length: 41 }, (_, k): [number, number] => [
      100 - 100 * Math.cos((k / 40) * (Math.PI / 2)),
      100 * Math.sin((k / 40) * (Math.PI / 2)),
    ]);
    const arcM = (100 * Math.PI) / 2;
    const records = points.map((_, k) => ({
      pass: 1,
      alongM: (k / 40) * arcM,
      rowUnit: 1,
      headingDeg: (k / 40) * 90,
      distanceM: arcM / 41,
    }));
    const field = buildField({ x: points.map(([x]) => x), y: points.map(([, y]) => y) });
    const strips = rowStrips(field, passesOf(records, 1), new Uint8Array(41).fill(1));
    expectClosed(strips.polygons);
    expect(Math.abs(areaOf(strips.polygons) / (arcM * spacing) - 1)).toBeLessThan(0.03);
  });
});
