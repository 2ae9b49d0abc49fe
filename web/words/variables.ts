/**
 * How the page speaks of variables and draws them: the names of the one definition with a capital, what kind of quantity
 * each is, and whether its colours run in one direction or around a target.
 */
import type { MeasuredKey } from "../../src/findings/findings-document.ts";
import type { QuantityKind } from "../../src/quantities/format.ts";
import type { Targets } from "../../src/vocabulary/field.ts";
import { type RampWay, SHOWN_VARIABLES } from "../../src/vocabulary/shown-variables.ts";
import { measuredWords, upperFirst } from "../../src/words/finding-words.ts";
import type { ValueName } from "../protocol/ground.ts";

export interface QuantityWords {
  title: string;
  kind: QuantityKind;
}

export interface VariableWords extends QuantityWords {
  technical: string;
  colours: RampWay;
}

export const VARIABLES = Object.fromEntries(
  Object.entries(SHOWN_VARIABLES).map(([variable, { name, what, kind, ramp }]) => [
    variable,
    { title: upperFirst(name), technical: what, kind, colours: ramp },
  ]),
) as Readonly<Record<ValueName, VariableWords>>;

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
  return { title: upperFirst(name), kind };
}

/** Target of a variable as one value or low and high limit, inside units; null where none is set. */
export function targetOf(variable: ValueName, targets: Targets): number | [number, number] | null {
  return SHOWN_VARIABLES[variable].target?.(targets) ?? null;
}
