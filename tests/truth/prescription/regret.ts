/** How far the prescribed loads fall short of the best there are, on fields whose response is known. */
import { analyseField } from "../../../src/analyse.ts";
import { prescribe } from "../../../src/prescribe.ts";
import type { PrescriptionSettings } from "../../../src/prescription/prescription.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "../../../src/units.ts";
import { makeField, type TrueField, type TrueZone, type World } from "./worlds.ts";

/** Stand points short of the oracle, mean over the field's ground by area. */
export interface FieldRegret {
  world: World;
  seed: number;
  /** The decision itself: whatever step it takes, on the ground as it was planted. */
  decided: number;
  /** The same after the largest step and the limits of the defaults. */
  limited: number;
  today: number;
  /** A fixed 100 lb everywhere. */
  fixed: number;
  outcomes: string[];
}

/** The decision without limits of the user: what the counts alone ask for. */
export const FREE: Partial<PrescriptionSettings> = {
  largestStepN: 4000,
  minimumMarginN: 20 * LBF,
  maximumMarginN: 350 * LBF,
  rateStepN: LBF,
};

/** Analyses a field and prescribes for it, as the product does. */
export async function regretOf(world: World, seed: number, spotCount: number): Promise<FieldRegret> {
  const truth = makeField(world, seed, spotCount);
  const analysis = await analyseField(truth.field);
  const free = prescribe(analysis, FREE);
  const limited = prescribe(analysis, { minimumMarginN: 40 * LBF, maximumMarginN: 220 * LBF });
  return {
    world,
    seed,
    decided: meanOver(truth, (zone) => lossUnder(zone, free)),
    limited: meanOver(truth, (zone) => lossUnder(zone, limited)),
    today: meanOver(truth, (zone) => zone.lossToday),
    fixed: meanOver(truth, (zone) => zone.lossAt(100)),
    outcomes: free.decisions.map(({ soilZone, outcome }) => `${soilZone}: ${outcome}`),
  };
}

/** Loss of a zone with its load for the ground as it was planted; kept means last spring once more. */
export function lossUnder(zone: TrueZone, { decisions, settings }: ReturnType<typeof prescribe>): number {
  const decision = decisions.find(({ soilZone }) => soilZone === zone.name)!;
  const loadN = decision.prescribedN[decision.loggedMoisture!];
  const step = settings.rateStepN;
  const today = decision.currentMarginN!;
  return Math.abs(loadN - Math.round(today / step) * step) < step / 2
    ? zone.lossToday
    : zone.lossAt(loadN / LBF);
}

export function meanOver({ zones }: TrueField, lossOf: (zone: TrueZone) => number): number {
  return zones.reduce((sum, zone) => sum + zone.areaShare * 100 * (lossOf(zone) - leastLoss(zone)), 0);
}

/** The oracle: the best single target of the zone, or last spring once more where that is better still. */
function leastLoss(zone: TrueZone): number {
  let least = zone.lossToday;
  for (let load = 5; load <= 350; load += 2) least = Math.min(least, zone.lossAt(load));
  return least;
}

/** A field counts as made worse from this many stand points below what today's loads give. */
export const WORSE_BY = 0.1;

export interface RegretTable {
  fields: number;
  decided: { mean: number; p90: number };
  limited: { mean: number; p90: number };
  today: number;
  fixed: number;
  worse: number;
  worseLimited: number;
}

/** Means over fields, 90th percentile, and shares made worse than today's loads. */
export function tabulate(fields: readonly FieldRegret[]): RegretTable {
  const mean = (value: (field: FieldRegret) => number): number =>
    fields.reduce((sum, field) => sum + value(field), 0) / fields.length;
  const p90 = (value: (field: FieldRegret) => number): number =>
    fields.map(value).sort((a, b) => a - b)[Math.floor(0.9 * (fields.length - 1))]!;
  const both = (value: (field: FieldRegret) => number) => ({ mean: mean(value), p90: p90(value) });
  return {
    fields: fields.length,
    decided: both((field) => field.decided),
    limited: both((field) => field.limited),
    today: mean((field) => field.today),
    fixed: mean((field) => field.fixed),
    worse: mean((field) => (field.decided > field.today + WORSE_BY ? 1 : 0)),
    worseLimited: mean((field) => (field.limited > field.today + WORSE_BY ? 1 : 0)),
  };
}
