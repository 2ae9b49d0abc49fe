/** How it was driven over a season: who drove faster than the others, and what a faster pass did within each field. */
import { THRESHOLDS } from "../compare/thresholds.ts";
import { mean, weightedMean } from "../numerics/descriptive.ts";
import { studentTCdf, studentTQuantile } from "../numerics/distributions.ts";
import type { Estimate } from "../numerics/estimate.ts";
import { combineEffects } from "../numerics/random-effects.ts";
import { welchDifference } from "../numerics/welch.ts";
import {
  DRIVE_VARIABLES,
  type DriveVariable,
  SLOPE_VARIABLES,
  type SlopeVariable,
  SPEED_LIMITS,
} from "./field/field-driving.ts";
import { UNIT_BANDS } from "./field/unit-variables.ts";
import type { KeptField } from "./field-result.ts";

/** Fields of one kind against all others. */
interface GroupEffect {
  variable: DriveVariable;
  fields: number;
  otherFields: number;
  /** Mean over these fields, and how far it lies above that of the others; m/s or share. */
  mean: number;
  difference: Estimate;
  pValue: number;
  qValue: number | null;
  /** True where the difference is to the worse and more than matters. */
  matters: boolean;
}

export interface OperatorEffect extends GroupEffect {
  operator: string;
}

/** Fields begun on one day. */
export interface DayEffect extends GroupEffect {
  /** ISO date. */
  day: string;
}

/** Change with speed within the fields, for each m/s. */
export interface SpeedSlope {
  variable: SlopeVariable;
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
/** Fewer fields of one driver or fields in a slope say nothing (our judgement). */
const FEWEST_FIELDS = 3;
/** Differences between drivers that matter: half of what matters on a unit, since all units have them (our judgement). */
const MATTERS: Record<SlopeVariable, number> = {
  misses: UNIT_BANDS.misses.matters / 2,
  multiples: UNIT_BANDS.multiples.matters / 2,
  noLoad: THRESHOLDS.noLoadShare.value / 2,
};

/** Each operator against all others. */
export function operatorEffects(kept: readonly KeptField[]): OperatorEffect[] {
  return groupEffects(kept, ({ operator }) => operator).map(({ group, ...effect }) => ({
    operator: group,
    ...effect,
  }));
}

/** Each day of planting against all others. */
export function dayEffects(kept: readonly KeptField[]): DayEffect[] {
  return groupEffects(kept, ({ digest }) => digest.planted).map(({ group, ...effect }) => ({
    day: group,
    ...effect,
  }));
}

/** Each group against all others, the fields as replicates (Welch's interval); fields of no group are left out. */
function groupEffects(
  kept: readonly KeptField[],
  groupOf: (field: KeptField) => string | null,
): (GroupEffect & { group: string })[] {
  const known = kept.flatMap((field) => {
    const group = groupOf(field);
    return group === null ? [] : [{ group, means: field.digest.driving.means }];
  });
  const groups = [...new Set(known.map(({ group }) => group))].sort();
  return DRIVE_VARIABLES.flatMap((variable) =>
    groups.flatMap((group) => {
      const valuesOf = (isOwn: boolean): number[] =>
        known
          .filter((one) => (one.group === group) === isOwn)
          .map(({ means }) => means[variable])
          .filter((value) => value !== null);
      const [own, others] = [valuesOf(true), valuesOf(false)];
      if (own.length < FEWEST_FIELDS || others.length < FEWEST_FIELDS) return [];
      const { difference, low, high, df } = welchDifference(others, own, LEVEL);
      const half = (high - low) / 2;
      const error = half / studentTQuantile(0.5 + LEVEL / 2, df);
      const least = variable === "speed" ? THRESHOLDS.fastShare.value * mean(others) : MATTERS[variable];
      return [
        {
          group,
          variable,
          fields: own.length,
          otherFields: others.length,
          mean: mean(own),
          difference: { estimate: difference, low, high, level: LEVEL },
          pValue: error > 0 ? 2 * studentTCdf(-Math.abs(difference) / error, df) : 1,
          qValue: null,
          matters: difference >= least,
        },
      ];
    }),
  );
}

/** Within each field the passes' slope on their speed, then over the fields as a random effect. */
export function speedSlopes(kept: readonly KeptField[]): SpeedSlope[] {
  return SLOPE_VARIABLES.flatMap((variable) => {
    const slopes = kept
      .map(({ digest }) => digest.driving.slopes[variable])
      .filter((slope) => slope !== null);
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

/** Ground inside the fields by the mean speed of its pass. */
export function speedBands(kept: readonly KeptField[]): SpeedBand[] {
  return SPEED_LIMITS.slice(0, -1).flatMap((from, band) => {
    const sums = kept.flatMap(({ digest }) => digest.driving.bands).filter((one) => one.band === band);
    if (sums.length === 0) return [];
    const overFields = (variable: SlopeVariable): number | null => {
      const known = sums.map((one) => one.known[variable]).filter((one) => one !== null);
      if (known.length === 0) return null;
      return weightedMean(
        known.map((one) => one.mean),
        known.map(({ areaHa }) => areaHa),
      );
    };
    return [
      {
        from,
        to: SPEED_LIMITS[band + 1] ?? null,
        areaHa: sums.reduce((sum, { areaHa }) => sum + areaHa, 0),
        passes: sums.reduce((sum, { passes }) => sum + passes, 0),
        misses: overFields("misses"),
        multiples: overFields("multiples"),
        noLoad: overFields("noLoad"),
      },
    ];
  });
}
