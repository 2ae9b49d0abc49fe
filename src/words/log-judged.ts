/** Which quantities of planting the log lets be judged, as a list names them. */
import { isMeasuredDepth } from "../field/depth-source.ts";
import type { Field } from "../vocabulary/field.ts";

/** Quantities that were tested, and those the log does not show. */
export function logJudged({ log }: Field): { tested: string[]; missing: string[] } {
  const { values, depthSource } = log;
  const quantities: [string, boolean][] = [
    ["depth", Boolean(values.seedingDepth) && isMeasuredDepth(depthSource)],
    ["gauge-wheel load", Boolean(values.downForceMargin)],
    ["skips", Boolean(values.misses)],
    ["rate", Boolean(values.population)],
    ["speed", Boolean(values.speed)],
  ];
  return {
    tested: quantities.filter(([, there]) => there).map(([name]) => name),
    missing: quantities.filter(([, there]) => !there).map(([name]) => name),
  };
}
