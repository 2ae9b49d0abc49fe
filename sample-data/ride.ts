/**
 * How a row unit rides: the forces on it and the depth that follows. What presses (weight plus hydraulic
 * force) minus what the soil pushes back is the load left on the gauge wheels; a unit whose wheels run
 * light rides up.
 */
import { normal, type Random } from "../src/numerics/random.ts";
import { type SmoothField, smoothField, streamOf } from "./noise.ts";
import type { RowUnits } from "./row-units.ts";
import { DOWN_FORCE_SETTING_LBF, type GroundNumbers, ROW_UNIT_WEIGHT_LBF } from "./scenario.ts";

interface Ride {
  downForceLbf: number;
  marginLbf: number;
  depthIn: number;
}

/** Shares of the SD of the load, their squares adding to 1 with the spread between row units. */
const SOIL_PART = 0.46;
const BAR_PART = 0.19;
const BOUNCE_PART = 0.835;
/** The same for the depth. */
const DEPTH_SOIL_PART = 0.35;
const DEPTH_BOUNCE_PART = 0.937;
const DOWN_FORCE_SD_LBF = 3;
/** How far a unit rides up for each pound-force its load is under its mean, where the wheels run light. */
const RISE_IN_PER_LBF = 0.004;
const LIGHT_MARGIN_LBF = 50;

interface RideModel {
  /**
   * One reading.
   * @param ground the numbers of the place, `softer` what the soil adds to the load, lbf.
   * @param barNoise what shakes the whole bar at the moment, mean 0, SD 1.
   */
  read(ground: GroundNumbers, softer: number, rowUnit: number, u: number, v: number, barNoise: number): Ride;
}

export function makeRideModel(seed: number, rowUnits: RowUnits, random: Random): RideModel {
  const fields = streamOf(seed, "logFields");
  const hardness: SmoothField = smoothField(fields, 35);
  const seedbed: SmoothField = smoothField(fields, 25);
  return {
    read(ground, softer, rowUnit, u, v, barNoise) {
      const downForceLbf = DOWN_FORCE_SETTING_LBF + DOWN_FORCE_SD_LBF * normal(random);
      const spread = SOIL_PART * hardness(u, v) + BAR_PART * barNoise + BOUNCE_PART * normal(random);
      const soilReactionLbf =
        ROW_UNIT_WEIGHT_LBF +
        DOWN_FORCE_SETTING_LBF -
        (ground.marginLbf + softer + rowUnits.marginLbf[rowUnit - 1]! + ground.marginSdLbf * spread);
      const marginLbf = Math.max(0, ROW_UNIT_WEIGHT_LBF + downForceLbf - soilReactionLbf);
      const uneven = DEPTH_SOIL_PART * seedbed(u, v) + DEPTH_BOUNCE_PART * normal(random);
      const lift = ground.marginLbf < LIGHT_MARGIN_LBF ? RISE_IN_PER_LBF * (marginLbf - ground.marginLbf) : 0;
      const depthIn = ground.depthIn + rowUnits.depthIn[rowUnit - 1]! + ground.depthSdIn * uneven + lift;
      return { downForceLbf, marginLbf, depthIn: Math.max(0, depthIn) };
    },
  };
}
