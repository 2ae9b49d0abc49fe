/**
 * What was put into the invented field, for tests that score an analysis of it. No file of the sample
 * carries it and the analysis never sees it.
 */
import type { Cause } from "../src/vocabulary/causes.ts";
import { fromLonLat, type Position, toRoundedLonLat, toUtm, UTM_EPSG } from "./frame.ts";
import { areaHa, FIELD_SHAPE, GROUND, type Ground } from "./ground.ts";
import { passAt, passOutline } from "./passes.ts";
import { headingOf } from "./planting-log.ts";
import { makeRowUnits, type RowUnits } from "./row-units.ts";
import {
  DUSTY_SENSOR_ROW,
  type GroundNumbers,
  ORDINARY_GROUND,
  PLACE_NAMES,
  PLACES,
  PLANTING_DATES,
  type PlaceName,
  ROW_SPACING_M,
  ROW_UNITS,
  SHALLOW_ROW,
  SOIL_TEXTURES,
  type SoilTexture,
} from "./scenario.ts";
import { areaM2, common, insideTest, type Shape } from "./shapes.ts";

/** One stretch of ground: polygons as lists of closed rings, the outer one first. */
interface TruthArea {
  areaHa: number;
  /** Easting and northing in the UTM zone of {@link LarkspurDrawTruth.epsg}, metres. */
  utm: Position[][][];
  /** WGS 84 degrees. */
  lonLat: Position[][][];
  contains(longitude: number, latitude: number): boolean;
}

interface TruthPlace extends TruthArea {
  cause: Cause;
  /** What was put in there. */
  numbers: GroundNumbers;
  /** Numbers of the passes that planted more than 100 m2 of it. */
  passes: number[];
}

interface TruthPass {
  /** 1..n in order of planting. */
  number: number;
  date: string;
  headland: boolean;
  fast: boolean;
  /** Degrees clockwise from north. */
  headingDeg: number;
  lengthM: number;
  /** Outline of the ground planted, closed, as {@link TruthArea.utm}. */
  utm: Position[];
}

export interface LarkspurDrawTruth {
  epsg: number;
  field: TruthArea;
  zones: Record<SoilTexture, TruthArea>;
  places: Record<PlaceName, TruthPlace>;
  passes: TruthPass[];
  /** What grows and how the log reads outside the places. */
  ordinary: GroundNumbers;
  /** Lasting offsets of the row units, index 0 for row unit 1; the slipped depth stop is in them. */
  rowUnits: RowUnits;
  shallowRow: typeof SHALLOW_ROW & { cause: Cause };
  dustySensorRow: typeof DUSTY_SENSOR_ROW & { cause: Cause };
  /** The pass that planted a spot and its nearest row unit; null outside the field. WGS 84 degrees. */
  plantedBy(longitude: number, latitude: number): { pass: number; rowUnit: number } | null;
  /** The place a spot lies in, null on ordinary ground or outside the field. WGS 84 degrees. */
  placeOf(longitude: number, latitude: number): PlaceName | null;
}

const CAUSES: Readonly<Record<PlaceName, Cause>> = {
  knoll: "lost-ground-contact",
  swaleDayTwo: "excess-down-force",
  fastPasses: "excess-speed",
  pocket: "soil-or-weather",
};

/** The truth behind {@link makeLarkspurDraw} of the same seed and ground. */
export function makeLarkspurDrawTruth(seed: number, ground: Ground = GROUND): LarkspurDrawTruth {
  return {
    epsg: UTM_EPSG,
    field: areaOf(FIELD_SHAPE),
    zones: recordOf(SOIL_TEXTURES, (texture) => areaOf(ground.zones[texture])),
    places: recordOf(PLACE_NAMES, (name) => ({
      ...areaOf(ground.places[name]),
      cause: CAUSES[name],
      numbers: PLACES[name],
      passes: passesOver(ground.places[name], ground.passes),
    })),
    passes: ground.passes.map((pass) => ({
      number: pass.number,
      date: PLANTING_DATES[pass.day],
      headland: pass.headland,
      fast: pass.fast,
      headingDeg: headingOf(pass),
      lengthM: pass.lengthM,
      utm: passOutline(pass).map(toUtm),
    })),
    ordinary: ORDINARY_GROUND,
    rowUnits: makeRowUnits(seed),
    shallowRow: { ...SHALLOW_ROW, cause: "too-shallow" },
    dustySensorRow: { ...DUSTY_SENSOR_ROW, cause: "sensor-fault" },
    plantedBy(longitude, latitude) {
      const found = passAt(fromLonLat(longitude, latitude), ground.passes);
      if (!found) return null;
      const rowUnit = Math.round(found.rightM / ROW_SPACING_M + (ROW_UNITS + 1) / 2);
      return { pass: found.pass.number, rowUnit: Math.max(1, Math.min(ROW_UNITS, rowUnit)) };
    },
    placeOf(longitude, latitude) {
      const position = fromLonLat(longitude, latitude);
      const found = passAt(position, ground.passes);
      return found ? ground.placeAt(position, found.pass) : null;
    },
  };
}

function areaOf(shape: Shape): TruthArea {
  const inside = insideTest(shape);
  const mapped = (convert: (position: Position) => Position): Shape =>
    shape.map((rings) => rings.map((ring) => ring.map(convert)));
  return {
    areaHa: areaHa(shape),
    utm: mapped(toUtm),
    lonLat: mapped(toRoundedLonLat),
    contains: (longitude, latitude) => inside(fromLonLat(longitude, latitude)),
  };
}

function passesOver(shape: Shape, passes: Ground["passes"]): number[] {
  return passes
    .filter((pass) => areaM2(common(shape, [[passOutline(pass)]])) > 100)
    .map((pass) => pass.number);
}

function recordOf<K extends string, V>(keys: readonly K[], value: (key: K) => V): Record<K, V> {
  return Object.fromEntries(keys.map((key) => [key, value(key)])) as Record<K, V>;
}
