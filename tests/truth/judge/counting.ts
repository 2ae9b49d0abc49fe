/** Where the stand of an invented field is counted, and what is counted there. */
import { between, type Chance, chanceOf, gauss, oneOf, successes } from "./chance.ts";
import type { Ground, Spot } from "./ground.ts";
import type { Inside } from "./places.ts";

/** A counted spot as it truly lies; `row` is the leftmost one counted. */
export interface CountedSpot extends Spot {
  rowsCounted: number;
}

/** A spot as the file tells it. */
export interface WrittenCount {
  across: number;
  along: number;
  plants: number;
  lengthM: number;
  rowsCounted: number;
  /** 0 where the file does not name it. */
  rowUnit: number;
}

export const TARGET_PER_HA = 34_000 * 2.471_054;
/** One thousandth of an acre in 30 in rows, m. */
const LENGTH_M = 5.3;
/** SD of a drone's error of counting, share of the plants. */
const DRONE_ERROR = 0.025;
const COUNTS = [60, 100, 200] as const;

export interface Counting {
  spots: CountedSpot[];
  wanted: number;
  positionErrorM: number;
  namesRow: boolean;
}

/**
 * Draws the spots before anyone knows what is wrong.
 * @param howMany counts wanted, null for the usual
 * @param byRows half a bar or a section is to be told apart: positions and width of the counts allow it
 */
export function drawCounting(
  ground: Ground,
  name: string,
  byRows: boolean,
  howMany: number | null,
): Counting {
  const chance = chanceOf(`${name}/counting`);
  const { spec } = ground;
  const usual = oneOf(chance, COUNTS);
  const wanted = howMany ?? usual;
  const drawn = oneOf(chance, spec.rowsCounted);
  const rowsCounted = byRows ? Math.min(drawn, ground.rows / 4) : drawn;
  const error = between(chance, ...spec.positionErrorM);
  const spots =
    spec.counting === "drone"
      ? onGrid(chance, ground, wanted, rowsCounted)
      : inStrata(chance, ground, Math.round(wanted * (1 - spec.wherePoor)), rowsCounted);
  return {
    spots,
    wanted,
    positionErrorM: byRows ? Math.min(error, ground.barM / 8) : error,
    namesRow: rowsCounted === 1 && chance() < spec.namesRow,
  };
}

function spotAt(
  chance: Chance,
  ground: Ground,
  pass: number,
  along: number,
  rowsCounted: number,
): CountedSpot {
  const row = 1 + Math.floor(chance() * (ground.rows - rowsCounted + 1));
  return { ...ground.spotAt(pass, row, along), rowsCounted };
}

/** One spot in each stratum of the way. */
function inStrata(chance: Chance, ground: Ground, wanted: number, rowsCounted: number): CountedSpot[] {
  const { passCount, lengthM } = ground.spec;
  return Array.from({ length: wanted }, (_, k) => {
    const way = ((k + chance()) / wanted) * passCount;
    const pass = Math.min(passCount, 1 + Math.floor(way));
    return spotAt(chance, ground, pass, (way - pass + 1) * lengthM, rowsCounted);
  });
}

/** A square grid of pictures, each over a few rows. */
function onGrid(chance: Chance, ground: Ground, wanted: number, rowsCounted: number): CountedSpot[] {
  const { lengthM, passCount } = ground.spec;
  const step = Math.sqrt((ground.widthM * lengthM) / wanted);
  const spots: CountedSpot[] = [];
  for (let x = chance() * step; x < ground.widthM; x += step) {
    for (let y = step * (0.3 + 0.2 * chance()); y < lengthM; y += step) {
      const pass = Math.min(passCount, 1 + Math.floor(x / ground.barM));
      spots.push(spotAt(chance, ground, pass, y, rowsCounted));
    }
  }
  return spots;
}

/** More spots where it looked bad, for worlds in which people count so. */
export function addWherePoor(
  counting: Counting,
  ground: Ground,
  name: string,
  sites: readonly Spot[],
  isPoor: Inside,
): void {
  const chance = chanceOf(`${name}/where poor`);
  const poor = sites.filter(isPoor);
  const rowsCounted = counting.spots[0]!.rowsCounted;
  if (ground.spec.counting === "drone") return;
  while (counting.spots.length < counting.wanted) {
    const site = oneOf(chance, poor.length > 0 ? poor : sites);
    counting.spots.push(spotAt(chance, ground, site.pass, site.along, rowsCounted));
  }
}

/**
 * Counts the stand.
 * @param standAt share of the target that stands under a row, its chance apart
 */
export function count(
  counting: Counting,
  ground: Ground,
  name: string,
  standAt: (spot: Spot, chance: Chance) => number,
): WrittenCount[] {
  const chance = chanceOf(`${name}/counts`);
  const { spec } = ground;
  const seeds = Math.round((TARGET_PER_HA * LENGTH_M * ground.spacingM) / 10_000);
  return counting.spots.map((spot) => {
    let plants = 0;
    for (let k = 0; k < spot.rowsCounted; k++) {
      const stand = standAt(ground.spotAt(spot.pass, spot.row + k, spot.along), chance);
      plants += successes(chance, seeds, Math.min(1, Math.max(0, stand)));
    }
    if (spec.counting === "drone")
      plants = Math.max(0, Math.round(plants * (1 + DRONE_ERROR * gauss(chance))));
    const last = ground.spotAt(spot.pass, spot.row + spot.rowsCounted - 1, spot.along);
    return {
      across: (spot.across + last.across) / 2 + counting.positionErrorM * gauss(chance),
      along: spot.along + counting.positionErrorM * gauss(chance),
      plants,
      // The length in which that many seeds fell, so that rounding to whole seeds is no shortfall.
      lengthM: (seeds * 10_000) / (TARGET_PER_HA * ground.spacingM),
      rowsCounted: spot.rowsCounted,
      rowUnit: counting.namesRow ? spot.row : 0,
    };
  });
}
