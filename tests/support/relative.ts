import { expect } from "vitest";

/** Expects `actual` within a relative tolerance of `expected` (absolute where zero is expected). */
export function expectRelative(actual: number, expected: number, tolerance: number): void {
  const error = expected === 0 ? Math.abs(actual) : Math.abs(actual / expected - 1);
  expect(error, `${actual} against ${expected}`).toBeLessThanOrEqual(tolerance);
}
