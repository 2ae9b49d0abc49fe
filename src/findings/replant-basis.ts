/** What keeping or replanting is weighed by, as the findings document carries it, so that the page can weigh it too. */
import type { LatePlants } from "../cost/replant.ts";
import { mean, standardDeviation } from "../numerics/descriptive.ts";
import { studentTQuantile } from "../numerics/distributions.ts";
import { lateShareAt } from "../stand/late-share.ts";
import { referencePopulation } from "../stand/spots.ts";
import type { Field } from "../vocabulary/field.ts";

/** Level of the interval of the field's mean stand. */
export const STAND_LEVEL = 0.9;

export interface ReplantBasis {
  name: string;
  crop: "corn" | "soybean";
  /** ISO date. */
  planted: string;
  /** ISO date of the last dated count; null where none has a date. */
  lastCounted: string | null;
  /** Target or usual rate, seeds/ha; null where neither is known. */
  populationPerHa: number | null;
  /** Mean of the counts with its 90 % interval (Student), plants/ha; null without counts. */
  standPerHa: { estimate: number; low: number; high: number; counts: number } | null;
  /** Late plants over all counts that looked for them; null where none did. */
  late: LatePlants | null;
  prices: {
    grainPerBushel: number | null;
    expectedBushelPerAcre: number | null;
    seedPer1000: number | null;
    currency: string;
  };
}

/** Null where no published table can be used: another crop, or no planting date. */
export function replantBasis(field: Field): ReplantBasis | null {
  const { crop, planted, standCounts, prices } = field;
  if (crop === "other" || planted === null) return null;
  const { grainPerBushel, expectedBushelPerAcre, seedPer1000, currency } = prices;
  return {
    name: field.name,
    crop,
    planted,
    lastCounted:
      (standCounts?.dates ?? [])
        .filter((date) => date !== null)
        .sort()
        .at(-1) ?? null,
    populationPerHa: referencePopulation(field),
    standPerHa: standCounts && standCounts.spotCount > 0 ? meanStand(standCounts.standPerHa) : null,
    late: lateOf(standCounts),
    prices: { grainPerBushel, expectedBushelPerAcre, seedPer1000, currency },
  };
}

function meanStand(stands: Float64Array): ReplantBasis["standPerHa"] {
  const estimate = mean(stands);
  const half =
    stands.length > 1
      ? (studentTQuantile(0.5 + STAND_LEVEL / 2, stands.length - 1) * standardDeviation(stands)) /
        Math.sqrt(stands.length)
      : 0;
  return { estimate, low: Math.max(0, estimate - half), high: estimate + half, counts: stands.length };
}

function lateOf(counts: Field["standCounts"]): LatePlants | null {
  if (!counts) return null;
  const shares = counts.lateShare
    .map((_, spot) => lateShareAt(counts, spot))
    .filter((share) => !Number.isNaN(share));
  if (shares.length === 0) return null;
  const behind = counts.leafStagesBehind.filter((stages) => stages > 0);
  return { share: mean(shares), leafStagesBehind: behind.length > 0 ? mean(behind) : null };
}
