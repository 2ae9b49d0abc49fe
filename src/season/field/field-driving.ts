/** How one field was driven: means, what goes with speed from pass to pass, ground by speed. */
import { THRESHOLDS } from "../../compare/thresholds.ts";
import { mean, weightedMean } from "../../numerics/descriptive.ts";
import type { Measured } from "../../numerics/random-effects.ts";
import { METRES_PER_SECOND_PER_MILE_PER_HOUR as MPH } from "../../quantities/units.ts";
import type { ExtractedPass, FieldExtract } from "./field-extract.ts";

export const DRIVE_VARIABLES = ["speed", "misses", "multiples", "noLoad"] as const;
export type DriveVariable = (typeof DRIVE_VARIABLES)[number];

/** What may go with speed. */
export const SLOPE_VARIABLES = ["misses", "multiples", "noLoad"] as const satisfies readonly DriveVariable[];
export type SlopeVariable = (typeof SLOPE_VARIABLES)[number];

/** Fewer passes of a field say nothing of speed (our judgement). */
const FEWEST_PASSES = 5;
/** Passes whose speeds differ by less than this in SD, m/s, say nothing of speed (0.1 mph; our judgement). */
const LEAST_SPREAD = 0.045;
/** 4.5, 5.5 mph, and the speed from which bounce and skips are put down to it. */
const BAND_LIMITS = [4.5 * MPH, 5.5 * MPH, THRESHOLDS.fastKnee.value];

/** The same with the ends, which have no limit. */
export const SPEED_LIMITS: readonly (number | null)[] = [null, ...BAND_LIMITS, null];

function drivenAt(pass: ExtractedPass, variable: DriveVariable): number | null {
  return variable === "noLoad" ? pass.noLoadShare : (pass.means[variable] ?? null);
}

/** How one field was driven: what the season's comparisons are made from. */
export interface FieldDriving {
  /** Means over the field by area, m/s and shares; null where no pass has it. */
  means: Record<DriveVariable, number | null>;
  /** The passes' slope on their speed; null where they say nothing of it. */
  slopes: Record<SlopeVariable, Measured | null>;
  /** Ground in each band of speed. */
  bands: BandSums[];
}

interface BandSums {
  band: number;
  areaHa: number;
  passes: number;
  /** Ground on which a variable is known, and its mean there. */
  known: Record<SlopeVariable, { areaHa: number; mean: number } | null>;
}

/** How the field was driven, its passes that are no end rows: turns are slow for everyone. */
export function fieldDriving({ passes }: Pick<FieldExtract, "passes">): FieldDriving {
  const inside = passes.filter(({ headland, areaHa }) => !headland && areaHa > 0);
  const means = DRIVE_VARIABLES.map((variable) => [variable, meanOf(inside, variable)?.mean ?? null]);
  const slopes = SLOPE_VARIABLES.map((variable) => [variable, slopeOf(inside, variable)]);
  return {
    means: Object.fromEntries(means) as FieldDriving["means"],
    slopes: Object.fromEntries(slopes) as FieldDriving["slopes"],
    bands: bandSums(inside),
  };
}

function meanOf(
  passes: readonly ExtractedPass[],
  variable: DriveVariable,
): { areaHa: number; mean: number } | null {
  const known = passes.filter((pass) => drivenAt(pass, variable) !== null);
  if (known.length === 0) return null;
  const areas = known.map(({ areaHa }) => areaHa);
  const values = known.map((pass) => drivenAt(pass, variable)!);
  return { areaHa: areas.reduce((sum, areaHa) => sum + areaHa, 0), mean: weightedMean(values, areas) };
}

function slopeOf(inside: readonly ExtractedPass[], variable: SlopeVariable): Measured | null {
  const passes = inside.filter((pass) => pass.means.speed !== undefined && drivenAt(pass, variable) !== null);
  if (passes.length < FEWEST_PASSES) return null;
  const speeds = passes.map(({ means }) => means.speed!);
  const values = passes.map((pass) => drivenAt(pass, variable)!);
  const [middle, level] = [mean(speeds), mean(values)];
  const squares = speeds.reduce((sum, speed) => sum + (speed - middle) ** 2, 0);
  if (Math.sqrt(squares / (passes.length - 1)) < LEAST_SPREAD) return null;
  const slope = speeds.reduce((sum, speed, k) => sum + (speed - middle) * (values[k]! - level), 0) / squares;
  const rest = speeds.reduce(
    (sum, speed, k) => sum + (values[k]! - level - slope * (speed - middle)) ** 2,
    0,
  );
  // A fit without rest would be taken as beyond doubt: rounded readings can do that.
  const variance = Math.max(rest / (passes.length - 2), 1e-8) / squares;
  return { value: slope, variance };
}

function bandSums(inside: readonly ExtractedPass[]): BandSums[] {
  return SPEED_LIMITS.slice(0, -1).flatMap((from, band) => {
    const to = SPEED_LIMITS[band + 1] ?? null;
    const passes = inside.filter(
      ({ means: { speed } }) =>
        speed !== undefined && (from === null || speed >= from) && (to === null || speed < to),
    );
    if (passes.length === 0) return [];
    const known = SLOPE_VARIABLES.map((variable) => [variable, meanOf(passes, variable)]);
    return [
      {
        band,
        areaHa: passes.reduce((sum, { areaHa }) => sum + areaHa, 0),
        passes: passes.length,
        known: Object.fromEntries(known) as BandSums["known"],
      },
    ];
  });
}
