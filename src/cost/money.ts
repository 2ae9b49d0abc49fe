/** Money from shares of yield and from seed. */
import { ACRES_PER_HECTARE } from "../quantities/units.ts";
import type { Prices } from "../vocabulary/field.ts";

/** Estimate with limits at a level of coverage. */
export interface LossInterval {
  estimate: number;
  low: number;
  high: number;
  level: number;
}

/** Money in the given currency, each figure >= 0. */
export interface LossMoney extends LossInterval {
  currency: string;
}

/**
 * Money of a lost share of yield: area x expected yield x share x price. Null where price or yield is not known.
 * @param yieldShare lost yield / expected yield, 0..1
 * @param areaHa hectares, >= 0
 */
export function moneyOfShare(
  yieldShare: LossInterval | null,
  areaHa: number,
  prices: Prices,
): LossMoney | null {
  const { grainPerBushel, expectedBushelPerAcre, currency } = prices;
  if (!yieldShare || grainPerBushel === null || expectedBushelPerAcre === null) return null;
  const whole = areaHa * ACRES_PER_HECTARE * expectedBushelPerAcre * grainPerBushel;
  return {
    estimate: whole * yieldShare.estimate,
    low: whole * yieldShare.low,
    high: whole * yieldShare.high,
    level: yieldShare.level,
    currency,
  };
}

export interface SeedMoney {
  /** Price of the seed dropped beyond the target (> 0) or saved below it (< 0). */
  money: number;
  /** Seeds beyond (> 0) or below (< 0) the target. */
  seeds: number;
  currency: string;
}

/**
 * Price of the seed dropped beyond the target; the yield a wrong rate costs is not in it. Null where the seed price is
 * not known.
 * @param populationPerHa seeds/ha dropped
 * @param targetPerHa seeds/ha wanted
 * @param areaHa hectares
 */
export function seedMoney(
  populationPerHa: number,
  targetPerHa: number,
  areaHa: number,
  prices: Prices,
): SeedMoney | null {
  if (prices.seedPer1000 === null) return null;
  const seeds = (populationPerHa - targetPerHa) * areaHa;
  return { money: (seeds / 1000) * prices.seedPer1000, seeds, currency: prices.currency };
}
