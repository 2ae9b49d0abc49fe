/** How much ground was counted, where the name of a column says it: "plants per 17'5\"", "plants_17ft5in", "plants per 1/1000 ac". */
import { METRES_PER_FOOT, MM_PER_INCH, SQUARE_METRES_PER_ACRE } from "../../quantities/units.ts";

export interface GroundInName {
  /** Length of row counted, m; null where the name gives an area. */
  rowLengthM: number | null;
  /** Area counted, m2; null where the name gives a length of row. */
  areaM2: number | null;
  /** The name without the ground. */
  rest: string;
}

const THOUSANDTH_OF_ACRE = /\b1\s*\/\s*1,?000(?:th)?\s*(?:of\s+an?\s+)?ac(?:res?)?\b/i;
const FEET_AND_INCHES =
  /(\d+)[\s_]*(?:['’′]|ft\.?|feet|foot)[\s_-]*(\d+(?:\.\d+)?)[\s_]*(?:["”″]|''|in(?:ch(?:es)?)?\b|in(?=_)|$)/i;
const FEET = /(\d+(?:\.\d+)?)[\s_]*(?:['’′]|ft\.?|feet|foot)(?![a-z0-9])/i;
const METRES = /(\d+(?:\.\d+)?)[\s_]*(?:m|met(?:er|re)s?)(?![a-z0-9])/i;

/** The ground a name tells, null where it tells none. */
export function groundInName(name: string): GroundInName | null {
  const without = (match: RegExpExecArray) => name.replace(match[0], " ").trim();
  const area = THOUSANDTH_OF_ACRE.exec(name);
  if (area) return { rowLengthM: null, areaM2: SQUARE_METRES_PER_ACRE / 1000, rest: without(area) };
  const both = FEET_AND_INCHES.exec(name);
  if (both) {
    const length = Number(both[1]) * METRES_PER_FOOT + (Number(both[2]) * MM_PER_INCH) / 1000;
    return { rowLengthM: length, areaM2: null, rest: without(both) };
  }
  const feet = FEET.exec(name);
  if (feet) return { rowLengthM: Number(feet[1]) * METRES_PER_FOOT, areaM2: null, rest: without(feet) };
  const metres = METRES.exec(name);
  return metres ? { rowLengthM: Number(metres[1]), areaM2: null, rest: without(metres) } : null;
}
