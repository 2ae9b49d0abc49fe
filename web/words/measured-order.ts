/** Which measured figures of a finding are shown, and in which order. */
import type { MeasuredKey } from "../../src/findings/findings-document.ts";

/** Measured figures of a finding in the order of its table: the plants first, then what the planter did. */
export const MEASURED_ORDER: readonly MeasuredKey[] = [
  "standPerHa",
  "lateShare",
  "downForceMarginN",
  "downForceMarginP10N",
  "noLoadShare",
  "seedingDepthMm",
  "dugDepthMm",
  "depthSdMm",
  "speedMetresPerSecond",
  "missesShare",
  "multiplesShare",
  "singulationShare",
  "populationPerHa",
];
