/** How it was driven over a season: who drove faster than the others, and what a faster pass did within each field. */
import { THRESHOLDS } from "../compare/thresholds.ts";
import { mean, weightedMean } from "../numerics/descriptive.ts";
import { studentTCdf, studentTQuantile } from "../numerics/distributions.ts";
import type { Estimate } from "../numerics/estimate.ts";
import { combineEffects, type Measured } from "../numerics/random-effects.ts";
import { welchDifference } from "../numerics/welch.ts";
import { METRES_PER_SECOND_PER_MILE_PER_HOUR as MPH } from "../quantities/units.ts";
import type { ExtractedPass } from "./field-extract.ts";
import type { KeptField } from "./field-result.ts";
import { UNIT_BANDS } from "./unit-variables.ts";

export const DRIVE_VARIABLES = ["speed", "misses", "multiples", "noLoad"] as const;
export type DriveVariable = (typeof DRIVE_VARIABLES)[number];

export interface OperatorEffect {
  operator: string;
  variable: DriveVariable;
  /** Fields of the operator, and of the others. */
  fields: number;
  otherFields: number;
  /** Mean over the operator's fields, and how far it lies above that of the others; m/s or share. */
  mean: number;
  difference: Estimate;
  pValue: number;
  qValue: number | null;
  /** True where the difference is to the worse and more than matters. */
  matters: boolean;
}

/** Change with speed within the fields, for each m/s. */
export interface SpeedSlope {
  variable: Exclude<DriveVariable, "speed">;
  fields: number;
  slope: Estimate;
  pValue: number;
  qValue: number | null;
}

/** Ground by the speed it was planted at. */
export interface SpeedBand {
  /** Limits, m/s; null for none. */
  from: number | null;
  to: number | null;
  areaHa: number;
  passes: number;
  /** Means by area; null where no log has them. */
  misses: number | null;
  multiples: number | null;
  noLoad: number | null;
}

const LEVEL = 0.9;
/** Fewer fields of one driver, passes of a field or fields in a slope say nothing (our judgement). */
const FEWEST_FIELDS = 3;
const FEWEST_PASSES = 5;
/** Passes whose speeds differ by less than this in SD, m/s, say nothing of speed (0.1 mph; our judgement). */
const LEAST_SPREAD = 0.045;
/** Differences between drivers that matter: half of what matters on a unit, since all units have them (our judgement). */
const MATTERS: Record<Exclude<DriveVariable, "speed">, number> = {
  misses: UNIT_BANDS.misses.matters / 2,
  multiples: UNIT_BANDS.multiples.matters / 2,
  noLoad: THRESHOLDS.noLoadShare.value / 2,
};

function drivenAt(pass: ExtractedPass, variable: DriveVariable): number | null {
  return variable === "noLoad" ? pass.noLoadShare : (pass.means[variable] ?? null);
}

/** Passes that are not end rows: turns are slow for everyone. */
function insidePasses({ extract }: KeptField): ExtractedPass[] {
  return extract.passes.filter(({ headland, areaHa }) => !headland && areaHa > 0);
}

function fieldMean(field: KeptField, variable: DriveVariable): number | null {
  const passes = insidePasses(field).filter((pass) => drivenAt(pass, variable) !== null);
  if (passes.length === 0) return null;
  return weightedMean(
    passes.map((pass) => drivenAt(pass, variable)!),
    passes.map(({ areaHa }) => areaHa),
  );
}

/** Each operator against all others, the fields as replicates (Welch's interval). */
export function operatorEffects(kept: readonly KeptField[]): OperatorEffect[] {
  const operators = [...new Set(kept.map(({ operator }) => operator).filter((name) => name !== null))].sort();
  const effects: OperatorEffect[] = [];
  for (const variable of DRIVE_VARIABLES) {
    const known = kept
      .filter(({ operator }) => operator !== null)
      .map((field) => ({ operator: field.operator!, value: fieldMean(field, variable) }))
      .filter((entry): entry is { operator: string; value: number } => entry.value !== null);
    for (const operator of operators) {
      const own = known.filter((entry) => entry.operator === operator).map(({ value }) => value);
      const others = known.filter((entry) => entry.operator !== operator).map(({ value }) => value);
      if (own.length < FEWEST_FIELDS || others.length < FEWEST_FIELDS) continue;
      const { difference, low, high, df } = welchDifference(others, own, LEVEL);
      const half = (high - low) / 2;
      const error = half / studentTQuantile(0.5 + LEVEL / 2, df);
      const least = variable === "speed" ? THRESHOLDS.fastShare.value * mean(others) : MATTERS[variable];
      effects.push({
        operator,
        variable,
        fields: own.length,
        otherFields: others.length,
        mean: mean(own),
        difference: { estimate: difference, low, high, level: LEVEL },
        pValue: error > 0 ? 2 * studentTCdf(-Math.abs(difference) / error, df) : 1,
        qValue: null,
        matters: difference >= least,
      });
    }
  }
  return effects;
}

/** Within each field the passes' slope on their speed, then over the fields as a random effect. */
export function speedSlopes(kept: readonly KeptField[]): SpeedSlope[] {
  const variables = ["misses", "multiples", "noLoad"] as const;
  return variables.flatMap((variable) => {
    const slopes = kept.map((field) => slopeOf(field, variable)).filter((slope) => slope !== null);
    const combined = slopes.length >= FEWEST_FIELDS ? combineEffects(slopes) : null;
    if (!combined) return [];
    const error = Math.sqrt(combined.variance);
    const half = studentTQuantile(0.5 + LEVEL / 2, combined.df) * error;
    const { estimate } = combined;
    return [
      {
        variable,
        fields: slopes.length,
        slope: { estimate, low: estimate - half, high: estimate + half, level: LEVEL },
        pValue: 2 * studentTCdf(-Math.abs(estimate) / error, combined.df),
        qValue: null,
      },
    ];
  });
}

function slopeOf(field: KeptField, variable: Exclude<DriveVariable, "speed">): Measured | null {
  const passes = insidePasses(field).filter(
    (pass) => pass.means.speed !== undefined && drivenAt(pass, variable) !== null,
  );
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

/** 4.5, 5.5 mph, and the speed from which bounce and skips are put down to it. */
const BAND_LIMITS = [4.5 * MPH, 5.5 * MPH, THRESHOLDS.fastKnee.value];

/** Ground inside the fields by the mean speed of its pass. */
export function speedBands(kept: readonly KeptField[]): SpeedBand[] {
  const passes = kept.flatMap(insidePasses).filter(({ means }) => means.speed !== undefined);
  const limits = [null, ...BAND_LIMITS, null];
  return limits.slice(0, -1).flatMap((from, band) => {
    const to = limits[band + 1] ?? null;
    const inside = passes.filter(
      ({ means }) => (from === null || means.speed! >= from) && (to === null || means.speed! < to),
    );
    if (inside.length === 0) return [];
    const meanOf = (variable: DriveVariable): number | null => {
      const known = inside.filter((pass) => drivenAt(pass, variable) !== null);
      if (known.length === 0) return null;
      return weightedMean(
        known.map((pass) => drivenAt(pass, variable)!),
        known.map(({ areaHa }) => areaHa),
      );
    };
    return [
      {
        from,
        to,
        areaHa: inside.reduce((sum, { areaHa }) => sum + areaHa, 0),
        passes: inside.length,
        misses: meanOf("misses"),
        multiples: meanOf("multiples"),
        noLoad: meanOf("noLoad"),
      },
    ];
  });
}
