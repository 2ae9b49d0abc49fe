/**
 * The loaded field: every layer in one local metric frame, every variable in its inside unit.
 * Positions are metres in the frame (UTM zone of the field, easting minus and northing minus a
 * rounded origin so that numbers stay small); columns have one entry a record.
 */

import type { Note } from "../errors.ts";
import type { Crop } from "../quantities/crops.ts";
import type { DrainageClass } from "./drainage.ts";
import type { Moisture } from "./moisture.ts";
import type { PrescriptionChoices } from "./prescription-choices.ts";
import type { RemedyCode } from "./remedy-codes.ts";
import type { LogVariable } from "./variables.ts";

/** A ring list per polygon: outer ring first (counter-clockwise), holes after (clockwise), closed. */
export type LocalPolygon = [number, number][][];

export interface LocalFrame {
  /** EPSG code of the UTM zone, e.g. 32615. */
  epsg: number;
  /** Subtracted from easting and northing, metres. */
  originX: number;
  originY: number;
  toLocal(longitude: number, latitude: number): [number, number];
  toLonLat(x: number, y: number): [number, number];
}

/** How a column of a file became a variable. */
export interface Recognition {
  variable: string;
  column: string;
  /** Unit the column is in, as in `UNITS`. */
  unit: string;
  /** 0..1: how sure the guess is; 1 where the manifest said so. */
  confidence: number;
  /** Why, in plain words: name, unit suffix, range. */
  reason: string;
}

export interface InputReport {
  role: string;
  file: string;
  /** Hash of the bytes, hexadecimal; filled by whoever holds the bytes, null where not computed. */
  sha256: string | null;
  records: number;
  used: number;
  leftOut: number;
  crs: string;
  recognised: Recognition[];
  /** Columns of the file that mean nothing to the job. */
  unrecognised: string[];
  /** Why each of them is not used, in the same order; left out where no column is looked for. */
  unusedReasons?: string[];
  notes: Note[];
}

/**
 * Where an actual depth comes from; a set depth never proves a depth cause. "sensed-by-look": nobody says, but it moves
 * from record to record like a measurement.
 */
export type DepthSource = "set" | "sensed" | "sensed-by-look" | "dug" | "unknown";

/** One entry a record; a record is one row unit, section or whole bar at one moment. */
export interface PlantingLog {
  recordCount: number;
  x: Float64Array;
  y: Float64Array;
  /** Numeric variables in inside units (see LOG_VARIABLES), NaN where missing. Only those the log has. */
  values: Partial<Record<LogVariable, Float64Array>>;
  /** Label variables as codes into labels; -1 where missing. `pass` is here too (as text) when logged. */
  labels: Partial<Record<LogVariable, { codes: Int32Array; labels: string[] }>>;
  /** Ground of each record where the log is one of polygons; left out for points. */
  footprints?: LocalPolygon[][];
  depthSource: DepthSource;
  /** Number of the record in the file, 1-based, for messages. */
  fileRecord: Int32Array;
  /** True when `values.time` resolves single moments (clock times); false for dates only or none. */
  hasClockTime: boolean;
  /** True where the records stand in the order of planting, though times may overlap (two machines); else left out. */
  isInPlantingOrder?: boolean;
  /** True where the times count from an unknown start: moments are in order, hour and day are not known; else left out. */
  clockFromZero?: boolean;
  /** Row-unit records, section records (several a moment) or whole-bar records. */
  layout: "row-unit" | "section" | "bar";
}

export interface SoilZones {
  /** Distinct zone names, sorted. */
  names: string[];
  /** One entry a polygon: which zone it is, its rings. */
  polygons: { zone: number; rings: LocalPolygon }[];
  /** Wetness class the name or attributes suggest; drives thresholds. */
  texture: TextureClass[];
  /** Natural drainage class of each zone, null where the map does not say. */
  drainage: DrainageClass[];
}

/** Coarse texture class by name of the zone (longest match of the usual texture words), null if none fits. */
export type TextureClass = "sand" | "sandy loam" | "loam" | "silt loam" | "clay loam" | "clay" | null;

