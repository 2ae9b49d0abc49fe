/**
 * Row units that plant otherwise than their neighbours at the same moments, weighed against a sensor that
 * only reads otherwise.
 */
import type { RecordDoses } from "../cluster/predicted-loss.ts";
import { FACTORS, type Factor } from "../cluster/predicted-loss.ts";
import type { RowUnitFault } from "../cluster/row-unit-faults.ts";
import { THRESHOLDS } from "../compare/thresholds.ts";
import type { Field } from "../field/field.ts";
import { mean } from "../numerics/descriptive.ts";
import { normalDensity } from "../numerics/distributions.ts";
import type { Passes } from "../passes/passes.ts";
import type { Spots } from "../stand/spots.ts";
import { type Attribution, type Deficit, nameCause } from "./attribution.ts";
import type { Cause } from "./causes.ts";

/** What departs on one row unit, all its variables together. */
export interface RowUnitCase {
  rowUnit: number;
  /** The variable nearest the root: depth or load before seed counting. */
  main: RowUnitFault;
  /** 1 for the records of this unit on the passes of the fault. */
  inside: Uint8Array;
  /** 1 for the other units at the same passes. */
  others: Uint8Array;
  /** Loss in the row the log predicts, by factor, share of stand. */
  predicted: Record<Factor, number>;
  totalPredicted: number;
}

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
/** A departure that ends between two passes was wiped or reset rather than mended (odds, our judgement). */
const HEALED_ODDS = 3;
/** Depth of one dug seed beside the row's mean: 0.25 in, inside the ordinary dug spread of 0.2 to 0.35 in (from memory). */
const DUG_SD_MM = 6.35;
const DEPTH_SENSOR_ERROR_MM = 2.5;
/** A row that should lose less than this is left to the tables. */
const WORTH_NAMING = 0.01;

/** Gathers the faults by unit and works out what each would cost the row. */
export function rowUnitCases(
  field: Field,
  passes: Passes,
  doses: RecordDoses,
  faults: readonly RowUnitFault[],
): RowUnitCase[] {
  const cases: RowUnitCase[] = [];
  for (const rowUnit of [...new Set(faults.map((fault) => fault.rowUnit))].sort((a, b) => a - b)) {
    const own = faults.filter((fault) => fault.rowUnit === rowUnit);
    const main = [...own].sort(
      (a, b) =>
        ROOT_FIRST.indexOf(a.variable) - ROOT_FIRST.indexOf(b.variable) || Math.abs(b.z) - Math.abs(a.z),
    )[0]!;
    const inside = new Uint8Array(field.log.recordCount);
    const others = new Uint8Array(field.log.recordCount);
    const touched = new Set(main.passes);
    for (let i = 0; i < inside.length; i++) {
      if (!touched.has(passes.passOf[i]!)) continue;
      if (passes.rowUnitOf[i] === rowUnit) inside[i] = 1;
      else others[i] = 1;
    }
    const predicted = predictedInRow(doses, inside, others);
    const totalPredicted = FACTORS.reduce((sum, factor) => sum + predicted[factor], 0);
    const offDepth =
      main.variable === "seedingDepth" && Math.abs(main.shift) >= THRESHOLDS.depthTolerance.value;
    if (totalPredicted < WORTH_NAMING && !offDepth) continue;
    cases.push({ rowUnit, main, inside, others, predicted, totalPredicted });
  }
  return cases;
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

/** Share of each spot's counted rows that the case's records planted. */
export function shareOfSpots(rowCase: RowUnitCase, spots: Spots): Float64Array {
  return Float64Array.from({ length: spots.count }, (_, s) => {
    const from = spots.beneath.start[s]!;
    const to = spots.beneath.start[s + 1]!;
    let own = 0;
    for (let k = from; k < to; k++) own += rowCase.inside[spots.beneath.records[k]!]!;
    return to > from ? own / (to - from) : 0;
  });
}

/**
 * The cause of a departing row unit.
 * @param counted loss of plants in the row by the counts, null where too few counts touch it
 * @param digs indices of the digs in this row
 */
export function attributeRowUnit(
  field: Field,
  passes: Passes,
  rowCase: RowUnitCase,
  counted: Deficit | null,
  digs: readonly number[],
): Attribution {
  const real = realCause(rowCase);
  const { main, totalPredicted } = rowCase;
  const prior = SENSOR_PRIOR[main.variable] ?? 0.3;
  let sensor = prior / (1 - prior);
  const lastPass = passes.passes.length;
  if (main.passes.at(-1)! < lastPass && main.passes.length >= 3) sensor *= HEALED_ODDS;
  if (counted) {
    const width = Math.hypot(counted.standardError, 0.01);
    const realWidth = Math.hypot(width, 0.5 * totalPredicted);
    sensor *= density(counted.estimate, 0, width) / density(counted.estimate, totalPredicted, realWidth);
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
    ]),
  );
}

/** The cause if the reading is true: the variable that departs and its direction say which. */
function realCause({ main, predicted }: RowUnitCase): Cause {
  switch (main.variable) {
    case "downForceMargin":
      return main.shift < 0 ? "lost-ground-contact" : "excess-down-force";
    case "seedingDepth":
      return main.shift < 0 ? "too-shallow" : "too-deep";
    case "multiples":
      return "multiples";
    case "population":
      return predicted.misses > predicted["rate-off-target"] ? "misses" : "rate-off-target";
    default:
      return "misses";
  }
}

function density(value: number, centre: number, sd: number): number {
  // Far tails are held so that one surprising count does not weigh without limit.
  return Math.max(1e-6, normalDensity((value - centre) / sd)) / sd;
}
