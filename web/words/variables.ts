/**
 * How each variable is spoken of and drawn: its name in a farmer's words, the technical name one step
 * behind, what kind of quantity it is, and whether its colours run in one direction or around a target.
 */
import type { MeasuredKey } from "../../src/findings/findings-document.ts";
import type { QuantityKind } from "../../src/quantities/format.ts";
import type { Targets } from "../../src/vocabulary/field.ts";
import { measuredWords } from "../../src/words/finding-words.ts";
import type { ValueName } from "../protocol/ground.ts";

export interface QuantityWords {
  title: string;
  kind: QuantityKind;
}

export interface VariableWords extends QuantityWords {
  technical: string;
  /** Which end of a one-way ramp is the bad one, or that the ramp runs around the target. */
  colours: "around-target" | "more-is-worse" | "more-is-better";
}

function words(
  title: string,
  technical: string,
  kind: QuantityKind,
  colours: VariableWords["colours"],
): VariableWords {
  return { title, technical, kind, colours };
}

export const VARIABLES: Readonly<Record<ValueName, VariableWords>> = {
  seedingDepth: words("Seed depth", "seeding depth as logged", "depth", "around-target"),
  downForceMargin: words(
    "Weight on the gauge wheels",
    "down-force margin, also called gauge-wheel load",
    "force",
    "around-target",
  ),
  downForce: words("Down force added", "force the system adds to a row unit", "force", "more-is-better"),
  groundContact: words(
    "Ground contact",
    "share of time with load on the gauge wheels",
    "share",
    "more-is-better",
  ),
  singulation: words("Singulation", "share of seeds dropped one by one", "share", "more-is-better"),
  multiples: words("Doubles", "multiples, share of seeds", "share", "more-is-worse"),
  misses: words("Skips", "misses, share of seeds", "share", "more-is-worse"),
  population: words("Seeds dropped", "population", "seeds", "around-target"),
  speed: words("Speed", "ground speed", "speed", "around-target"),
  acceleration: words("Change of speed", "acceleration along the pass", "acceleration", "more-is-worse"),
  spacingVariation: words(
    "Spacing variation",
    "coefficient of variation of seed spacing",
    "share",
    "more-is-worse",
  ),
  depthSd: words("Unevenness of depth", "SD of seeding depth within the row units", "depth", "more-is-worse"),
  marginP10: words(
    "Weight at its lightest",
    "one reading in ten is lighter: 10th percentile of the down-force margin",
    "force",
    "around-target",
  ),
  noLoad: words(
    "Time without weight on the wheels",
    "share of readings without load",
    "share",
    "more-is-worse",
  ),
};

/** In the order they are offered. */
export const VARIABLE_ORDER = Object.keys(VARIABLES) as ValueName[];

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

export function measuredTitle(key: MeasuredKey): QuantityWords {
  const { name, kind } = measuredWords(key);
  return { title: name.charAt(0).toUpperCase() + name.slice(1), kind };
}

/** Target of a variable as one value or low and high limit, inside units; null where none is set. */
export function targetOf(variable: ValueName, targets: Targets): number | [number, number] | null {
  switch (variable) {
    case "seedingDepth":
      return targets.seedingDepthMm;
    case "downForceMargin":
    case "marginP10":
      return targets.downForceMarginN;
    case "population":
      return targets.populationPerHa;
    case "speed":
      return targets.speedMetresPerSecond;
    default:
      return null;
  }
}
