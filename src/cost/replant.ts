/**
 * Keep a stand or replant it: the sums of the published extension worksheets (Iowa State Univ. 2006, Pennsylvania State
 * Univ. 2018, Univ. of Illinois, Univ. of Arkansas 2006), an acre at a time, as farms reckon it.
 */
import { ACRES_PER_HECTARE } from "../quantities/units.ts";
import { lateLoss } from "../stand/late-plants.ts";
import { SOYBEAN_GAP_SLOPE, standLoss, yieldDownToNothing } from "../stand/missing-plants.ts";
import type { StandDateTable } from "../stand/published-tables.ts";
import { type StandCurve, standCurveOf } from "../stand/yield-potential.ts";

/**
 * Net gains within this share of the expected yield are called "about even": the published tables differ by that and
 * more (our judgement; Iowa State Univ. 2006 calls 24 against 26 % "essentially break-even").
 */
export const ABOUT_EVEN_SHARE = 0.03;

/** How the gaps of the kept stand look; "unknown" where nobody looked. */
export type Gaps = "unknown" | "none" | "small" | "large";

/**
 * Share of the yield of the kept stand that its gaps take beside its thinness. Corn: 1 to 3 ft gaps 2 %, many of 4 to
 * 6 ft 4 to 6 % (Iowa State Univ. Extension, PM 1885; the middle of the range). Soybean: gaps below 2 ft fill (Iowa
 * State Univ. 1999); 40 % of the row in gaps, 83 instead of 92.5 % (Pennsylvania State Univ.). Where nobody looked the
 * missing plants are paid for as in a finding, by {@link standLoss}.
 */
export const GAP_DEDUCTION: Readonly<Record<"corn" | "soybean", Readonly<Record<Gaps, number>>>> = {
  corn: { unknown: 0, none: 0, small: 0.02, large: 0.05 },
  soybean: { unknown: 0, none: 0, small: 0, large: 0.4 * SOYBEAN_GAP_SLOPE },
};

export interface WorksheetInput {
  /** Yield of the kept stand and of the replanted one, bu/ac. */
  keepBushelPerAcre: number;
  replantBushelPerAcre: number;
  /** Price of grain, money a bushel; null where not known. */
  grainPerBushel: number | null;
  /** All that replanting costs, money an acre, >= 0. */
  replantCostPerAcre: number;
}

export interface Worksheet {
  /** Bushels an acre that replanting brings (< 0: loses) before its cost. */
  gainBushelPerAcre: number;
  /** Money an acre that replanting brings after its cost; null without a price. */
  netPerAcre: number | null;
  /** Bushels an acre that pay for the replanting; null without a price. */
  costInBushelPerAcre: number | null;
  /** Yield of the kept stand below which replanting pays: RY = Y - RC / P (Arkansas 2006); null without a price, >= 0. */
  breakEvenYieldBushelPerAcre: number | null;
  /** Price of grain from which replanting pays; null where it brings no bushels. */
  breakEvenPrice: number | null;
}

/**
 * The sums common to all the worksheets.
 * @throws {RangeError} when a figure is negative or the price is not positive
 */
export function replantWorksheet(input: WorksheetInput): Worksheet {
  const { keepBushelPerAcre, replantBushelPerAcre, grainPerBushel, replantCostPerAcre } = input;
  for (const [name, value] of Object.entries({ keepBushelPerAcre, replantBushelPerAcre, replantCostPerAcre }))
    if (!(value >= 0)) throw new RangeError(`${name} must be 0 or more, not ${value}`);
  if (grainPerBushel !== null && !(grainPerBushel > 0))
    throw new RangeError(`the price of grain must be positive, not ${grainPerBushel}`);
  const gainBushelPerAcre = replantBushelPerAcre - keepBushelPerAcre;
  const costInBushelPerAcre = grainPerBushel === null ? null : replantCostPerAcre / grainPerBushel;
  return {
    gainBushelPerAcre,
    netPerAcre: grainPerBushel === null ? null : gainBushelPerAcre * grainPerBushel - replantCostPerAcre,
    costInBushelPerAcre,
    breakEvenYieldBushelPerAcre:
      costInBushelPerAcre === null ? null : Math.max(0, replantBushelPerAcre - costInBushelPerAcre),
    breakEvenPrice: gainBushelPerAcre > 0 ? replantCostPerAcre / gainBushelPerAcre : null,
  };
}

export interface LatePlants {
  /** Late plants / plants, 0..1. */
  share: number;
  /** Leaf stages they are behind; null where nobody counted, which widens the range to one to four. */
  leafStagesBehind: number | null;
}

export interface KeepOrReplantInput {
  table: StandDateTable;
  plantedIsoDate: string;
  replantIsoDate: string;
  /** Stand that is there, plants/ha. */
  standPerHa: number;
  /** Limits of that stand, plants/ha; the stand itself where it is taken as exact. */
  standLowPerHa: number;
  standHighPerHa: number;
  gaps: Gaps;
  /**
   * For gaps that are "unknown": the stand to be expected there had nothing been wrong, plants/ha, and how far the missing
   * plants lie in gaps, 0..1 as in {@link standLoss}.
   */
  fullStandPerHa?: number;
  gapWeight?: number;
  /** Late plants of the stand that is there; corn only, since the studies are. Null where nobody counted them. */
  late: LatePlants | null;
  /** Stand to be expected after replanting, plants/ha. */
  replantStandPerHa: number;
  /** Yield of a full stand planted at the best time, bu/ac; null where not known. */
  expectedBushelPerAcre: number | null;
  grainPerBushel: number | null;
  replantCostPerAcre: number;
}

export type ReplantVerdict = "keep" | "replant" | "about even" | "either" | "unknown";

