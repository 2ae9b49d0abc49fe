/** What a place with a poor stand cost: yield lost as a share, with its interval, and money. */
import { quantileSorted } from "../numerics/quantile.ts";
import { normal, type Random, seededRandom } from "../numerics/random.ts";
import { lateLoss } from "../stand/late-plants.ts";
import { type Arrangement, RECOVERED_HALF_RANGE, standLoss } from "../stand/missing-plants.ts";
import type { StandDateTable } from "../stand/published-tables.ts";
import { type LateLayout, MIXED_UP_TO } from "../stand/uneven-emergence-1991.ts";
import { standCurveOf, standDateTableFor, yieldShareOnCurve } from "../stand/yield-potential.ts";
import type { Prices } from "../vocabulary/field.ts";
import { type LossInterval, type LossMoney, moneyOfShare } from "./money.ts";

/** An estimate and its standard error, both in the estimate's own unit. */
export interface Uncertain {
  estimate: number;
  standardError: number;
}

export interface LateSharePair {
  /** Late plants / emerged plants in the place and elsewhere, 0..1. */
  inside: Uncertain;
  elsewhere: Uncertain;
  /** Leaf stages behind; null where nobody counted them. */
  leafStagesBehind: number | null;
  /** How the late plants of the place lie; left out: mixed with plants in time. */
  layout?: LateLayout;
}

export interface LossInput {
  crop: "corn" | "soybean" | "other";
  /** ISO date; null where unknown, then the table's best date is used and a note says so. */
  plantedIsoDate: string | null;
  /** (plants expected there had nothing been wrong - plants seen) / target plants; null where nobody counted. */
  deficitShare: Uncertain | null;
  /** Target stand, plants/ha; null: the deficit is taken as a share of the stand elsewhere. */
  targetPerHa: number | null;
  /** Stand to be expected there had nothing been wrong, plants/ha; null: the target stands in for it. */
  standElsewherePerHa: number | null;
  /** How the missing plants lie. */
  arrangement: Arrangement;
  lateShare: LateSharePair | null;
  areaHa: number;
  prices: Prices;
  /** Another table than the crop's usual one. */
  table?: StandDateTable;
  /** Seed of the simulation; the same seed gives the same result. */
  seed?: number;
}

export interface Loss {
  /** Yield lost / yield had nothing been wrong, 0..1; null where neither stand nor late plants allow a figure. */
  yieldShare: LossInterval | null;
  /** Null where the price or the expected yield is not known. */
  money: LossMoney | null;
  /** True where the interval reaches zero or lay in part below it: what lies below was cut off at 0. */
  mayBeNothing: boolean;
  /** Name of the published table the figure stands on, null where none was used. */
  table: StandDateTable | null;
  /** What was assumed or lacking, in plain words. */
  notes: string[];
}

/** Coverage the interval aims at: the product of the stand's 90 % interval and the range of the penalties. */
export const LOSS_LEVEL = 0.9;

const DRAWS = 4000;

/** A share of yield below this is rounding, not loss. */
const NOTHING = 1e-9;

/** How far missing plants lie in gaps where one figure is wanted: {@link standLoss}'s weight; half where nobody looked. */
export function gapWeightOf(arrangement: Arrangement): number {
  return { even: 0, gaps: 1, unknown: 0.5 }[arrangement];
}

/**
 * Loss of a place by a seeded Monte-Carlo product of the stand's uncertainty and the penalties' (our judgement how far
 * the studies spread): 4,000 draws of
 *
 *   1 - (1 - S) (1 - L(inside)) / (1 - L(elsewhere))
 *
 * with S the loss to missing plants ({@link standLoss}) at a normal draw of the deficit, the share of the missing
 * plants that lie in gaps drawn between 0 and 1 where the arrangement is unknown, the neighbours' recovery drawn within
 * its range, and L the loss to late plants ({@link lateLoss}) at normal draws of the late shares and one triangular draw
 * between the least and the greatest of the studies. The estimate is the median, the limits are the 5 and 95 % quantiles
 * (type 7); what lies below zero is cut off there and said so. A missing plant is paid for once: it is in S, and L is
 * a share of the plants that came up. Prices, the expected yield and the table itself are taken as exact.
 * @throws {ManifestError} when the planting date is not a date
 */
export function lossOf(input: LossInput): Loss {
  const notes: string[] = [];
  const table = input.table ?? standDateTableFor(input.crop);
  const none = (note: string): Loss => ({
    yieldShare: null,
    money: null,
    mayBeNothing: false,
    table: null,
    notes: [...notes, note],
  });
  if (!table) return none("no published yield response is known to us for this crop; the loss is not priced");
  const late = lateOf(input, notes);
  const missing = missingOf(input, table, notes);
  if (!late && !missing)
    return none("neither a loss of plants nor late plants were measured; the loss is not priced");

  const seed = input.seed ?? 1;
  // Two streams, so that knowing the late plants too does not stir the draws of the missing ones.
  const standRandom = seededRandom(seed);
  const lateRandom = seededRandom(~seed);
  const draws = new Float64Array(DRAWS);
  for (let draw = 0; draw < DRAWS; draw++) {
    const standLost = missing ? missing(standRandom) : 0;
    const lateKept = late ? late(lateRandom) : 1;
    if (standLost === null)
      return none(`${table.title}: the source could not be read at this stand and date`);
    draws[draw] = 1 - (1 - standLost) * lateKept;
  }
  draws.sort();
  const quantile = (probability: number): number => {
    const share = quantileSorted(draws, probability);
    return share < NOTHING ? 0 : share;
  };
  const low = quantile((1 - LOSS_LEVEL) / 2);
  const mayBeNothing = low === 0;
  if (mayBeNothing) notes.push("the place may have cost no yield at all: the range is shown from 0");
  const yieldShare: LossInterval = {
    estimate: quantile(0.5),
    low,
    high: quantile((1 + LOSS_LEVEL) / 2),
    level: LOSS_LEVEL,
  };
  return {
    yieldShare,
    money: moneyOfShare(yieldShare, input.areaHa, input.prices),
    mayBeNothing,
    table: missing ? table : null,
    notes,
  };
}

