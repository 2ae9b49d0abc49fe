/** How the stand of an invented field answers to planting: of the tool's kind, but with knees and slopes of its own. */
import { THRESHOLDS } from "../../../src/compare/thresholds.ts";
import { normalCdf, normalDensity } from "../../../src/numerics/distributions.ts";
import { normal, type Random } from "../../../src/numerics/random.ts";
import { between } from "./noise.ts";

/** Planting at one moment: means over the bar and SD along the row. */
export interface Planting {
  depthMm: number;
  depthSdMm: number;
  marginN: number;
  marginSdN: number;
  speedMetresPerSecond: number;
  misses: number;
  /** Seeds dropped / target, skips apart. */
  rate: number;
}

export type Response = (planting: Planting, damp: boolean) => number;

/** Mean of max(0, z) for z ~ N(mean, sd^2). */
function meanAbove(mean: number, sd: number): number {
  return mean * normalCdf(mean / sd) + sd * normalDensity(mean / sd);
}

/**
 * Draws a response: every slope times a log-normal number (SD 0.3 of the log), every knee moved.
 * @param saturates losses combine as survival and level off
 */
export function drawResponse(random: Random, saturates: boolean): Response {
  const T = THRESHOLDS;
  const slope = (value: number): number => value * Math.exp(0.3 * normal(random));
  const shallow = { knee: T.shallowKnee.value + 2 * normal(random), slope: slope(T.shallowSlope.value) };
  const deep = { knee: T.deepKnee.value + 2.5 * normal(random), slope: slope(T.deepSlope.value) };
  const uneven = { knee: T.unevenKnee.value + 0.6 * normal(random), slope: slope(T.unevenSlope.value) };
  const light = { knee: T.lightKnee.value + 35 * normal(random), slope: slope(T.lightSlope.value) };
  const heavySlope = slope(T.heavySlope.value);
  const wetKnee = T.heavyKneeWet.value + 70 * normal(random);
  const dryKnee = T.heavyKneeDry.value + 70 * normal(random);
  const most = between(random, 0.25, 0.4);
  return (p, damp) => {
    const parts = [
      shallow.slope * meanAbove(shallow.knee - p.depthMm, p.depthSdMm),
      damp ? deep.slope * meanAbove(p.depthMm - deep.knee, p.depthSdMm) : 0,
      uneven.slope * Math.max(0, p.depthSdMm - uneven.knee),
      light.slope * meanAbove(light.knee - p.marginN, p.marginSdN),
      heavySlope * meanAbove(p.marginN - (damp ? wetKnee : dryKnee), p.marginSdN),
    ];
    const lost = saturates
      ? most * (1 - Math.exp(-(1 - parts.reduce((left, part) => left * (1 - part), 1)) / most))
      : parts.reduce((sum, part) => sum + part, 0);
    return lost + p.misses + (1 - p.rate) * (1 - p.misses);
  };
}
