/**
 * Row units, and rows that belong together, that plant otherwise than the others at the same moments, weighed
 * against a sensor that only reads otherwise and against traffic.
 */
import type { RecordDoses } from "../../cells/predicted-loss.ts";
import { FACTORS, type Factor } from "../../cells/predicted-loss.ts";
import { targetLimits } from "../../compare/tables/target-limits.ts";
import { THRESHOLDS } from "../../compare/thresholds.ts";
import { mean } from "../../numerics/descriptive.ts";
import { normalDensity } from "../../numerics/distributions.ts";
import type { Passes } from "../../passes/passes.ts";
import { type RowSet, type RowSetFault, TRAFFIC_VARIABLES } from "../../rows/row-set-faults.ts";
import type { RowUnitFault } from "../../rows/row-unit-faults.ts";
import type { Cause } from "../../vocabulary/causes.ts";
import type { Field } from "../../vocabulary/field.ts";
import { type Attribution, type Deficit, nameCause } from "../evidence/attribution.ts";
import { type PassTrend, passTrend } from "./pass-trend.ts";

/** What departs on one row unit or one set of rows, all its variables together. */
export interface RowUnitCase {
  rowUnits: number[];
  /** Null for a single row unit. */
  set: RowSet | null;
  /** The variable nearest the root: depth or load before seed counting. */
  main: Departure;
  /** 1 for the records of these units on the passes of the fault. */
  inside: Uint8Array;
  /** 1 for the other units at the same passes. */
  others: Uint8Array;
  /** Loss in the row the log predicts, by factor, share of stand. */
  predicted: Record<Factor, number>;
  totalPredicted: number;
  /** How the departing variable changes from pass to pass beside the other rows; null where it does not. */
  trend: PassTrend | null;
  /** Seeds beyond the target and beyond the other rows', share of the target, where the rate is what departs. */
  surplus: number;
}

/** What is common to the fault of a unit and that of a set of rows. */
export type Departure = Pick<RowUnitFault, "variable" | "passes" | "shift" | "z" | "pValue">;

/** Order in which variables are looked at: what can cause the next comes first. */
const ROOT_FIRST: readonly RowUnitFault["variable"][] = [
  "downForceMargin",
  "seedingDepth",
  "misses",
  "singulation",
  "multiples",
  "population",
];

/**
 * Prior probability that one departing unit is a sensor matter, by variable: seed sensors foul with dust
 * and treatment, load and depth sensors drift less often. Our judgement.
 */
const SENSOR_PRIOR: Partial<Record<RowUnitFault["variable"], number>> = {
  seedingDepth: 0.15,
  downForceMargin: 0.2,
  misses: 0.5,
  singulation: 0.5,
  multiples: 0.5,
  population: 0.5,
};
/**
 * One unit that reads another depth than all others from the first pass to the last, whatever the ground, is as likely a reading
 * that is off by as much as a depth stop that is (our judgement).
 */
const CONSTANT_OFFSET_PRIOR = 0.5;
/** Most of the passes. */
const EVERY_PASS = 0.9;
/** Skips that rise from pass to pass are those of a disc that clogs sooner than of a sensor that fouls (odds, our judgement). */
const RISING_ODDS = 1 / 4;
/** A departure that ends between two passes was wiped or reset rather than mended (odds, our judgement). */
const HEALED_ODDS = 3;
/** Depth of one dug seed beside the row's mean: 0.25 in, inside the ordinary dug spread of 0.2 to 0.35 in (from memory). */
const DUG_SD_MM = 6.35;
const DEPTH_SENSOR_ERROR_MM = 2.5;
/**
 * Odds that a set of rows as a whole is a matter of its sensors: seldom, as each has its own; a wing may hang on one
 * module. Our judgement.
 */
