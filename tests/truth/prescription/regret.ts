/** How far the prescribed loads fall short of the best there are, on fields whose response is known. */
import { analyseField } from "../../../src/jobs/analyse.ts";
import { prescribe } from "../../../src/jobs/prescribe.ts";
import { CHANNELS, type Channel, type PrescriptionSettings } from "../../../src/prescription/prescription.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "../../../src/quantities/units.ts";
import { leastLoss, type SentEffect, sentEffect } from "./sent.ts";
import { makeField, type TrueField, type TrueZone, type World } from "./worlds.ts";

/** Stand points short of the oracle, mean over the field's ground by area. */
export interface FieldRegret {
  world: World;
  seed: number;
  /** The decision itself: whatever step it takes, on the ground as it was planted. */
  decided: number;
  today: number;
  /** A fixed 100 lb everywhere. */
  fixed: number;
  /** What the files send, by channel, under the usual limits. */
  sent: Record<Channel, SentEffect>;
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
  const sent = {} as FieldRegret["sent"];
  for (const channel of CHANNELS) sent[channel] = sentEffect(truth, analysis, channel);
  return {
    world,
    seed,
    decided: meanOver(truth, (zone) => lossUnder(zone, free)),
    sent,
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

/** A field counts as made worse from this many stand points below what today's loads give. */
export const WORSE_BY = 0.1;

interface Spread {
  mean: number;
  p90: number;
}

export interface SentTable {
  written: number;
  regret: Spread;
  regretOfChannel: Spread;
  gained: number;
  expected: number;
  /** Share of fields made worse than today's loads. */
  worse: number;
  zonesWorse: number;
}

export interface RegretTable {
  fields: number;
  decided: Spread;
  today: number;
  fixed: number;
  worse: number;
  sent: Record<Channel, SentTable>;
}

/** Means over fields, 90th percentile, and shares made worse than today's loads. */
export function tabulate(fields: readonly FieldRegret[]): RegretTable {
  const mean = (value: (field: FieldRegret) => number): number =>
    fields.reduce((sum, field) => sum + value(field), 0) / fields.length;
  const p90 = (value: (field: FieldRegret) => number): number =>
    fields.map(value).sort((a, b) => a - b)[Math.floor(0.9 * (fields.length - 1))]!;
  const both = (value: (field: FieldRegret) => number): Spread => ({ mean: mean(value), p90: p90(value) });
  const sent = {} as RegretTable["sent"];
  for (const channel of CHANNELS) {
    sent[channel] = {
      written: mean((field) => Number(field.sent[channel].written)),
      regret: both((field) => field.sent[channel].regret),
      regretOfChannel: both((field) => field.sent[channel].regretOfChannel),
      gained: mean((field) => field.sent[channel].gained),
      expected: mean((field) => field.sent[channel].expected),
      worse: mean((field) => Number(field.sent[channel].gained < -WORSE_BY)),
      zonesWorse: mean((field) => field.sent[channel].zonesWorse),
    };
  }
  return {
    fields: fields.length,
    decided: both((field) => field.decided),
    today: mean((field) => field.today),
    fixed: mean((field) => field.fixed),
    worse: mean((field) => Number(field.decided > field.today + WORSE_BY)),
    sent,
  };
}
