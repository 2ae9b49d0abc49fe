/** What is changed before next spring, and from which figure to which. Which cause asks for what: cause-definitions.ts. */
import { type GroundState, plantedState } from "../../compare/ground-state.ts";
import { MARGIN_BANDS } from "../../compare/thresholds.ts";
import type { FindingKind } from "../../vocabulary/causes.ts";
import type { Targets } from "../../vocabulary/field.ts";
import type { RemedyCode } from "../../vocabulary/remedy-codes.ts";

/** The change to make, in inside units; words are added by the report, which knows the reader's units. */
export interface Remedy {
  code: RemedyCode;
  parameter: "downForceMargin" | "seedingDepth" | "speed" | "population" | "misses" | null;
  from: number | null;
  to: number | null;
  unit: "N" | "mm" | "m/s" | "seeds/ha" | "share" | null;
}

/** What a remedy needs to know of the place. */
export interface RemedyContext {
  kind: FindingKind;
  ground: GroundState;
  targets: Targets;
  /** Means inside the place, null where the log has no such variable. */
  marginN: number | null;
  depthMm: number | null;
  speedMetresPerSecond: number | null;
  populationPerHa: number | null;
  /** Rate aimed at inside. */
  wantedPerHa: number | null;
  missesShare: number | null;
  /** Usual values of the rest of the field, for what to go back to where no target is given. */
  usual: {
    depthMm: number | null;
    speedMetresPerSecond: number | null;
    populationPerHa: number | null;
    missesShare: number | null;
  };
}

/**
 * Load to aim for: the middle of what the band for the state of the ground and the user's own target band have
 * in common; where they do not meet, the end of the user's band that is nearer.
 */
export function marginGoal(ground: GroundState, targets: Targets): number {
  const [bandLow, bandHigh] = MARGIN_BANDS[plantedState(ground)];
  const [least, most] = targets.downForceMarginN ?? [bandLow, bandHigh];
  const low = Math.min(most, Math.max(least, bandLow));
  const high = Math.min(most, Math.max(least, bandHigh));
  return (low + high) / 2;
}

type Figures = Omit<Remedy, "code">;

/** A remedy without a figure to set. */
export const NO_FIGURE: Figures = { parameter: null, from: null, to: null, unit: null };

export function marginOf({ marginN, ground, targets }: RemedyContext): Figures {
  return { parameter: "downForceMargin", from: marginN, to: marginGoal(ground, targets), unit: "N" };
}

export function depthOf({ depthMm, targets, usual }: RemedyContext): Figures {
  return {
    parameter: "seedingDepth",
    from: depthMm,
    to: targets.seedingDepthMm ?? usual.depthMm,
    unit: "mm",
  };
}

export function speedOf({ speedMetresPerSecond, targets, usual }: RemedyContext): Figures {
  return {
    parameter: "speed",
    from: speedMetresPerSecond,
    to: targets.speedMetresPerSecond ?? usual.speedMetresPerSecond,
    unit: "m/s",
  };
}

export function missesOf({ missesShare, usual }: RemedyContext): Figures {
  return { parameter: "misses", from: missesShare, to: usual.missesShare, unit: "share" };
}

export function rateOf({ populationPerHa, wantedPerHa, usual }: RemedyContext): Figures {
  return {
    parameter: "population",
    from: populationPerHa,
    to: wantedPerHa ?? usual.populationPerHa,
    unit: "seeds/ha",
  };
}
