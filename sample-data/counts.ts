/** Stand counts of the invented field: most by drone, some by hand along one row. */
import type { Random } from "../src/numerics/random.ts";
import { toRoundedLonLat } from "./frame.ts";
import { GROUND, type Ground } from "./ground.ts";
import { binomial, streamOf } from "./noise.ts";
import { positionOn, rowOffsetM } from "./passes.ts";
import { COUNT_DATE, DUSTY_SENSOR_ROW, ROW_SPACING_M, SHALLOW_ROW } from "./scenario.ts";
import { oneRowSpot, type Spot, spreadSpots, type Wanted } from "./spots.ts";
import { makeStandModel, type StandModel } from "./stand.ts";

const DRONE_SPOTS = 108;
const DRONE_ROWS = 4;
const DRONE_ROW_M = 6;
const HAND_ROW_M = 25;

const HAND_SPOTS: Wanted[] = [
  ...repeat(3, { place: null, rowUnit: DUSTY_SENSOR_ROW.rowUnit, day: DUSTY_SENSOR_ROW.day }),
  ...repeat(3, { place: null, rowUnit: SHALLOW_ROW.rowUnit }),
  ...repeat(2, { place: "knoll", rowUnit: "any" }),
  { place: "swaleDayTwo", rowUnit: "any" },
  { place: "pocket", rowUnit: "any" },
  ...repeat(2, { place: null, rowUnit: "any" }),
];

function repeat(times: number, wanted: Wanted): Wanted[] {
  return Array.from({ length: times }, () => wanted);
}

/** Properties of one count, as the file has them. */
export interface CountProperties {
  method: "drone" | "hand";
  date: string;
  plants: number;
  rows_counted: number;
  row_length_m: number;
  row_spacing_in: number;
  late_plants: number;
  /** Leaves the late plants are behind; null where no plant is late. */
  leaves_behind: number | null;
  /** The row counted by hand. */
  row_unit?: number;
}

/** The counts as GeoJSON text, one point a spot: the middle of the rows counted. */
export function makeCounts(seed: number, field: Ground = GROUND): string {
  const random = streamOf(seed, "counts");
  const stand = makeStandModel(seed, field);
  const usedPasses = new Set<number>();
  const drone = spreadSpots(random, field, DRONE_SPOTS, DRONE_ROWS, DRONE_ROW_M);
  const hand = HAND_SPOTS.map((wanted) => oneRowSpot(random, field, wanted, HAND_ROW_M, usedPasses));
  const features = [
    ...drone.map((spot) => feature(spot, { method: "drone", ...count(random, stand, spot, DRONE_ROW_M) })),
    ...hand.map((spot) =>
      feature(spot, { method: "hand", ...count(random, stand, spot, HAND_ROW_M), row_unit: spot.firstRow }),
    ),
  ];
  return `{"type":"FeatureCollection","features":[\n${features.join(",\n")}\n]}\n`;
}

function feature(spot: Spot, properties: CountProperties): string {
  const geometry = { type: "Point", coordinates: toRoundedLonLat(spot.position) };
  return JSON.stringify({ type: "Feature", properties, geometry });
}

/** Counts the rows of a spot metre by metre: seeds lie where the rate puts them, each comes up by chance. */
function count(
  random: Random,
  stand: StandModel,
  { pass, firstRow, lastRow, position }: Spot,
  rowLengthM: number,
): Omit<CountProperties, "method" | "row_unit"> {
  let plants = 0;
  let late = 0;
  let leavesBehind = 0;
  const middleM =
    (position[0] - pass.start[0]) * pass.direction[0] + (position[1] - pass.start[1]) * pass.direction[1];
  for (let rowUnit = firstRow; rowUnit <= lastRow; rowUnit++) {
    // The place of the row's first seed is chance.
    let carried = random();
    for (let metre = 0; metre < rowLengthM; metre++) {
      const alongM = middleM - rowLengthM / 2 + metre + 0.5;
      const here = stand(positionOn(pass, alongM, rowOffsetM(rowUnit)), pass, rowUnit);
      const seeds = Math.floor(carried + here.seedsPerMetreOfRow);
      carried += here.seedsPerMetreOfRow - seeds;
      const up = binomial(random, seeds, here.emergence);
      plants += up;
      late += binomial(random, up, here.lateShare);
      leavesBehind = Math.max(leavesBehind, here.leavesBehind);
    }
  }
  return {
    date: COUNT_DATE,
    plants,
    rows_counted: lastRow - firstRow + 1,
    row_length_m: rowLengthM,
    row_spacing_in: ROW_SPACING_M / 0.0254,
    late_plants: late,
    leaves_behind: late > 0 ? leavesBehind : null,
  };
}