const SET_SENSOR_ODDS = { "wheel-track": 0.02, wing: 0.08 } as const;
/** Odds of traffic against a fault of the units for rows that depart together: named tracks, four rows, two (our judgement). */
const TRAFFIC_ODDS = { given: 12, fourRows: 6, pair: 3 };
/** Odds of traffic for a unit that departs on the end rows only (our judgement). */
const END_ROWS_ODDS = 1;
/** A departure is one of the end rows where this share of its passes is, while the unit ran inside as well. */
const END_ROWS_SHARE = 0.8;
/**
 * Counts that do not name their row speak at most this much for the sensor: a neighbour may have been counted. Skips are few
 * plants a row, depth and load harm all of it (our judgement).
 */
const UNNAMED = { seed: 2, soil: 8 } as const;
/** A row that should lose less than this is left to the tables. */
const WORTH_NAMING = 0.01;

/** Gathers the faults by set of rows and by unit and works out what each would cost the row. */
export function rowUnitCases(
  field: Field,
  passes: Passes,
  doses: RecordDoses,
  faults: readonly RowUnitFault[],
  setFaults: readonly RowSetFault[] = [],
): RowUnitCase[] {
  const sets = mergedSets(setFaults).map(({ set, own }) =>
    caseOf(passes, doses, offTargetSide(field, passes, set, own), set),
  );
  const units = [...new Set(faults.map((fault) => fault.rowUnit))]
    .sort((a, b) => a - b)
    .map((rowUnit) => {
      const own = faults.filter((fault) => fault.rowUnit === rowUnit);
      return caseOf(passes, doses, { rowUnits: [rowUnit], own }, null);
    });
  return [...sets, ...units]
    .filter(({ main, totalPredicted, surplus }) => {
      const offDepth =
        main.variable === "seedingDepth" && Math.abs(main.shift) >= THRESHOLDS.depthTolerance.value;
      return totalPredicted >= WORTH_NAMING || offDepth || surplus >= THRESHOLDS.populationTolerance.value;
    })
    .map((rowCase) => ({ ...rowCase, trend: trendOf(field, passes, rowCase) }));
}

/** How the departing variable of a case changes from pass to pass beside the other rows. */
function trendOf(
  field: Field,
  passes: Passes,
  { main, rowUnits }: Pick<RowUnitCase, "main" | "rowUnits">,
): PassTrend | null {
  const values = field.log.values[main.variable];
  if (!values) return null;
  const rows = new Set(rowUnits);
  const isInside = (record: number): boolean => rows.has(passes.rowUnitOf[record]!);
  return passTrend(main.variable, values, passes, isInside, (record) => !isInside(record));
}

function caseOf(
  passes: Passes,
  doses: RecordDoses,
  { rowUnits, own }: { rowUnits: number[]; own: readonly Departure[] },
  set: RowSet | null,
): Omit<RowUnitCase, "trend"> {
  const main = [...own].sort(
    (a, b) =>
      ROOT_FIRST.indexOf(a.variable) - ROOT_FIRST.indexOf(b.variable) || Math.abs(b.z) - Math.abs(a.z),
  )[0]!;
  const inside = new Uint8Array(passes.passOf.length);
  const others = new Uint8Array(passes.passOf.length);
  const touched = new Set(main.passes);
  const rows = new Set(rowUnits);
  for (let i = 0; i < inside.length; i++) {
    if (!touched.has(passes.passOf[i]!)) continue;
    if (rows.has(passes.rowUnitOf[i]!)) inside[i] = 1;
    else others[i] = 1;
  }
  const predicted = predictedInRow(doses, inside, others);
  const totalPredicted = FACTORS.reduce((sum, factor) => sum + predicted[factor], 0);
  const surplus = main.variable === "population" ? surplusInRow(doses, inside, others) : 0;
  return { rowUnits, set, main, inside, others, predicted, totalPredicted, surplus };
}

/** What a rate above its target costs in seed; a row above the others and still on its target costs nothing. */
function surplusInRow({ rate }: RecordDoses, inside: Uint8Array, others: Uint8Array): number {
  if (!rate) return 0;
  const [own, rest] = [-meanAt(rate, inside), -meanAt(rate, others)];
  return Math.max(0, Math.min(own, own - rest)) || 0;
}

