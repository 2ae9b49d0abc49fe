/** When plants should be up, and which of them count as late. Thermal time in F, as the sources print it. */
import { MM_PER_INCH } from "../quantities/units.ts";
import type { Weather } from "../vocabulary/field.ts";
import { dayNumber, daysAfterMarchFirst, isoDateOf } from "./calendar.ts";
import { DEGREE_DAYS_F_PER_C, degreeDaysC } from "./degree-days.ts";

export interface DegreeDayRange {
  low: number;
  estimate: number;
  high: number;
}

/**
 * Degree days F from planting to emergence. Corn: Purdue Univ. about 115 (115-120, soil), Iowa State Univ. 90-120,
 * Univ. of Wisconsin 125, Univ. of Nebraska 120, Ohio State Univ. 100 (air) or 110-120 (soil), North Carolina State
 * Univ. scouting 100-150. Soybean: 130 to half and 155 to 90 % emergence (Conley & Gaska) or 141 and 200 (Casteel),
 * both as quoted by Michigan State Univ.; the estimate is the mean of the two halves.
 */
export const EMERGENCE_DEGREE_DAYS_F: Readonly<Record<"corn" | "soybean", DegreeDayRange>> = {
  corn: { low: 90, estimate: 115, high: 150 },
  soybean: { low: 130, estimate: 135.5, high: 200 },
};

/**
 * Added to the corn requirement, degree days F, [low, high]; from memory of a table of the Univ. of Nebraska and
 * Univ. of Wisconsin, for the US Corn Belt. Those for the planting date and for tillage make up for soil that is colder
 * or warmer than the air, so they are added to a sum of air temperature alone: by soil temperature corn needs 110 to 120
 * whatever the date (Ohio State Univ. on Nemergut et al. 2021).
 */
export const EMERGENCE_ADJUSTMENTS_F = {
  conservationTillage: [30, 60],
  plantedBeforeApril25: [10, 25],
  plantedAfterMay15: [-70, -50],
  perInchDeeperThanTwo: [15, 15],
  crustOrClods: [30, 30],
  drySeedZone: [30, 30],
} as const;

/** Adjustments that stand for the difference between soil and air. */
export const FOR_AIR_ONLY: readonly (keyof typeof EMERGENCE_ADJUSTMENTS_F)[] = [
  "conservationTillage",
  "plantedBeforeApril25",
  "plantedAfterMay15",
];

/**
 * No corn is reckoned to be up sooner, degree days F: the least of the published requirements (Iowa State Univ. 90).
 */
export const LEAST_REQUIREMENT_F = 90;

/**
 * The adjustment for the date is printed as "before April 25" and "after May 15". So that one day does not move the
 * emergence by a week, it grows in a straight line over the twelve days around either date (our judgement).
 */
const DATE_RAMPS = {
  plantedBeforeApril25: ["2001-05-01", "2001-04-19"],
  plantedAfterMay15: ["2001-05-09", "2001-05-21"],
} as const;

/** Where the temperature was taken that the degree days are summed of. */
export type DegreeDayBasis = "soil" | "air";

export interface Seedbed {
  crop?: "corn" | "soybean";
  seedingDepthMm?: number;
  conservationTillage?: boolean;
  crustOrClods?: boolean;
  drySeedZone?: boolean;
}

/**
 * Degree days F needed to emergence from this seedbed: the published range plus the adjustments, low with low
 * and high with high, and never below {@link LEAST_REQUIREMENT_F}. Soybean is not adjusted: the adjustments were made
 * for corn.
 * @param basis where the temperature is taken: the adjustments for date and tillage are for air alone
 * @throws {ManifestError} when the date is not a date
 */
