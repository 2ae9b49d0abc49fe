import { expect, test } from "vitest";
import { distinctCount, positiveOf, presentOf, recordsWhere } from "../../src/numerics/present.ts";

const VALUES = Float64Array.of(3, Number.NaN, -1, 0, 3, 2000.5, 2000.5, Number.NaN, 1e9);

test("values are kept in their order, as filtering would", () => {
  expect([...presentOf(VALUES)]).toEqual([3, -1, 0, 3, 2000.5, 2000.5, 1e9]);
  expect([...positiveOf(VALUES)]).toEqual([3, 3, 2000.5, 2000.5, 1e9]);
  expect([...recordsWhere(Int32Array.of(8, 2, 5), (record) => record !== 2)]).toEqual([8, 5]);
  expect(presentOf(new Float64Array(0))).toHaveLength(0);
});

test("different values are counted as a set would, large and small, with gaps", () => {
  for (const values of [VALUES, Float64Array.of(1023, 1024, 1023.5, 1024, -0, 0, -7), new Float64Array(0)])
    expect(distinctCount(values)).toBe(new Set(values).size);
  expect(distinctCount(Int32Array.of(-1, 0, 1, 0, -1, 5000, 1))).toBe(4);
});
