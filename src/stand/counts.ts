/**
 * From counted plants to plants per hectare. Plain geometry; the farm's way of counting (a thousandth of an
 * acre of row, a wheel, a hoop) differs only in which of the figures is fixed beforehand.
 */
import { SQUARE_METRES_PER_ACRE, SQUARE_METRES_PER_HECTARE } from "../quantities/units.ts";

/**
 * Plants walked past when a stand is counted with a measuring wheel: 150, then the distance is noted
 * (Univ. of Illinois, corn stand count page). One such walk for every 2 to 4 ha (5 to 10 ac) in the same source.
 */
export const WHEEL_METHOD_PLANTS = 150;

/**
 * Length of one row that covers a thousandth of an acre, m; 17.424 ft in 30 in rows
 * (= 522.72 / row spacing in inches, ft; printed alike by Univ. of Wisconsin, Univ. of Tennessee, Univ. of Missouri).
 * @param rowSpacingM distance between rows, m, > 0
 * @throws {RangeError} when the spacing is not a positive number
 */
export function thousandthAcreRowLengthM(rowSpacingM: number): number {
  return SQUARE_METRES_PER_ACRE / 1000 / positive(rowSpacingM, "row spacing");
}

export interface CountedRow {
  /** Plants counted over all rows together, >= 0. */
  plants: number;
  /** Length of each counted row, m. */
  rowLengthM: number;
  rowSpacingM: number;
  /** Rows counted side by side; 1 where not given. */
  rowsCounted?: number;
}

/**
 * Stand from plants counted along a row, plants/ha. The wheel method is the same sum with `plants`
 * fixed at {@link WHEEL_METHOD_PLANTS} and the length measured.
 * @throws {RangeError} when a length is not positive or the plants are negative
 */
export function standOfRowPerHa({ plants, rowLengthM, rowSpacingM, rowsCounted = 1 }: CountedRow): number {
  const groundM2 =
    positive(rowLengthM, "row length") *
    positive(rowSpacingM, "row spacing") *
    positive(rowsCounted, "number of rows");
  return (notNegative(plants, "plants") / groundM2) * SQUARE_METRES_PER_HECTARE;
}

/**
 * Plants per hectare that one plant inside a hoop stands for: 10,000 / (pi d^2 / 4). In plants/ac this is
 * 13,866 for a 24 in hoop; Purdue Univ. prints 13,872, rounded figures 0.05 % off the exact geometry.
 * @throws {RangeError} when the diameter is not a positive number
 */
export function hoopFactorPerHa(hoopDiameterM: number): number {
  return SQUARE_METRES_PER_HECTARE / ((Math.PI / 4) * positive(hoopDiameterM, "hoop diameter") ** 2);
}

/**
 * Stand from hoop throws, plants/ha; 5 (Purdue Univ.) to 10 throws are usual.
 * @param plants plants inside the hoop over all throws together, >= 0
 * @throws {RangeError} when a figure is out of range
 */
export function standOfHoopPerHa(plants: number, hoopDiameterM: number, throws = 1): number {
  return (notNegative(plants, "plants") * hoopFactorPerHa(hoopDiameterM)) / positive(throws, "throws");
}

function positive(value: number, what: string): number {
  if (!(value > 0) || !Number.isFinite(value))
    throw new RangeError(`${what} must be a positive number, not ${value}`);
  return value;
}

function notNegative(value: number, what: string): number {
  if (!(value >= 0) || !Number.isFinite(value))
    throw new RangeError(`${what} must be 0 or more, not ${value}`);
  return value;
}