export function emergenceRequirementF(
  plantedIsoDate: string,
  seedbed: Seedbed = {},
  basis: DegreeDayBasis = "soil",
): DegreeDayRange {
  const crop = seedbed.crop ?? "corn";
  const need = { ...EMERGENCE_DEGREE_DAYS_F[crop] };
  const day = daysAfterMarchFirst(plantedIsoDate);
  if (crop !== "corn") return need;
  const add = ([low, high]: readonly [number, number], times = 1): void => {
    need.low += low * times;
    need.estimate += ((low + high) / 2) * times;
    need.high += high * times;
  };
  const adjust = EMERGENCE_ADJUSTMENTS_F;
  if (basis === "air") {
    for (const name of ["plantedBeforeApril25", "plantedAfterMay15"] as const) {
      const [none, whole] = DATE_RAMPS[name].map(daysAfterMarchFirst) as [number, number];
      add(adjust[name], Math.min(1, Math.max(0, (day - none) / (whole - none))));
    }
    if (seedbed.conservationTillage) add(adjust.conservationTillage);
  }
  if (seedbed.crustOrClods) add(adjust.crustOrClods);
  if (seedbed.drySeedZone) add(adjust.drySeedZone);
  const inchesDeeper = (seedbed.seedingDepthMm ?? 0) / MM_PER_INCH - 2;
  if (inchesDeeper > 0) add(adjust.perInchDeeperThanTwo, inchesDeeper);
  for (const key of ["low", "estimate", "high"] as const)
    need[key] = Math.max(LEAST_REQUIREMENT_F, need[key]);
  return need;
}

export interface ExpectedEmergence {
  /** ISO date on which the requirement is met; null where the weather ends (or breaks off) before. */
  date: string | null;
  earliest: string | null;
  latest: string | null;
  requirementF: DegreeDayRange;
  /** Soil temperature where the weather has it on the day after planting, else air. */
  basis: DegreeDayBasis;
  /** Degree days F summed until the latest date, or until the weather ends. */
  accumulatedF: number;
  /** Days without a temperature, for which the day before was repeated. */
  daysFilled: number;
}

/** Days in a row without a temperature that are bridged by the day before; more end the sum (our judgement). */
const MOST_DAYS_BRIDGED = 3;

/**
 * Date on which emergence is to be expected. Degree days are summed from the day after planting (convention, from
 * memory); readings of one day are taken together to its minimum and maximum.
 * @throws {ManifestError} when a date is not a date
 */
export function expectedEmergence(
  weather: Weather,
  plantedIsoDate: string,
  seedbed: Seedbed = {},
): ExpectedEmergence {
  const firstDay = dayNumber(plantedIsoDate) + 1;
  const soil = dailyExtremes(weather, weather.soilC, weather.soilC);
  const basis = soil.has(firstDay) ? "soil" : "air";
  const requirementF = emergenceRequirementF(plantedIsoDate, seedbed, basis);
  const days = basis === "soil" ? soil : dailyExtremes(weather, weather.minimumC, weather.maximumC);
  const lastDay = Math.max(...days.keys(), firstDay - 1);
  const met: Record<keyof DegreeDayRange, string | null> = { low: null, estimate: null, high: null };
  let accumulatedF = 0;
  let daysFilled = 0;
  let bridged = 0;
  let before: [number, number] | undefined;
  for (let day = firstDay; day <= lastDay && met.high === null; day++) {
    const extremes = days.get(day) ?? before;
    if (!extremes) break;
    bridged = days.has(day) ? 0 : bridged + 1;
    if (bridged > MOST_DAYS_BRIDGED) break;
    if (bridged > 0) daysFilled++;
    before = extremes;
    accumulatedF += degreeDaysC(extremes[0], extremes[1]) * DEGREE_DAYS_F_PER_C;
    for (const key of ["low", "estimate", "high"] as const) {
      // The tolerance keeps a sum that meets the requirement exactly from missing it by rounding.
      if (met[key] === null && accumulatedF >= requirementF[key] - 1e-9) met[key] = isoDateOf(day);
    }
  }
  return {
    date: met.estimate,
    earliest: met.low,
    latest: met.high,
    requirementF,
    basis,
    accumulatedF,
    daysFilled,
  };
}

/** Lowest and highest temperature of each day that has one. */
export function dailyExtremes(
  weather: Weather,
  lows: Float64Array,
  highs: Float64Array,
): Map<number, [number, number]> {
  const days = new Map<number, [number, number]>();
  weather.time.forEach((time, index) => {
    const low = lows[index]!;
    const high = highs[index]!;
    if (Number.isNaN(low) || Number.isNaN(high)) return;
    const day = dayNumber(time);
    const known = days.get(day);
    days.set(day, known ? [Math.min(known[0], low), Math.max(known[1], high)] : [low, high]);
  });
  return days;
}
