/** The planting log of the invented field: one record a row unit every two seconds while planting. */
import { normal } from "../src/numerics/random.ts";
import { METRES_PER_SECOND_PER_MILE_PER_HOUR } from "../src/quantities/units.ts";
import type { DbfField } from "../src/write/shapefile/dbf-table.ts";
import { FIELD_HEADING_DEG, toLonLat } from "./frame.ts";
import { GROUND, type Ground } from "./ground.ts";
import { startSensor } from "./metering.ts";
import { streamOf } from "./noise.ts";
import { type PlantedPass, positionOn, rowOffsetM } from "./passes.ts";
import { writePointShapefile } from "./point-shapefile.ts";
import { makeRideModel } from "./ride.ts";
import type { RowUnits } from "./row-units.ts";
import {
  BAR_WIDTH_M,
  ORDINARY_GROUND,
  PLACES,
  PLANTING_DATES,
  RECORD_INTERVAL_S,
  ROW_UNITS,
  SOILS,
} from "./scenario.ts";

const START_OF_DAY = { 1: "T15:20:00Z", 2: "T16:05:00Z" } as const;
const TURN_S = 24;
const FILL_S = 780;
/** Ground planted between two fills of the tank. */
const FILL_M2 = 85_000;
const SPEED_DRIFT_SD_MPH = 0.12;
/** Share of the drift left after one record. */
const DRIFT_KEPT = 0.9;
const HEADING_SD_DEG = 0.3;
const STEERING_SD_M = 0.02;
/** Positions are logged to 2 to the power -23 degrees, about a centimetre, which also packs well. */
const POSITION_STEPS_PER_DEGREE = 2 ** 23;

/** Column name, characters, decimals and step of the numbers in the log's table. */
const NUMBER_COLUMNS = [
  ["ROW_UNIT", 2, 0, 1],
  ["SPEED_MPH", 5, 2, 0.01],
  ["HEADING", 5, 1, 0.1],
  ["DEPTH_IN", 4, 2, 0.01],
  ["FORCE_LBF", 4, 0, 1],
  ["MARGIN_LBF", 4, 0, 1],
  ["SINGUL_PCT", 5, 1, 0.1],
  ["MISS_PCT", 4, 1, 0.1],
  ["MULT_PCT", 4, 1, 0.1],
  ["POP_AC", 5, 0, 10],
] as const;

type ColumnName = (typeof NUMBER_COLUMNS)[number][0];

/** The log as a zipped shapefile named `planting`. */
export function makePlantingLog(seed: number, rowUnits: RowUnits, field: Ground = GROUND): Uint8Array {
  const random = streamOf(seed, "log");
  const ride = makeRideModel(seed, rowUnits, random);
  const x: number[] = [];
  const y: number[] = [];
  const times: string[] = [];
  const columns = Object.fromEntries(NUMBER_COLUMNS.map(([name]) => [name, []])) as unknown as Record<
    ColumnName,
    number[]
  >;
  const add = (name: ColumnName, value: number) => columns[name].push(value);

  for (const { pass, startS } of schedule(field.passes)) {
    const passGround = pass.fast ? PLACES.fastPasses : ORDINARY_GROUND;
    const sensors = Array.from({ length: ROW_UNITS }, (_, index) =>
      startSensor(random, passGround, index + 1, pass.day),
    );
    const steeringM = STEERING_SD_M * normal(random);
    let drift = SPEED_DRIFT_SD_MPH * normal(random);
    let elapsedS = 0;
    let reachedM = 0;
    for (;;) {
      drift = DRIFT_KEPT * drift + Math.sqrt(1 - DRIFT_KEPT ** 2) * SPEED_DRIFT_SD_MPH * normal(random);
      const speedMph = passGround.speedMph + drift;
      const stepM = speedMph * METRES_PER_SECOND_PER_MILE_PER_HOUR * RECORD_INTERVAL_S;
      const alongM = reachedM + stepM / 2;
      if (alongM > pass.lengthM) break;
      reachedM += stepM;
      elapsedS += RECORD_INTERVAL_S;
      const time = new Date((startS + elapsedS) * 1000).toISOString().replace(".000Z", "Z");
      const heading = (headingOf(pass) + HEADING_SD_DEG * normal(random) + 360) % 360;
      const barNoise = normal(random);
      for (let rowUnit = 1; rowUnit <= ROW_UNITS; rowUnit++) {
        const position = positionOn(pass, alongM, rowOffsetM(rowUnit) + steeringM);
        const place = field.placeAt(position, pass);
        const ground = place ? PLACES[place] : ORDINARY_GROUND;
        const softer = place === null ? SOILS[field.textureAt(position)].marginLbf : 0;
        const { downForceLbf, marginLbf, depthIn } = ride.read(
          ground,
          softer,
          rowUnit,
          ...position,
          barNoise,
        );
        const metering = sensors[rowUnit - 1]!();
        const [longitude, latitude] = toLonLat(position);
        x.push(Math.round(longitude * POSITION_STEPS_PER_DEGREE) / POSITION_STEPS_PER_DEGREE);
        y.push(Math.round(latitude * POSITION_STEPS_PER_DEGREE) / POSITION_STEPS_PER_DEGREE);
        times.push(time);
        const missTenths = Math.round(metering.missShare * 1000);
        const multipleTenths = Math.round(metering.multipleShare * 1000);
        add("ROW_UNIT", rowUnit);
        add("SPEED_MPH", speedMph);
        add("HEADING", heading);
        add("DEPTH_IN", depthIn);
        add("FORCE_LBF", downForceLbf);
        add("MARGIN_LBF", marginLbf);
        add("SINGUL_PCT", (1000 - missTenths - multipleTenths) / 10);
        add("MISS_PCT", missTenths / 10);
        add("MULT_PCT", multipleTenths / 10);
        add("POP_AC", metering.populationPerAcre);
      }
    }
  }
  const fields: DbfField[] = [
    { kind: "text", name: "TIME", width: 20, values: times },
    ...NUMBER_COLUMNS.map(
      ([name, width, decimals, step]): DbfField => ({
        kind: "number",
        name,
        width,
        decimals,
        values: columns[name].map((value) => Math.round(value / step) * step),
      }),
    ),
  ];
  return writePointShapefile({ name: "planting", x, y, fields, crs: { kind: "degrees" } });
}

/** When each pass starts, seconds since 1970 UTC, with the turns and the stops to fill the seed tank. */
function schedule(passes: Ground["passes"]): { pass: PlantedPass; startS: number }[] {
  let clockS = 0;
  let day = 0;
  let sinceFillM2 = 0;
  return passes.map((pass) => {
    if (pass.day !== day) {
      day = pass.day;
      clockS = Date.parse(PLANTING_DATES[pass.day] + START_OF_DAY[pass.day]) / 1000;
      sinceFillM2 = 0;
    }
    if (sinceFillM2 > FILL_M2) {
      clockS += FILL_S;
      sinceFillM2 = 0;
    }
    const startS = clockS;
    const { speedMph } = pass.fast ? PLACES.fastPasses : ORDINARY_GROUND;
    clockS += Math.ceil(pass.lengthM / (speedMph * METRES_PER_SECOND_PER_MILE_PER_HOUR)) + TURN_S;
    sinceFillM2 += pass.lengthM * BAR_WIDTH_M;
    return { pass, startS };
  });
}

/** Heading of a pass, degrees clockwise from north. */
export function headingOf({ direction }: PlantedPass): number {
  return (FIELD_HEADING_DEG + (Math.atan2(direction[0], direction[1]) * 180) / Math.PI + 360) % 360;
}
