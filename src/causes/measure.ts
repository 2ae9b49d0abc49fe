/** The figures of a finding: the same measure inside, on ordinary ground, and the target. */
import { depthSteps } from "../compare/depth-spread.ts";
import { THRESHOLDS } from "../compare/thresholds.ts";
import { mean } from "../numerics/descriptive.ts";
import { quantileInPlace } from "../numerics/quantile.ts";
import type { Passes } from "../passes/passes.ts";
import { referencePopulation, type Spots } from "../stand/spots.ts";
import type { Field } from "../vocabulary/field.ts";
import type { PlantingVariable } from "../vocabulary/variables.ts";

/** One measure inside, elsewhere, and what was aimed at. */
export interface Figure {
  inside: number | null;
  elsewhere: number | null;
  target: number | [number, number] | null;
}

export type FigureKey =
  | "seedingDepthMm"
  | "depthSdMm"
  | "downForceMarginN"
  | "downForceMarginP10N"
  | "noLoadShare"
  | "speedMetresPerSecond"
  | "missesShare"
  | "singulationShare"
  | "multiplesShare"
  | "populationPerHa"
  | "standPerHa"
  | "lateShare"
  | "dugDepthMm";

export type Figures = Partial<Record<FigureKey, Figure>>;

/** What to measure where; masks have one entry a record. */
export interface MeasureInput {
  field: Field;
  passes: Passes;
  /** 1 for records of the place, and 1 for records of ordinary ground to compare it with. */
  inside: Uint8Array;
  ordinary: Uint8Array;
  spots: Spots | null;
  insideSpots: readonly number[];
  ordinarySpots: readonly number[];
  insideDigs: readonly number[];
  ordinaryDigs: readonly number[];
}

const MEANS: readonly [FigureKey, PlantingVariable][] = [
  ["seedingDepthMm", "seedingDepth"],
  ["downForceMarginN", "downForceMargin"],
  ["speedMetresPerSecond", "speed"],
  ["missesShare", "misses"],
  ["singulationShare", "singulation"],
  ["multiplesShare", "multiples"],
  ["populationPerHa", "population"],
];

/** Measures a place; a key is present only where the place itself has a value. */
export function measure(input: MeasureInput): Figures {
  const { field, spots } = input;
  const { targets } = field;
  const target: Partial<Record<FigureKey, number | [number, number] | null>> = {
    seedingDepthMm: targets.seedingDepthMm,
    dugDepthMm: targets.seedingDepthMm,
    downForceMarginN: targets.downForceMarginN,
    speedMetresPerSecond: targets.speedMetresPerSecond,
    populationPerHa: targetInside(input) ?? targets.populationPerHa,
  };
  const figures: Figures = {};
  const put = (key: FigureKey, inside: number | null, elsewhere: number | null): void => {
    if (inside !== null) figures[key] = { inside, elsewhere, target: target[key] ?? null };
  };
  for (const [key, variable] of MEANS) {
    const values = field.log.values[variable];
    if (values) put(key, meanWhere(values, input.inside), meanWhere(values, input.ordinary));
  }
  const margin = field.log.values.downForceMargin;
  if (margin) {
    const inside = pick(margin, input.inside);
    const ordinary = pick(margin, input.ordinary);
    put("noLoadShare", shareWithoutLoad(inside), shareWithoutLoad(ordinary));
    put("downForceMarginP10N", lowTenth(inside), lowTenth(ordinary));
  }
  const depth = field.log.values.seedingDepth;
  if (depth) {
    const labels = new Int32Array(depth.length).fill(-1);
    for (let i = 0; i < labels.length; i++) {
      if (input.inside[i]) labels[i] = 0;
      else if (input.ordinary[i]) labels[i] = 1;
    }
    const { halfSquares, steps } = depthSteps(depth, labels, input.passes, 2);
    const sd = (k: number): number | null => (steps[k]! >= 4 ? Math.sqrt(halfSquares[k]! / steps[k]!) : null);
    put("depthSdMm", sd(0), sd(1));
  }
  if (spots) {
    const reference = referencePopulation(field)!;
    const stand = (which: readonly number[]): number | null =>
      meanOf(which.map((s) => spots.response[s]! * reference));
    put("standPerHa", stand(input.insideSpots), stand(input.ordinarySpots));
    const late = (which: readonly number[]): number | null => meanOf(which.map((s) => spots.lateShare[s]!));
    put("lateShare", late(input.insideSpots), late(input.ordinarySpots));
  }
  if (field.digs) {
    const dug = (which: readonly number[]): number | null =>
      meanOf(which.map((d) => field.digs!.depthMm[d]!));
    put("dugDepthMm", dug(input.insideDigs), dug(input.ordinaryDigs));
  }
  return figures;
}

/** Mean of the rate the log says was wanted inside: it goes before the single target of the manifest. */
function targetInside({ field, inside }: MeasureInput): number | null {
  const wanted = field.log.values.targetPopulation;
  return wanted ? meanWhere(wanted, inside) : null;
}

function meanOf(values: readonly number[]): number | null {
  const present = values.filter((value) => !Number.isNaN(value));
  return present.length > 0 ? mean(present) : null;
}

function meanWhere(values: Float64Array, mask: Uint8Array): number | null {
  let sum = 0;
  let count = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (mask[i] !== 1 || Number.isNaN(value)) continue;
    sum += value;
    count++;
  }
  return count > 0 ? sum / count : null;
}

/** Present values of the marked records. */
function pick(values: Float64Array, mask: Uint8Array): Float64Array {
  const picked = new Float64Array(values.length);
  let count = 0;
  for (let i = 0; i < values.length; i++) {
    if (mask[i] === 1 && !Number.isNaN(values[i]!)) picked[count++] = values[i]!;
  }
  return picked.subarray(0, count);
}

/** 10th percentile, type 7; the values are reordered. */
function lowTenth(margin: Float64Array): number | null {
  return margin.length > 0 ? quantileInPlace(margin, 0.1) : null;
}

function shareWithoutLoad(margin: Float64Array): number | null {
  if (margin.length === 0) return null;
  let without = 0;
  for (let i = 0; i < margin.length; i++) if (margin[i]! <= THRESHOLDS.noLoad.value) without++;
  return without / margin.length;
}