/** Plants that had newly come up at one visit of a flagged row. */
export interface FlaggedPlants {
  isoDate: string;
  plants: number;
}

/** Counted spots. Arrays have one entry a spot. */
export interface StandCounts {
  spotCount: number;
  /** Number of the count in its file, 1-based, for messages; left out where the counts come from no file. */
  fileRecord?: Int32Array;
  x: Float64Array;
  y: Float64Array;
  /** Plants per hectare. */
  standPerHa: Float64Array;
  /** Plants actually counted (NaN where only the stand was given). */
  plants: Float64Array;
  /** Counted ground: length of row (m) and number of rows side by side; NaN where unknown. */
  rowLengthM: Float64Array;
  rowsCounted: Float64Array;
  /** Row unit named in the file, 0 where not given. */
  rowUnit: Int16Array;
  /** Share of plants late, NaN where not counted. */
  lateShare: Float64Array;
  /** Leaf stages the late plants are behind, NaN where not counted. */
  leafStagesBehind: Float64Array;
  method: (string | null)[];
  /** SD of the spacing between plants, mm, NaN where not measured; left out where no spot has one. */
  spacingSdMm?: Float64Array;
  /** Spacings measured between neighbouring plants, mm, null where none; left out where no spot has a list. */
  spacingsMm?: (number[] | null)[];
  /** Flag tests: each visit's newly emerged plants, null where none; left out where no spot has one. */
  flagged?: (FlaggedPlants[] | null)[];
  /** ISO date of the count, null where not given; left out where the file has no dates. */
  dates?: (string | null)[];
}

export interface Digs {
  digCount: number;
  x: Float64Array;
  y: Float64Array;
  rowUnit: Int16Array;
  /** Dug depth, mm: seedDepth, or mesocotyl + 19 mm (trade press). NaN where neither. */
  depthMm: Float64Array;
  smear: ("none" | "some" | "heavy" | null)[];
  /** "residue": straw or stalks pressed into the furrow with the seed, whether it is shut or not. */
  furrow: ("closed" | "open" | "residue" | null)[];
  moisture: (Moisture | null)[];
  seedState: ("fine" | "swollen" | "rotted" | "leafed out underground" | "hollow" | "none" | null)[];
}

export interface Weather {
  /** One entry a day (or hour): ISO date or date-time text, rain mm, air and soil temperature C; NaN where missing. */
  time: string[];
  rainMm: Float64Array;
  minimumC: Float64Array;
  maximumC: Float64Array;
  soilC: Float64Array;
}

export interface PlanterSetup {
  rowUnits: number | null;
  rowSpacingM: number | null;
  rowUnitWeightN: number | null;
  wheelTrackRows: number[];
  depthSensedRows: number[] | "all" | null;
  loadSensedRows: number[] | "all" | null;
  wings: [number, number][];
}

export interface Targets {
  seedingDepthMm: number | null;
  populationPerHa: number | null;
  /** Low and high limit of the margin. */
  downForceMarginN: [number, number] | null;
  speedMetresPerSecond: number | null;
}

export interface Prices {
  /** Money a bushel (or a tonne, see yieldUnit) and its currency. */
  grainPerBushel: number | null;
  expectedBushelPerAcre: number | null;
  seedPer1000: number | null;
  currency: string;
  /** What the user says a remedy costs, all of it, by its code; left out where none is given. */
  remedyCosts?: Partial<Record<RemedyCode, number>>;
}

export interface Field {
  name: string;
  season: number | null;
  crop: Crop;
  /** ISO date of (the first day of) planting, from the manifest or the log; null when neither has one. */
  planted: string | null;
  plantedFrom: "manifest" | "log" | null;
  frame: LocalFrame;
  log: PlantingLog;
  soilZones: SoilZones | null;
  standCounts: StandCounts | null;
  digs: Digs | null;
  /** Field boundary, null when not given. */
  boundary: LocalPolygon[] | null;
  weather: Weather | null;
  planter: PlanterSetup;
  targets: Targets;
  prices: Prices;
  /** What the manifest says about the down-force prescription; left out where it says nothing. */
  prescription?: PrescriptionChoices;
  inputs: InputReport[];
}
