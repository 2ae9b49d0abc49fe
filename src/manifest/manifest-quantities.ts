/** The quantities of a manifest, from text with units to numbers in inside units. */
import { ManifestError } from "../errors.ts";
import { boundedQuantity, isWithin, type QuantityBound } from "../quantities/bounded-quantity.ts";
import { formatQuantity } from "../quantities/format.ts";
import { parseGrainPrice, parseMoney, parseSeedPrice, parseYield } from "../quantities/prices.ts";
import { parseQuantity, unitsOf } from "../quantities/units.ts";
import type { PlanterSetup, Prices, Targets } from "../vocabulary/field.ts";
import { REMEDY_CODES, type RemedyCode } from "../vocabulary/remedy-codes.ts";
import type { Manifest } from "./manifest-schema.ts";

/**
 * What each quantity can be, in its inside unit: outside of it a unit or a decimal point is wrong (our judgement,
 * wide of every planter). Row spacings run from twin rows to wide beds, depths from grass to deep beans, seeds from
 * sorghum on dry ground to cereals, and no machine plants faster than 12 m/s (27 mi/h).
 */
export const MANIFEST_BOUNDS = {
  "planter.rowSpacing": { unit: "m", lowest: 0.1, highest: 2, shown: "4 in to 78.7 in (0.1 m to 2 m)" },
  "planter.rowUnitWeight": { unit: "N", lowest: 100, highest: 5000, shown: "22.5 lbf to 1,124 lbf" },
  "targets.seedingDepth": { unit: "mm", lowest: 5, highest: 150, shown: "0.2 in to 5.9 in (5 mm to 150 mm)" },
  "targets.population": {
    unit: "seeds/ha",
    lowest: 5000,
    highest: 10_000_000,
    shown: "2,024 seeds/ac to 4,046,856 seeds/ac",
  },
  "targets.downForceMargin": { unit: "N", lowest: 0, highest: 5000, shown: "0 lbf to 1,124 lbf" },
  // From beans of half a gram and more to the smallest seed that is drilled.
  seedSize: {
    unit: "seeds/kg",
    lowest: 500,
    highest: 1_000_000,
    shown: "227 seeds/lb to 453,592 seeds/lb (500 seeds/kg to 1,000,000 seeds/kg)",
  },
  "targets.speed": { unit: "m/s", lowest: 0.2, highest: 12, shown: "0.45 mi/h to 26.8 mi/h" },
} as const satisfies Record<string, QuantityBound>;

type Bounded = keyof typeof MANIFEST_BOUNDS;

function quantityOrNull(text: string | undefined, bound: Bounded): number | null {
  return text === undefined ? null : boundedQuantity(text, MANIFEST_BOUNDS[bound], bound);
}

/**
 * The planter as the manifest describes it; null and empty lists where it says nothing.
 * @throws {ManifestError} for a quantity that cannot be read or a row unit beyond the bar.
 */
export function planterSetup(manifest: Manifest): PlanterSetup {
  const planter = manifest.planter ?? {};
  const rowUnits = planter.rowUnits ?? null;
  const wings = planter.wings ?? [];
  const lists: [string, readonly number[]][] = [
    ["planter.wheelTrackRows", planter.wheelTrackRows ?? []],
    ["planter.depthSensedRows", planter.depthSensedRows === "all" ? [] : (planter.depthSensedRows ?? [])],
    ["planter.loadSensedRows", planter.loadSensedRows === "all" ? [] : (planter.loadSensedRows ?? [])],
    ...wings.map((wing, index): [string, number[]] => [`planter.wings[${index}]`, wing]),
  ];
  for (const [field, rows] of lists) requireRowsOnBar(rows, rowUnits, field);
  for (const [index, [first, last]] of wings.entries()) {
    if (first > last) {
      throw new ManifestError(
        `planter.wings[${index}] runs from ${first} to ${last}; write the lower one first`,
        {
          field: `planter.wings[${index}]`,
          value: `${first}, ${last}`,
        },
      );
    }
  }
  return {
    rowUnits,
    rowSpacingM: quantityOrNull(planter.rowSpacing, "planter.rowSpacing"),
    rowUnitWeightN: quantityOrNull(planter.rowUnitWeight, "planter.rowUnitWeight"),
    wheelTrackRows: [...(planter.wheelTrackRows ?? [])],
    depthSensedRows: planter.depthSensedRows ?? null,
    loadSensedRows: planter.loadSensedRows ?? null,
    wings: wings.map(([first, last]) => [first, last]),
  };
}

/**
 * Seeds in a kilogram; null where not given.
 * @throws {ManifestError} for a quantity that cannot be read
 */
export function seedsPerKg(manifest: Manifest): number | null {
  return quantityOrNull(manifest.seedSize, "seedSize");
}

