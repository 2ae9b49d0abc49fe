/** The true stand of the invented field: seeds in the ground, plants up, plants late. */
import { ACRES_PER_HECTARE, SQUARE_METRES_PER_HECTARE } from "../src/quantities/units.ts";
import type { Position } from "./frame.ts";
import { GROUND, type Ground } from "./ground.ts";
import { smoothField, streamOf } from "./noise.ts";
import type { PlantedPass } from "./passes.ts";
import {
  METERED_RATE_PER_ACRE,
  ORDINARY_GROUND,
  PLACES,
  ROW_SPACING_M,
  SHALLOW_ROW,
  SOILS,
  STAND_NOISE,
} from "./scenario.ts";

interface StandHere {
  seedsPerMetreOfRow: number;
  /** Chance that a seed is a plant on the day of counting. */
  emergence: number;
  /** Chance that a plant is late, and by how many leaves. */
  lateShare: number;
  leavesBehind: number;
}

export type StandModel = (position: Position, pass: PlantedPass, rowUnit: number) => StandHere;

/** Per acre of field to per metre of one row. */
const PER_METRE_OF_ROW = (ACRES_PER_HECTARE / SQUARE_METRES_PER_HECTARE) * ROW_SPACING_M;

/** What grows, by place, soil and row unit, with noise that hangs together. The seed sensor has no part in it. */
export function makeStandModel(seed: number, field: Ground = GROUND): StandModel {
  const chanceOfPlace = smoothField(streamOf(seed, "standField"), STAND_NOISE.rangeM);
  return (position, pass, rowUnit) => {
    const place = field.placeAt(position, pass);
    const ground = place ? PLACES[place] : ORDINARY_GROUND;
    const soil = place ? 1 : 1 + SOILS[field.textureAt(position)].standShare;
    const shallow = rowUnit === SHALLOW_ROW.rowUnit;
    const row = shallow ? SHALLOW_ROW.plantsPerAcre / ORDINARY_GROUND.plantsPerAcre : 1;
    const noise = 1 + STAND_NOISE.share * chanceOfPlace(...position);
    const seedsPerAcre = METERED_RATE_PER_ACRE * (1 - ground.missShare + ground.multipleShare);
    return {
      seedsPerMetreOfRow: seedsPerAcre * PER_METRE_OF_ROW,
      emergence: Math.min(1, (ground.plantsPerAcre / seedsPerAcre) * soil * row * noise),
      lateShare: ground.lateShare + (shallow ? SHALLOW_ROW.lateShareAdded : 0),
      leavesBehind: ground.leavesBehind,
    };
  };
}