export interface KeepOrReplant {
  /** Name of the published table. */
  table: string;
  /** Percent of the best yield, as share 0..1; null where the source's cells could not be read. */
  keepShare: number | null;
  replantShare: number | null;
  /** Share of the kept stand's yield that its late plants take; null where they were not counted or not priced. */
  lateShareLost: { estimate: number; low: number; high: number } | null;
  worksheet: Worksheet | null;
  /** Money an acre replanting brings after its cost, at the stand's limits; null without price or yield. */
  netPerAcre: { estimate: number; low: number; high: number } | null;
  /** Stand at which both come out even, plants/ha; null where not even the thinnest stand is worth replanting. */
  breakEvenStandPerHa: number | null;
  /** "either": the stand's own limits fall on both sides; "about even": within {@link ABOUT_EVEN_SHARE} of the yield. */
  verdict: ReplantVerdict;
}

/**
 * Weighs the kept stand against the replanted one by a published table of stand and planting date. Later planting
 * costs more than the table where grain has to be dried or the season is short; that belongs into the cost.
 * @throws {ManifestError} when a date is not a date
 * @throws {RangeError} when a figure is out of range
 */
export function keepOrReplant(input: KeepOrReplantInput): KeepOrReplant {
  const { table, expectedBushelPerAcre, grainPerBushel, replantCostPerAcre } = input;
  const kept = 1 - GAP_DEDUCTION[table.crop][input.gaps];
  const keepCurve = standCurveOf(input.plantedIsoDate, table);
  const late = table.crop === "corn" && input.late ? input.late : null;
  const lateLost = late ? lateLoss(late.share, late.leafStagesBehind, "ground") : null;
  const keepAt = (standPerHa: number, lost = lateLost?.estimate ?? 0): number | null => {
    const share = keptByStand(standPerHa, keepCurve, input);
    return share === null ? null : share * (1 - lost) * kept;
  };
  const keepShare = keepAt(input.standPerHa);
  const replantShare = yieldDownToNothing(input.replantStandPerHa, standCurveOf(input.replantIsoDate, table));
  const unknown: KeepOrReplant = {
    table: table.title,
    keepShare,
    replantShare,
    lateShareLost: lateLost && { estimate: lateLost.estimate, low: lateLost.low, high: lateLost.high },
    worksheet: null,
    netPerAcre: null,
    breakEvenStandPerHa: null,
    verdict: "unknown",
  };
  if (keepShare === null || replantShare === null || expectedBushelPerAcre === null) return unknown;
  const sums = (share: number): Worksheet =>
    replantWorksheet({
      keepBushelPerAcre: share * expectedBushelPerAcre,
      replantBushelPerAcre: replantShare * expectedBushelPerAcre,
      grainPerBushel,
      replantCostPerAcre,
    });
  const worksheet = sums(keepShare);
  if (grainPerBushel === null || worksheet.netPerAcre === null) return { ...unknown, worksheet };
  // A thinner stand leaves more to gain, as long as the curve rises; beyond its top the order turns round.
  const limits = [
    [input.standLowPerHa, lateLost?.high],
    [input.standHighPerHa, lateLost?.low],
  ] as const;
  const nets = limits.map(([stand, lost]) => {
    const share = keepAt(stand, lost);
    return share === null ? worksheet.netPerAcre! : sums(share).netPerAcre!;
  });
  const netPerAcre = {
    estimate: worksheet.netPerAcre,
    low: Math.min(worksheet.netPerAcre, ...nets),
    high: Math.max(worksheet.netPerAcre, ...nets),
  };
  const evenPerAcre = ABOUT_EVEN_SHARE * expectedBushelPerAcre * grainPerBushel;
  const goalShare = worksheet.breakEvenYieldBushelPerAcre! / expectedBushelPerAcre;
  return {
    ...unknown,
    worksheet,
    netPerAcre,
    breakEvenStandPerHa: standYielding(goalShare, table, keepAt),
    verdict:
      Math.abs(netPerAcre.estimate) <= evenPerAcre
        ? "about even"
        : netPerAcre.low < 0 && netPerAcre.high > 0
          ? "either"
          : netPerAcre.estimate > 0
            ? "replant"
            : "keep",
  };
}

/**
 * Share of the best yield that a stand keeps. Where somebody looked at the gaps, the table's: the worksheets take them off
 * apart. Where nobody did, the full stand's less the loss to missing plants, the same as a finding is priced by.
 */
function keptByStand(standPerHa: number, curve: StandCurve, input: KeepOrReplantInput): number | null {
  const { gaps, fullStandPerHa, gapWeight } = input;
  if (gaps !== "unknown" || !fullStandPerHa || gapWeight === undefined)
    return yieldDownToNothing(standPerHa, curve);
  const full = yieldDownToNothing(fullStandPerHa, curve);
  const lost = standLoss({
    standElsewherePerHa: fullStandPerHa,
    standInsidePerHa: standPerHa,
    curve,
    gapWeight,
  });
  return full === null || lost === null ? null : full * (1 - lost);
}

/** Thinnest stand whose kept yield reaches the share, plants/ha; null for a share of 0 or one never reached. */
function standYielding(
  share: number,
  table: StandDateTable,
  keepAt: (standPerHa: number) => number | null,
): number | null {
  if (share <= 0) return null;
  let before = { standPerHa: 0, share: 0 };
  for (const thousand of table.thousandPlantsPerAcre) {
    const standPerHa = thousand * 1000 * ACRES_PER_HECTARE;
    const reached = keepAt(standPerHa);
    if (reached === null) continue;
    if (reached >= share) {
      const weight = (share - before.share) / (reached - before.share);
      return before.standPerHa + weight * (standPerHa - before.standPerHa);
    }
    before = { standPerHa, share: reached };
  }
  return null;
}