/** Faults of one kind of set whose rows overlap are one case: traffic moves load and depth of the same rows. */
function mergedSets(faults: readonly RowSetFault[]): { set: RowSet; own: RowSetFault[] }[] {
  const merged: { set: RowSet; own: RowSetFault[] }[] = [];
  for (const fault of faults) {
    const home = merged.find(
      ({ set }) => set.kind === fault.set.kind && set.rows.some((row) => fault.set.rows.includes(row)),
    );
    if (!home) {
      merged.push({ set: fault.set, own: [fault] });
      continue;
    }
    home.own.push(fault);
    const rows = [...new Set([...home.set.rows, ...fault.set.rows])].sort((a, b) => a - b);
    home.set = { ...home.set, rows, given: home.set.given || fault.set.given };
  }
  return merged;
}

/**
 * A wing departs from the rest of the bar, so the rest departs from the wing: where the target tells that the rest
 * is what is off, the rest is named.
 */
function offTargetSide(
  field: Field,
  passes: Passes,
  set: RowSet,
  own: readonly RowSetFault[],
): { rowUnits: number[]; own: readonly Departure[] } {
  const [main] = own;
  const limits =
    set.kind === "wing" && TRAFFIC_VARIABLES.includes(main!.variable)
      ? targetLimits(field, main!.variable)
      : null;
  if (!limits) return { rowUnits: set.rows, own };
  const values = field.log.values[main!.variable]!;
  const touched = new Set(main!.passes);
  const off = { inside: 0, outside: 0 };
  const count = { inside: 0, outside: 0 };
  for (let i = 0; i < values.length; i++) {
    if (Number.isNaN(values[i]!) || !touched.has(passes.passOf[i]!)) continue;
    const side = set.rows.includes(passes.rowUnitOf[i]!) ? "inside" : "outside";
    const at = i * limits.step;
    off[side] += Math.max(limits.low[at]! - values[i]!, values[i]! - limits.high[at]!, 0) || 0;
    count[side]++;
  }
  if (off.inside / count.inside >= off.outside / count.outside) return { rowUnits: set.rows, own };
  return {
    rowUnits: Array.from({ length: passes.rowUnitCount }, (_, k) => k + 1).filter(
      (row) => !set.rows.includes(row),
    ),
    own: own.map((fault) => ({ ...fault, shift: -fault.shift, z: -fault.z })),
  };
}

function predictedInRow(doses: RecordDoses, inside: Uint8Array, others: Uint8Array): Record<Factor, number> {
  const excess = (dose: Float64Array | null): number =>
    dose ? Math.max(0, meanAt(dose, inside) - meanAt(dose, others)) || 0 : 0;
  const light = excess(doses.light);
  const shallow = excess(doses.shallow);
  const misses = excess(doses.misses);
  const ranLight = doses.margin !== null && meanAt(doses.margin, inside) < THRESHOLDS.lowMeanMargin.value;
  return {
    "excess-speed": 0,
    "lost-ground-contact": ranLight ? light + shallow : 0,
    "excess-down-force": excess(doses.heavy),
    "too-shallow": ranLight ? 0 : shallow,
    "too-deep": excess(doses.deep),
    "uneven-depth": 0,
    misses,
    "rate-off-target": Math.max(0, excess(doses.rate) - misses),
  };
}

function meanAt(values: Float64Array, mask: Uint8Array): number {
  let sum = 0;
  let n = 0;
  for (let i = 0; i < values.length; i++) {
    if (!mask[i] || Number.isNaN(values[i]!)) continue;
    sum += values[i]!;
    n++;
  }
  return n > 0 ? sum / n : Number.NaN;
}

/**
 * The cause of a departing row unit.
 * @param counted loss of plants in the row by the counts, null where too few counts touch it
 * @param digs indices of the digs in this row
 * @param knowsRow true where counts name their row or someone dug in it: a count off by a row says nothing of the sensor
 */