/** One draw of the loss to missing plants; null where no deficit is known. */
function missingOf(
  input: LossInput,
  table: StandDateTable,
  notes: string[],
): ((random: Random) => number | null) | null {
  const { deficitShare } = input;
  const elsewherePerHa = positiveOrNull(input.standElsewherePerHa) ?? positiveOrNull(input.targetPerHa);
  if (!deficitShare) return null;
  if (elsewherePerHa === null) {
    notes.push("the stand elsewhere and the target are unknown: missing plants are not priced");
    return null;
  }
  if (positiveOrNull(input.standElsewherePerHa) === null)
    notes.push("the stand elsewhere is unknown: the target stands in for it");
  const plantedIsoDate = input.plantedIsoDate ?? bestDate(table);
  if (input.plantedIsoDate === null)
    notes.push(`the planting date is unknown: ${plantedIsoDate.slice(5)} (month-day) is assumed`);
  const curve = standCurveOf(plantedIsoDate, table);
  if (curve.dateClamped) notes.push(`${table.title}: the planting date lies outside the table`);
  if (yieldShareOnCurve(elsewherePerHa, curve).standClamped)
    notes.push(`${table.title}: the stand elsewhere lies outside the table`);
  if (input.arrangement === "unknown")
    notes.push(
      "nobody looked whether the missing plants lie in gaps or the row is evenly thinner: the range covers both",
    );
  const targetPerHa = positiveOrNull(input.targetPerHa) ?? elsewherePerHa;
  return (random) => {
    const deficit = deficitShare.estimate + deficitShare.standardError * normal(random);
    const mixed = random();
    const recoveredShift = RECOVERED_HALF_RANGE * triangular(random);
    return standLoss({
      standElsewherePerHa: elsewherePerHa,
      standInsidePerHa: Math.max(0, elsewherePerHa - deficit * targetPerHa),
      curve,
      gapWeight: input.arrangement === "even" ? 0 : input.arrangement === "gaps" ? 1 : mixed,
      recoveredShift,
    });
  };
}

const NEARLY_ALL_LATE: Record<Exclude<LateLayout, "mixed">, string> = {
  rows: "nearly all plants of the row came up late, between rows that were in time and press on it: priced towards the whole rows of Nafziger, Carter & Graham 1991. What its neighbours gained or lost by it (3 % more beside a row three weeks late, 3 % less beside one of 11 days) is left out",
  ground:
    "nearly all plants of the place came up late: priced towards the evenly late stands of Nafziger, Carter & Graham 1991",
};

/** One draw of the share of yield kept in spite of late plants, against elsewhere; null where none were counted. */
function lateOf(input: LossInput, notes: string[]): ((random: Random) => number) | null {
  const { lateShare } = input;
  if (!lateShare) return null;
  if (input.crop !== "corn") {
    notes.push("late plants are priced for corn only");
    return null;
  }
  const { leafStagesBehind, layout = "mixed" } = lateShare;
  if (leafStagesBehind === null)
    notes.push("nobody counted how many leaves the late plants are behind: the range covers one to four");
  else if (lateLoss(0, leafStagesBehind).beyondStudies)
    notes.push("the late plants are further behind than in any study: the loss at four leaves is used");
  if (lateShare.inside.estimate > MIXED_UP_TO && layout !== "mixed") notes.push(NEARLY_ALL_LATE[layout]);
  return (random) => {
    const inside = drawnShare(lateShare.inside, random);
    const elsewhere = drawnShare(lateShare.elsewhere, random);
    const position = triangular(random);
    const lost = (share: number, lie: LateLayout): number => {
      const { low, estimate, high } = lateLoss(share, leafStagesBehind, lie);
      return estimate + (position < 0 ? position * (estimate - low) : position * (high - estimate));
    };
    return (1 - lost(inside, layout)) / (1 - lost(elsewhere, "mixed"));
  };
}

/** Triangular on -1..1 with its peak at 0. */
function triangular(random: Random): number {
  return random() + random() - 1;
}

function drawnShare({ estimate, standardError }: Uncertain, random: Random): number {
  return Math.min(1, Math.max(0, estimate + standardError * normal(random)));
}

function positiveOrNull(value: number | null): number | null {
  return value !== null && value > 0 ? value : null;
}

/** The date at which the table's thickest stand yields most; the first such date. The year is of no account. */
function bestDate(table: StandDateTable): string {
  const best = table.percent.map((row) => Math.max(...row.map((percent) => percent ?? 0)));
  return `2001-${table.dates[best.indexOf(Math.max(...best))]!}`;
}
