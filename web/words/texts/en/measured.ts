/** Figures of a finding, in the rows of its table: the library's names with a capital. */
import type { MeasuredKey } from "../../../../src/findings/findings-document.ts";
import { measuredWords, upperFirst } from "../../../../src/words/finding-words.ts";

const KEYS: readonly MeasuredKey[] = [
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

export const measured = Object.fromEntries(
  KEYS.map((key) => [key, upperFirst(measuredWords(key).name)]),
) as Record<MeasuredKey, string>;
