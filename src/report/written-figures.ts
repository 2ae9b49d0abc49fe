/**
 * Figures as files carry them. Two builds of the same engine may differ in the last digits of an exponential, and with it
 * every figure that rests on one: rounded, the page and the command write the same bytes.
 */

/** More than any figure here is known to. */
const DIGITS = 6;
/** Figures with no more decimals than this (degrees, counts, what was rounded already) stay as they are. */
const KEPT_DECIMALS = 1e7;

/** A copy with every figure to six significant digits; degrees to seven decimals, counts and words untouched. */
export function writtenFigures<T>(value: T): T {
  return written(value) as T;
}

function written(value: unknown): unknown {
  if (typeof value === "number") return writtenFigure(value);
  if (Array.isArray(value)) return value.map(written);
  if (value === null || typeof value !== "object" || ArrayBuffer.isView(value)) return value;
  return Object.fromEntries(Object.entries(value).map(([name, part]) => [name, written(part)]));
}

function writtenFigure(value: number): number {
  if (Math.round(value * KEPT_DECIMALS) / KEPT_DECIMALS === value) return value;
  return Number(value.toPrecision(DIGITS));
}
