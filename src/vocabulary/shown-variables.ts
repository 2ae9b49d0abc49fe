/**
 * The one definition of each variable that is shown: ledger, map, tables, check and season take name, kind and colours
 * from here. A new variable does not compile until it has its entry.
 */

import type { QuantityKind } from "../quantities/format.ts";
import { variableNames, variableShortNames } from "../texts/en/variables.ts";
import type { Targets } from "./field.ts";
import type { ShownVariable } from "./variables.ts";

/** Which end of a one-way ramp is the bad one, or that the ramp runs around the target. */
export type RampWay = "around-target" | "more-is-worse" | "more-is-better";

export interface VariableDefinition {
  /** Unit inside the library. */
  unit: string;
  /** What kind of quantity it is: decides shown unit and decimals. */
  kind: QuantityKind;
  /** A farmer's name, as it stands within a sentence. */
  name: string;
  /** The name where the context says the rest: "depth", "load". */
  short: string;
  /** What exactly it is, the technical term with it. */
  what: string;
  ramp: RampWay;
  /** What was asked of the planter, inside units: one value or low and high limit, null where nothing was. */
  target?: (targets: Targets) => number | [number, number] | null;
}

export const SHOWN_VARIABLES: Readonly<Record<ShownVariable, VariableDefinition>> = {
  seedingDepth: {
    unit: "mm",
    kind: "depth",
    name: variableNames.seedingDepth,
    short: variableShortNames.seedingDepth,
    what: "seeding depth as logged",
    ramp: "around-target",
    target: (targets) => targets.seedingDepthMm,
  },
  downForceMargin: {
    unit: "N",
    kind: "force",
    name: variableNames.downForceMargin,
    short: variableShortNames.downForceMargin,
    what: "weight left on the gauge wheels, also called down-force margin",
    ramp: "around-target",
    target: (targets) => targets.downForceMarginN,
  },
  downForce: {
    unit: "N",
    kind: "force",
    name: variableNames.downForce,
    short: variableShortNames.downForce,
    what: "force the system adds to a row unit",
    ramp: "more-is-better",
  },
  groundContact: {
    unit: "share",
    kind: "share",
    name: variableNames.groundContact,
    short: variableShortNames.groundContact,
    what: "share of time with load on the gauge wheels",
    ramp: "more-is-better",
  },
  singulation: {
    unit: "share",
    kind: "share",
    name: variableNames.singulation,
    short: variableShortNames.singulation,
    what: "share of seeds dropped one by one",
    ramp: "more-is-better",
  },
  multiples: {
    unit: "share",
    kind: "share",
    name: variableNames.multiples,
    short: variableShortNames.multiples,
    what: "multiples, share of seeds",
    ramp: "more-is-worse",
  },
  misses: {
    unit: "share",
    kind: "share",
    name: variableNames.misses,
    short: variableShortNames.misses,
    what: "misses, share of seeds",
    ramp: "more-is-worse",
  },
  population: {
    unit: "seeds/ha",
    kind: "seeds",
    name: variableNames.population,
    short: variableShortNames.population,
    what: "population as dropped",
    ramp: "around-target",
    target: (targets) => targets.populationPerHa,
  },
  speed: {
    unit: "m/s",
    kind: "speed",
    name: variableNames.speed,
    short: variableShortNames.speed,
    what: "ground speed",
    ramp: "around-target",
    target: (targets) => targets.speedMetresPerSecond,
  },
  acceleration: {
    unit: "m/s2",
    kind: "acceleration",
    name: variableNames.acceleration,
    short: variableShortNames.acceleration,
    what: "acceleration along the pass",
    ramp: "more-is-worse",
  },
  spacingVariation: {
    unit: "share",
    kind: "share",
    name: variableNames.spacingVariation,
    short: variableShortNames.spacingVariation,
    what: "coefficient of variation of seed spacing",
    ramp: "more-is-worse",
  },
  depthSd: {
    unit: "mm",
    kind: "depth",
    name: variableNames.depthSd,
    short: variableShortNames.depthSd,
    what: "SD of seeding depth within the row units",
    ramp: "more-is-worse",
  },
  marginP10: {
    unit: "N",
    kind: "force",
    name: variableNames.marginP10,
    short: variableShortNames.marginP10,
    what: "one reading in ten is lighter: 10th percentile of the down-force margin",
    ramp: "around-target",
    target: (targets) => targets.downForceMarginN,
  },
  noLoad: {
    unit: "share",
    kind: "share",
    name: variableNames.noLoad,
    short: variableShortNames.noLoad,
    what: "share of readings without load on the gauge wheels",
    ramp: "more-is-worse",
  },
};
