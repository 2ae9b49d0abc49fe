/**
 * What each quantity of a prescription can be, wherever it is typed: manifest, command line, page. All of it is our
 * judgement, wide of every planter; whether a load, a step or a cell makes sense on this field is judged where the
 * loads are worked out.
 */
import type { QuantityBound } from "../quantities/bounded-quantity.ts";
import { LOAD_BOUNDS } from "../quantities/load-physics.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "../quantities/units.ts";

/** No load is set below this: a load of zero, or lift, leaves the wheels off the ground. */
const LEAST_MARGIN_N = 20 * LBF;

const LOAD: QuantityBound = {
  unit: "N",
  lowest: LEAST_MARGIN_N,
  highest: LOAD_BOUNDS.meanLoadN,
  shown: "20 lbf to 350 lbf (89 N to 1,557 N)",
};

/** By the name of the setting. */
export const SETTING_BOUNDS = {
  minimumMarginN: LOAD,
  maximumMarginN: LOAD,
  outsideMarginN: LOAD,
  lostPositionMarginN: LOAD,
  largestStepN: { unit: "N", lowest: 1, highest: 4000, shown: "0.225 lbf to 899 lbf (1 N to 4,000 N)" },
  rateStepN: {
    unit: "N",
    lowest: 0.1,
    highest: LOAD_BOUNDS.meanLoadN - LEAST_MARGIN_N,
    shown: "0.0225 lbf to 330 lbf (0.1 N to 1,468 N)",
  },
  lagS: { unit: "s", lowest: 0, highest: 120, shown: "0 s to 120 s" },
  smallestAreaHa: { unit: "ha", lowest: 0, highest: 100, shown: "0 ac to 247 ac (0 ha to 100 ha)" },
  gridCellM: { unit: "m", lowest: 0.5, highest: 1000, shown: "1.64 ft to 3,281 ft (0.5 m to 1,000 m)" },
} as const satisfies Record<string, QuantityBound>;

export type BoundedSetting = keyof typeof SETTING_BOUNDS;

/** A load set by hand for a zone, and one that was asked for last year. */
export const ZONE_LOAD_BOUND = LOAD;

/** What describes the machine, not the loads. */
export const MACHINE_BOUNDS = {
  /** Weight that a part of the bar can spare, for all its row units. */
  spareWeight: {
    unit: "N",
    lowest: 0,
    highest: 20_000 * LBF,
    shown: "0 lbf to 20,000 lbf (0 N to 88,964 N)",
  },
  /** Force of a cylinder on one row unit. */
  cylinderForce: { unit: "N", lowest: 0, highest: 20_000, shown: "0 lbf to 4,496 lbf (0 N to 20,000 N)" },
  cylinderPressure: {
    unit: "Pa",
    lowest: 0,
    highest: 1e8,
    shown: "0 psi to 14,504 psi (0 bar to 1,000 bar)",
  },
} as const satisfies Record<string, QuantityBound>;
