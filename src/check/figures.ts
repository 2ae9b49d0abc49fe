/** The figures of the first passes: load, depth and its spread, metering, rate, speed. */
import { crawlingRecords } from "../cells/predicted-loss.ts";
import { halfSquaredSteps } from "../compare/depth-spread.ts";
import { loggingIntervalM, noLoadShareLimit, unevenKneeMm } from "../compare/logging-interval.ts";
import { stretchesOf, usualMean } from "../compare/stretches.ts";
import { plantedRecords } from "../compare/tables/planted-records.ts";
import { THRESHOLDS } from "../compare/thresholds.ts";
import { isSensedDepth } from "../field/depth-source.ts";
import { mean } from "../numerics/descriptive.ts";
import { quantilesInPlace } from "../numerics/quantile.ts";
import type { Passes } from "../passes/passes.ts";
import type { Field } from "../vocabulary/field.ts";
import { LOG_VARIABLES } from "../vocabulary/variables.ts";
import { aimOf } from "./aims.ts";
import { CHECK_VARIABLES, type CheckFigure, type CheckVariable, type LastYear } from "./check-result.ts";

/** Share of the time that a reading speaks of gauge wheels without load, 0..1. */
const WITHOUT_LOAD: Partial<Record<CheckVariable, (value: number) => number>> = {
  downForceMargin: (value) => (value <= THRESHOLDS.noLoad.value ? 1 : 0),
  groundContact: (value) => Math.max(0, 1 - value),
};

/**
 * Figures of every variable that the log has. Records on a pass with the planter down count, starts and stops aside.
 * A figure is of the whole of what was seen; its shares outside the aim are those of the usual stretch of ground.
 */
export function checkFigures(field: Field, passes: Passes, lastYear: LastYear | null): CheckFigure[] {
  const { values } = field.log;
  const planted = plantedRecords(field);
  const crawling = crawlingRecords(field, passes);
  const counts = (record: number): boolean =>
    passes.passOf[record]! > 0 && planted[record] === 1 && crawling[record] === 0;
  const stretches = stretchesOf(passes);
  const intervalM = loggingIntervalM(passes);
  return CHECK_VARIABLES.flatMap((variable): CheckFigure[] => {
    const column = values[variable];
    if (!column) return [];
    const present = column.filter((value, record) => counts(record) && !Number.isNaN(value));
    if (present.length === 0) return [];
    const average = mean(present);
    const [p10, p90] = quantilesInPlace(present.slice(), [0.1, 0.9]) as [number, number];
    const aim = aimOf(field, variable);
    const usual = (of: (value: number, record: number) => number): number | null =>
      orNull(
        usualMean((record) => {
          const value = column[record]!;
          return counts(record) && !Number.isNaN(value) ? of(value, record) : Number.NaN;
        }, stretches),
      );
    const withoutLoad = WITHOUT_LOAD[variable];
    const spread = variable === "seedingDepth" && isSensedDepth(field.log.depthSource);
    return [
      {
        variable,
        unit: LOG_VARIABLES[variable].unit,
        readings: present.length,
        mean: average,
        usual: usual((value) => value),
        p10,
        p90,
        aim: aim?.aim ?? null,
        shareBelow: aim && usual((value, record) => (value < aim.low[record * aim.step]! ? 1 : 0)),
        shareAbove: aim && usual((value, record) => (value > aim.high[record * aim.step]! ? 1 : 0)),
        spreadAlongRow: spread ? usualSpread(column, passes, counts, stretches) : null,
        spreadLimit: spread ? unevenKneeMm(intervalM) : null,
        noLoadShare: withoutLoad ? mean(present.map(withoutLoad)) : null,
        usualNoLoadShare: withoutLoad ? usual(withoutLoad) : null,
        noLoadLimit: withoutLoad ? noLoadShareLimit(intervalM) : null,
        lastYear: lastYear?.means[variable] ?? null,
      },
    ];
  });
}

function usualSpread(
  depth: Float64Array,
  passes: Passes,
  counts: (record: number) => boolean,
  stretches: ReturnType<typeof stretchesOf>,
): number | null {
  const halfSquares = halfSquaredSteps(depth, passes);
  return orNull(
    Math.sqrt(usualMean((record) => (counts(record) ? halfSquares[record]! : Number.NaN), stretches)),
  );
}

function orNull(value: number): number | null {
  return Number.isNaN(value) ? null : value;
}
