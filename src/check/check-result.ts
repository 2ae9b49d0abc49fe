/** What the first passes of an unfinished log show, in figures; schema evenstand/check/1. What is unknown is null. */

import type { PassTrend } from "../causes/find/pass-trend.ts";
import type { RowDeparture } from "../causes/find/row-departures.ts";
import type { Note } from "../errors.ts";
import type { NotJudged } from "../findings/findings-document.ts";
import type { Crop } from "../quantities/crops.ts";
import type { Cause } from "../vocabulary/causes.ts";

export const CHECK_SCHEMA = "evenstand/check/1";

/** What a check looks at, in the order in which it is said. */
export const CHECK_VARIABLES = [
  "seedingDepth",
  "downForceMargin",
  "groundContact",
  "misses",
  "multiples",
  "singulation",
  "population",
  "speed",
] as const;

export type CheckVariable = (typeof CHECK_VARIABLES)[number];

/** How much has been seen. */
export interface CheckSeen {
  /** Records of the file that could be placed, and those of them on a pass with the planter down. */
  records: number;
  recordsOnPasses: number;
  passes: number;
  /** True where passes were driven both ways along one line. */
  bothWays: boolean;
  areaHa: number;
  lengthM: number;
  /** From the first to the last record on a pass, stops and turns included; null without clock times. */
  minutes: number | null;
  /** 0 where the log knows no row units. */
  rowUnits: number;
}

/** What a figure is held against; inside units. */
export interface CheckAim {
  low: number | null;
  high: number | null;
  /** "usual": no target was given, the limits are the usual ones of the trade. */
  from: "manifest" | "log" | "usual";
  /** Where a usual limit comes from; null for a target of one's own. */
  source: string | null;
}

export interface CheckFigure {
  variable: CheckVariable;
  /** mm, N, share, seeds/ha, m/s. */
  unit: string;
  readings: number;
  mean: number;
  /** Median over the stretches of ground of their means: neither one bad row nor one bad place moves it; null with few readings. */
  usual: number | null;
  /** Quantiles type 7 (Hyndman & Fan 1996): a tenth of the readings lies below p10. */
  p10: number;
  p90: number;
  aim: CheckAim | null;
  /** Shares of the readings of the usual stretch of ground below and above the aim; null without one. */
  shareBelow: number | null;
  shareAbove: number | null;
  /** Sensed depth only: usual SD along the row, mm, and the limit of it at this logging interval. */
  spreadAlongRow: number | null;
  spreadLimit: number | null;
  /** Load and logged contact only: share of the readings (of the time) without load, that of the usual stretch, and the limit. */
  noLoadShare: number | null;
  usualNoLoadShare: number | null;
  noLoadLimit: number | null;
  /** The mean of last year's findings, inside unit; null where none was given. */
  lastYear: number | null;
}

/** Order in which changes are worth making; speed last, though it may be behind others. */
export const CHANGE_ORDER = [
  "depth",
  "uniform depth",
  "contact",
  "pressure",
  "population",
  "spacing",
  "speed",
] as const;

/** One thing to change or look at now. */
export interface CheckChange {
  matter: (typeof CHANGE_ORDER)[number];
  cause: Cause;
  /** Empty where it is about the whole bar. */
  rowUnits: number[];
  variable: CheckVariable;
  /** What `value` and `limit` are of: "shift" is that of rows against the bar and has no limit. */
  measure: "mean" | "spread" | "time without load" | "shift";
  /** Inside unit of the variable; time is a share. */
  value: number;
  limit: number | null;
}

export interface CheckRow extends Omit<RowDeparture, "inFinding"> {
  /** Passes on which it could be looked at. */
  ofPasses: number;
  /** True where last year's findings have the row departing as well. */
  lastYear: boolean;
}

/** Where to dig, and before which end of which pass. */
export interface CheckDig {
  /** Pass being planted, its heading (degrees clockwise from north), and what is left of it by the passes before, m. */
  pass: number;
  headingDeg: number;
  leftM: number | null;
  /** The stretch to dig on, m. */
  withinM: number;
  middle: number[];
  wings: number[];
  wheels: number[];
  departing: number[];
}

export interface LastYear {
  field: string;
  season: number | null;
  crop: string;
  /** Means over the whole field, inside units. */
  means: Partial<Record<CheckVariable, number>>;
  /** Rows that departed: by variable. */
  rows: { rowUnits: number[]; variable: string }[];
}

export interface CheckResult {
  schema: typeof CHECK_SCHEMA;
  field: { name: string; crop: Crop };
  seen: CheckSeen;
  figures: CheckFigure[];
  rows: CheckRow[];
  trends: PassTrend[];
  /** Worst first; empty says only that nothing of what was judged asks for a change. */
  changes: CheckChange[];
  /** Names of what was judged, in plain words. */
  judged: string[];
  notJudged: NotJudged[];
  dig: CheckDig;
  /** `doubts`: why its figures may not be comparable, in plain words. */
  lastYear: { field: string; season: number | null; doubts: string[] } | null;
  notes: Note[];
}
