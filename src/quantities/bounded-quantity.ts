/** A quantity typed by a user, held to what it can be. */
import { ManifestError } from "../errors.ts";
import { parseQuantity } from "./units.ts";

/** What a quantity can be, in its inside unit; beyond it a unit or a decimal point is wrong. */
export interface QuantityBound {
  /** Inside unit of both ends. */
  unit: string;
  lowest: number;
  highest: number;
  /** Both ends as people write them; each is accepted when typed. */
  shown: string;
}

/** Share of an end by which a figure may pass it: what rounding of the shown ends takes. */
const ROUNDING = 1e-3;

/** True where a figure in the bound's unit can be; false for one that is no number. */
export function isWithin(
  value: number,
  { lowest, highest }: Pick<QuantityBound, "lowest" | "highest">,
): boolean {
  return value >= lowest * (1 - ROUNDING) && value <= highest * (1 + ROUNDING);
}

/**
 * Reads a quantity with its unit into the unit of its bound.
 * @throws {ManifestError} naming the field, the text and what is accepted
 */
export function boundedQuantity(text: string, bound: QuantityBound, field: string): number {
  const value = parseQuantity(text, bound.unit, field);
  if (isWithin(value, bound)) return value;
  throw new ManifestError(`${field} is "${text}", which cannot be; ${bound.shown} is accepted`, {
    field,
    value: text,
    accepted: bound.shown,
  });
}
