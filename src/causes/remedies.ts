/** What to do about a cause before next spring, with the check to make and the caution that goes with it. */

import { type GroundState, plantedState } from "../compare/ground-state.ts";
import { MARGIN_BANDS } from "../compare/thresholds.ts";
import type { Targets } from "../field/field.ts";
import type { RemedyCode } from "../field/remedy-codes.ts";
import type { Cause, FindingKind } from "./causes.ts";

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

export function remedyFor(cause: Cause, context: RemedyContext): Remedy {
  const { targets, usual } = context;
  const depthGoal = targets.seedingDepthMm ?? usual.depthMm;
  const depth = { parameter: "seedingDepth", from: context.depthMm, to: depthGoal, unit: "mm" } as const;
  const nothing = { parameter: null, from: null, to: null, unit: null } as const;
  const margin = {
    parameter: "downForceMargin",
    from: context.marginN,
    to: marginGoal(context.ground, targets),
    unit: "N",
  } as const;
  const misses = {
    parameter: "misses",
    from: context.missesShare,
    to: usual.missesShare,
    unit: "share",
  } as const;
  switch (cause) {
    case "lost-ground-contact":
      return { code: "raise-margin", ...margin };
    case "excess-down-force":
      return { code: "lower-margin", ...margin };
    case "too-shallow":
    case "too-deep":
      return { code: context.kind === "row-unit" ? "repair-row-unit" : "set-depth", ...depth };
    case "uneven-depth":
      return { code: "check-depth-control", ...nothing };
    case "excess-speed":
      return {
        code: "slow-down",
        parameter: "speed",
        from: context.speedMetresPerSecond,
        to: targets.speedMetresPerSecond ?? usual.speedMetresPerSecond,
        unit: "m/s",
      };
    case "misses":
    case "multiples":
    case "irregular-spacing":
      return { code: "service-meter", ...misses };
    case "rate-off-target":
      return {
        code: "set-rate",
        parameter: "population",
        from: context.populationPerHa,
        to: context.wantedPerHa ?? usual.populationPerHa,
        unit: "seeds/ha",
      };
    case "sensor-fault":
      return { code: "clean-sensor", ...nothing };
    case "wheel-traffic":
      return { code: "move-traffic", ...nothing };
    case "planted-twice":
      return { code: "shut-off-rows", ...nothing };
    case "not-planted":
      return { code: "check-guidance", ...nothing };
    case "furrow-not-closed":
      return { code: "close-the-furrow", ...nothing };
    case "residue-in-furrow":
      return { code: "clear-residue", ...nothing };
    case "dry-seedbed":
      return { code: "plant-into-moisture", ...nothing };
    case "soil-or-weather":
      return { code: "watch-the-ground", ...nothing };
    case "worn-row-unit":
      return { code: "repair-row-unit", ...depth };
    default:
      return { code: "dig-and-compare", ...nothing };
  }
}