export function attributeRowUnit(
  field: Field,
  passes: Passes,
  rowCase: RowUnitCase,
  counted: Deficit | null,
  digs: readonly number[],
  knowsRow: boolean,
): Attribution {
  const real = realCause(rowCase);
  const { main, totalPredicted, trend } = rowCase;
  const isConstant =
    main.variable === "seedingDepth" &&
    rowCase.set === null &&
    main.passes.length >= EVERY_PASS * passes.passes.length;
  const prior = isConstant ? CONSTANT_OFFSET_PRIOR : (SENSOR_PRIOR[main.variable] ?? 0.3);
  let sensor = rowCase.set ? SET_SENSOR_ODDS[rowCase.set.kind] : prior / (1 - prior);
  const lastPass = passes.passes.length;
  if (main.passes.at(-1)! < lastPass && main.passes.length >= 3) sensor *= HEALED_ODDS;
  if (main.variable === "misses" && trend && trend.last > trend.first) sensor *= RISING_ODDS;
  if (counted) {
    const width = Math.hypot(counted.standardError, 0.01);
    const realWidth = Math.hypot(width, 0.5 * totalPredicted);
    const ratio = density(counted.estimate, 0, width) / density(counted.estimate, totalPredicted, realWidth);
    const most =
      main.variable === "seedingDepth" || main.variable === "downForceMargin" ? UNNAMED.soil : UNNAMED.seed;
    sensor *= knowsRow ? ratio : Math.min(ratio, most);
  }
  const depths = digs.map((d) => field.digs!.depthMm[d]!).filter((depth) => !Number.isNaN(depth));
  const logged = field.log.values.seedingDepth;
  if (main.variable === "seedingDepth" && logged && depths.length > 0) {
    const dug = mean(depths);
    const width = Math.hypot(DUG_SD_MM / Math.sqrt(depths.length), DEPTH_SENSOR_ERROR_MM);
    sensor *=
      density(dug, meanAt(logged, rowCase.others), width) /
      density(dug, meanAt(logged, rowCase.inside), width);
  }
  return nameCause(
    new Map<Cause, number>([
      ["sensor-fault", sensor],
      [real, 1],
      ["wheel-traffic", trafficOdds(rowCase, passes)],
    ]),
  );
}

/** Odds of traffic against the unit's (or the setting's) own fault. */
function trafficOdds({ set, rowUnits, main }: RowUnitCase, passes: Passes): number {
  if (!TRAFFIC_VARIABLES.includes(main.variable)) return 0;
  if (set?.kind === "wheel-track") {
    return set.given ? TRAFFIC_ODDS.given : rowUnits.length >= 4 ? TRAFFIC_ODDS.fourRows : TRAFFIC_ODDS.pair;
  }
  if (set) return 0;
  const endRows = main.passes.filter((pass) => passes.passes[pass - 1]!.headland).length;
  const insidePasses = passes.passes.filter((pass) => !pass.headland).length;
  return endRows >= END_ROWS_SHARE * main.passes.length && insidePasses >= main.passes.length
    ? END_ROWS_ODDS
    : 0;
}

/** The cause if the reading is true: the variable that departs and its direction say which. */
function realCause({ main, predicted, surplus }: RowUnitCase): Cause {
  switch (main.variable) {
    case "downForceMargin":
      return main.shift < 0 ? "lost-ground-contact" : "excess-down-force";
    case "seedingDepth":
      return main.shift < 0 ? "too-shallow" : "too-deep";
    case "multiples":
      return "multiples";
    case "population":
      return surplus === 0 && predicted.misses > predicted["rate-off-target"] ? "misses" : "rate-off-target";
    default:
      return "misses";
  }
}

function density(value: number, centre: number, sd: number): number {
  // Far tails are held so that one surprising count does not weigh without limit.
  return Math.max(1e-6, normalDensity((value - centre) / sd)) / sd;
}
