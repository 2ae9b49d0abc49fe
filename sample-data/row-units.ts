/** What is lasting about each row unit of the invented planter. */
import { normal } from "../src/numerics/random.ts";
import { streamOf } from "./noise.ts";
import { ROW_SPREAD, ROW_UNITS, SHALLOW_ROW } from "./scenario.ts";

export interface RowUnits {
  /** Added to the depth of each row unit, inches; index 0 is row unit 1. */
  depthIn: number[];
  /** Added to its gauge-wheel load, pounds-force. */
  marginLbf: number[];
}

/** Natural offsets, on average 0 over the bar, and the slipped depth stop on top. */
export function makeRowUnits(seed: number): RowUnits {
  const random = streamOf(seed, "rows");
  const offsets = (sd: number): number[] => {
    // Held within two SD: a wilder one would be a second faulty row unit.
    const drawn = Array.from({ length: ROW_UNITS }, () => Math.max(-2, Math.min(2, normal(random))));
    const mean = drawn.reduce((sum, value) => sum + value, 0) / ROW_UNITS;
    return drawn.map((value) => sd * (value - mean));
  };
  const depthIn = offsets(ROW_SPREAD.depthSdIn);
  const marginLbf = offsets(ROW_SPREAD.marginSdLbf);
  depthIn[SHALLOW_ROW.rowUnit - 1]! -= SHALLOW_ROW.shallowerIn;
  return { depthIn, marginLbf };
}
