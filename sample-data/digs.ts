/** Where seed was dug in the invented field, and what was found. */
import { CROWN_DEPTH_MM } from "../src/field/load-digs.ts";
import { normal } from "../src/numerics/random.ts";
import { MM_PER_INCH } from "../src/quantities/units.ts";
import { toRoundedLonLat } from "./frame.ts";
import { GROUND, type Ground } from "./ground.ts";
import { streamOf } from "./noise.ts";
import { DUSTY_SENSOR_ROW, ORDINARY_GROUND, PLACES, SHALLOW_ROW } from "./scenario.ts";
import { oneRowSpot, type Wanted } from "./spots.ts";

interface Dig extends Wanted {
  depthIn: number;
  /** Dug behind the planter: the depth itself; beside a plant: the mesocotyl too, or alone. */
  measured: "depth" | "both" | "mesocotyl";
  smear: "none" | "some" | "heavy";
  moisture: "dry" | "fit" | "damp";
  seedState: "fine" | "swollen" | "leafed out underground";
}

const DEPTH_SD_IN = 0.1;
/** A dig needs a hand's breadth of row. */
const DIG_M = 1;

const ordinary = {
  place: null,
  rowUnit: "any",
  depthIn: ORDINARY_GROUND.depthIn,
  measured: "both",
  smear: "none",
  moisture: "fit",
  seedState: "fine",
} as const satisfies Dig;
const knoll: Dig = {
  ...ordinary,
  place: "knoll",
  depthIn: PLACES.knoll.depthIn,
  measured: "depth",
  moisture: "dry",
};
const swale: Dig = {
  ...ordinary,
  place: "swaleDayTwo",
  depthIn: PLACES.swaleDayTwo.depthIn,
  measured: "depth",
  smear: "heavy",
  moisture: "damp",
};
const shallowRow: Dig = {
  ...ordinary,
  rowUnit: SHALLOW_ROW.rowUnit,
  depthIn: ORDINARY_GROUND.depthIn - SHALLOW_ROW.shallowerIn,
};
const dustyRow: Dig = { ...ordinary, rowUnit: DUSTY_SENSOR_ROW.rowUnit, day: DUSTY_SENSOR_ROW.day };
const pocket: Dig = { ...ordinary, place: "pocket", seedState: "leafed out underground" };

const DIGS: Dig[] = [
  knoll,
  { ...knoll, seedState: "swollen" },
  knoll,
  { ...knoll, seedState: "swollen" },
  swale,
  { ...swale, smear: "some" },
  swale,
  swale,
  shallowRow,
  shallowRow,
  shallowRow,
  { ...dustyRow, measured: "mesocotyl" },
  dustyRow,
  pocket,
  pocket,
  ordinary,
];

/** The digs as CSV text. */
export function makeDigs(seed: number, field: Ground = GROUND): string {
  const random = streamOf(seed, "digs");
  const used = new Set<number>();
  let noise = 0;
  const lines = DIGS.map((dig, index) => {
    const spot = oneRowSpot(random, field, dig, DIG_M, used);
    // Every second dig mirrors the one before: so few of them still average to what was put in.
    noise = index % 2 === 0 ? normal(random) : -noise;
    const depthIn = dig.depthIn + DEPTH_SD_IN * noise;
    const [longitude, latitude] = toRoundedLonLat(spot.position);
    const depth = dig.measured === "mesocotyl" ? "" : depthIn.toFixed(2);
    const mesocotyl = dig.measured === "depth" ? "" : (depthIn * MM_PER_INCH - CROWN_DEPTH_MM).toFixed(0);
    const { smear, moisture, seedState } = dig;
    return [
      longitude,
      latitude,
      spot.firstRow,
      depth,
      mesocotyl,
      smear,
      "closed",
      moisture,
      seedState,
    ].join();
  });
  const header = "lon,lat,row_unit,seed_depth_in,mesocotyl_mm,smear,furrow,moisture,seed_state";
  return `${[header, ...lines].join("\n")}\n`;
}