/** The target rate, seeds/ha; one by weight with the size of the seed. */
function targetRate(text: string, manifest: Manifest): number {
  const field = "targets.population";
  const bound = MANIFEST_BOUNDS[field];
  const byWeight = unitsOf("massPerArea").some((unit) => new RegExp(`[\\d.\\s]${unit}\\s*$`).test(text));
  if (!byWeight) return boundedQuantity(text, bound, field);
  const size = seedsPerKg(manifest);
  if (size === null) {
    const accepted = 'the seeds by number, such as "34000 seeds/ac"';
    throw new ManifestError(
      `${field} is "${text}", a rate by weight, which cannot be read without the size of the seed; give "seedSize": "2600 seeds/lb" with the number from the tag, or ${accepted}`,
      { field, value: text, accepted },
    );
  }
  const perHa = parseQuantity(text, "kg/ha", field) * size;
  if (isWithin(perHa, bound)) return perHa;
  const seeds = formatQuantity(perHa, "seeds", "farm");
  throw new ManifestError(
    `${field} is "${text}", with seedSize "${manifest.seedSize}" ${seeds}, which cannot be; ${bound.shown} is accepted`,
    { field, value: text, accepted: bound.shown },
  );
}

function requireRowsOnBar(rows: readonly number[], rowUnits: number | null, field: string): void {
  const beyond = rowUnits === null ? undefined : rows.find((row) => row > rowUnits);
  if (beyond === undefined) return;
  throw new ManifestError(`${field} names row unit ${beyond}, but planter.rowUnits is ${rowUnits}`, {
    field,
    value: String(beyond),
    accepted: `1 to ${rowUnits}`,
  });
}

/**
 * The targets; null where not given.
 * @throws {ManifestError} for a quantity that cannot be read, or a margin whose low limit is not below the high one.
 */
export function targets(manifest: Manifest): Targets {
  const given = manifest.targets ?? {};
  const margin = given.downForceMargin;
  let limits: [number, number] | null = null;
  if (margin !== undefined) {
    const low = boundedQuantity(
      margin[0],
      MANIFEST_BOUNDS["targets.downForceMargin"],
      "targets.downForceMargin[0]",
    );
    const high = boundedQuantity(
      margin[1],
      MANIFEST_BOUNDS["targets.downForceMargin"],
      "targets.downForceMargin[1]",
    );
    if (!(low >= 0 && low < high)) {
      throw new ManifestError(
        `targets.downForceMargin runs from ${margin[0]} to ${margin[1]}; write the lower limit first`,
        { field: "targets.downForceMargin", value: margin.join(", ") },
      );
    }
    limits = [low, high];
  }
  return {
    seedingDepthMm: quantityOrNull(given.seedingDepth, "targets.seedingDepth"),
    populationPerHa: given.population === undefined ? null : targetRate(given.population, manifest),
    downForceMarginN: limits,
    speedMetresPerSecond: quantityOrNull(given.speed, "targets.speed"),
  };
}

/** Money is in US dollars where no price names a currency. */
const DEFAULT_CURRENCY = "USD";

/**
 * The prices; null where not given.
 * @throws {ManifestError} for a price that cannot be read, or two currencies in one manifest.
 */
export function prices(manifest: Manifest): Prices {
  const given = manifest.prices ?? {};
  const crop = manifest.crop ?? "corn";
  const grain = given.grain === undefined ? null : parseGrainPrice(given.grain, crop, "prices.grain");
  const seed = given.seed === undefined ? null : parseSeedPrice(given.seed, "prices.seed");
  if (grain && seed && grain.currency !== seed.currency) {
    throw new ManifestError(
      `prices.grain is in ${grain.currency} and prices.seed in ${seed.currency}; write both in one currency`,
      { field: "prices.seed", value: given.seed, accepted: grain.currency },
    );
  }
  const currency = grain?.currency ?? seed?.currency ?? null;
  const remedies = remedyCosts(given.remedies ?? {}, currency);
  return {
    grainPerBushel: grain?.perBushel ?? null,
    expectedBushelPerAcre:
      given.expectedYield === undefined
        ? null
        : parseYield(given.expectedYield, crop, "prices.expectedYield"),
    seedPer1000: seed?.per1000 ?? null,
    currency: currency ?? remedies?.currency ?? DEFAULT_CURRENCY,
    ...(remedies ? { remedyCosts: remedies.costs } : {}),
  };
}

/** Costs of remedies and their one currency, that of the other prices; null where none is given. */
function remedyCosts(
  given: Partial<Record<RemedyCode, string | undefined>>,
  pricesCurrency: string | null,
): { costs: Partial<Record<RemedyCode, number>>; currency: string } | null {
  const costs: Partial<Record<RemedyCode, number>> = {};
  let currency = pricesCurrency;
  for (const code of REMEDY_CODES) {
    const text = given[code];
    if (text === undefined) continue;
    const field = `prices.remedies.${code}`;
    const cost = parseMoney(text, field);
    currency ??= cost.currency;
    if (cost.currency !== currency)
      throw new ManifestError(
        `${field} is in ${cost.currency}, the other prices in ${currency}; write all in one currency`,
        {
          field,
          value: text,
          accepted: currency,
        },
      );
    costs[code] = cost.amount;
  }
  return currency !== null && Object.keys(costs).length > 0 ? { costs, currency } : null;
}
