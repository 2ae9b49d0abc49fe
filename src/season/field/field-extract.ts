/**
 * What a season keeps of one analysed field: small, so that ten thousand fields fit into memory, and complete, so that
 * nothing of a field has to be opened again. Written beside the field's results as `extract.json`.
 */
import type { WantedKey } from "../../field/wanted-answers.ts";
import type { HeadlineForm, MoneyEstimate } from "../../findings/findings-document.ts";
import type { Estimate } from "../../numerics/estimate.ts";
import type { Basis, Cause, FindingKind } from "../../vocabulary/causes.ts";
import type { PlantingVariable } from "../../vocabulary/variables.ts";
import type { UnitVariable } from "./unit-variables.ts";

export const EXTRACT_SCHEMA = "evenstand/field-extract/2";

/** Rings of polygons in degrees WGS 84, as in GeoJSON. */
export type DegreePolygons = [longitude: number, latitude: number][][][];

export interface ExtractedFinding {
  id: string;
  kind: FindingKind;
  cause: Cause;
  basis: Basis;
  probability: number;
  title: string;
  place: string;
  areaHa: number;
  rowUnits: number[];
  /** How many passes the finding is confined to; 0 where to none. */
  passes: number;
  soilZones: string[];
  deficitShare: Estimate | null;
  money: MoneyEstimate | null;
  remedyCode: string;
  remedy: string;
  caution: string;
  polygons: DegreePolygons;
}

/** Means of the variables the log has, inside units. */
export type Means = Partial<Record<PlantingVariable, number>>;

export interface ExtractedPass {
  pass: number;
  /** ISO date; null where not known. */
  date: string | null;
  headland: boolean;
  areaHa: number;
  means: Means;
  /** Share of the records without load on the gauge wheels; null where the log has no load. */
  noLoadShare: number | null;
}

/** One row unit in one variable over the field. */
export interface ExtractedUnit {
  rowUnit: number;
  variable: UnitVariable;
  passes: number;
  /** Mean departure from the bar's median at the same moments; population as a share of it. */
  departure: number;
  /** Squared standard error of it, the passes as replicates; null with one pass. */
  variance: number | null;
}

export interface ExtractedZone {
  soilZone: string;
  /** Texture class of the zone's name; null where none. */
  texture: string | null;
  areaHa: number;
  means: Means;
  noLoadShare: number | null;
  /** Load on the gauge wheels that the manifest says was prescribed here, N; null where it says nothing. */
  prescribedN: number | null;
}

/** Ground of one seed lot; only fields with two lots or more have any. */
export interface ExtractedLot {
  lot: string;
  /** Share of the field's records. */
  share: number;
  means: Means;
}

export interface ExtractedStand {
  counts: number;
  perHa: Estimate;
  ofTarget: Estimate | null;
  lateShare: Estimate | null;
}

export interface FieldExtract {
  schema: typeof EXTRACT_SCHEMA;
  name: string;
  season: number | null;
  crop: string;
  /** ISO date of the first day of planting. */
  planted: string | null;
  areaHa: number;
  affectedHa: number;
  sentence: string;
  form: HeadlineForm;
  money: MoneyEstimate | null;
  /** Target speed, m/s; null where none was given. */
  speedTarget: number | null;
  rowUnits: number;
  rowSpacingM: number | null;
  /** Machines the log names where it names two or more. */
  machines: string[];
  wanted: WantedKey[];
  /** Row units that the field by itself finds departing, with the variable. */
  departing: { rowUnit: number; variable: string }[];
  stand: ExtractedStand | null;
  outline: DegreePolygons;
  findings: ExtractedFinding[];
  passes: ExtractedPass[];
  units: ExtractedUnit[];
  zones: ExtractedZone[];
  lots: ExtractedLot[];
}
