/**
 * Growing degree days of corn, 86/50 method: daily minimum and maximum held between 50 and 86 F (10 and 30 C),
 * their mean less 50 F (Purdue Univ., heat unit concepts; Univ. of Wisconsin). 50 and 86 F are exactly 10 and
 * 30 C, so the sum in C is the sum in F divided by 1.8, without rounding.
 */
import { convert } from "../quantities/units.ts";

const BASE_C = 10;
const CEILING_C = 30;

/** One degree day in C is this many in F, exactly. */
export const DEGREE_DAYS_F_PER_C = 1.8;

/**
 * Degree days of one day, C.
 * @param minimumC daily minimum temperature, C
 * @param maximumC daily maximum temperature, C
 * @returns 0..20; NaN where either temperature is missing
 */
export function degreeDaysC(minimumC: number, maximumC: number): number {
  const high = Math.min(Math.max(maximumC, BASE_C), CEILING_C);
  const low = Math.max(Math.min(minimumC, CEILING_C), BASE_C);
  return (high + low) / 2 - BASE_C;
}

/**
 * Degree days of one day, F: the figure extension services print.
 * @param minimumF daily minimum temperature, F
 * @param maximumF daily maximum temperature, F
 * @returns 0..36; NaN where either temperature is missing
 */
export function degreeDaysF(minimumF: number, maximumF: number): number {
  return degreeDaysC(convert(minimumF, "F", "C"), convert(maximumF, "F", "C")) * DEGREE_DAYS_F_PER_C;
}
