/**
 * Row units that plant otherwise than the rest of the bar, over a run of passes. Each unit is compared with
 * the median of the whole bar at the same moment, so that soil, speed and pass fall out; a unit is the same
 * piece of iron in every pass, whichever way the bar is turned. Runs of passes are scanned and the largest
 * chance score over all units, variables and runs sets the limit (maximum statistic: Westfall & Young 1993).
 *
 * Units differ a little on a healthy bar (about 1 mm of depth, 27 N of load: our judgement), which is real and
 * harmless: hence a dead band. A unit is called when it departs from the bar by more than such a spread
 * explains, or when it departs from its own usual place for a while. How far a sound unit may stand off all along is not
 * known beyond its usual spread, so one that departs on all its passes has to depart further than one that changed.
 */
import { MAD_TO_SD, median } from "../numerics/descriptive.ts";
import type { Passes } from "../passes/passes.ts";
import type { Field } from "../vocabulary/field.ts";
import type { Run } from "./interval-scan.ts";
import { largestRunScores, strongestRun } from "./interval-scan.ts";
import { BANDS, type Band, SMALLEST_NOISE } from "./row-unit-bands.ts";
import type { RowUnitSeries, RowUnitVariable } from "./row-unit-series.ts";
import { groupByMoment, ROW_UNIT_VARIABLES, rowUnitSeries } from "./row-unit-series.ts";

export interface RowUnitFault {
  /** 1..n from the left in the direction of travel. */
  rowUnit: number;
  variable: RowUnitVariable;
  /** Our numbers of the passes of the run where the unit was measured, ascending, at least two. */
  passes: number[];
  /** Mean departure from the bar's median over the run: mm, N, share; population as a share of the bar's median. */
  shift: number;
  /** Score beyond the dead band; sign of the shift. */
  z: number;
  /** Chance of a score this large anywhere on a bar with nothing wrong (no less than 1 / 201). */
  pValue: number;
  /** Passes of the run as a share of those where the unit was measured. */
  shareOfPasses: number;
}

/** The series of one variable on every row unit. */
export interface JudgedVariable {
  variable: RowUnitVariable;
  series: RowUnitSeries[];
}

/** Chance of one false alarm, halved because each series is scanned twice (bar and own usual place). */
const ALPHA = 0.05 / 2;
/** A run away from the unit's own usual place has to lie off the bar as well, on the same side, by this share. */
const ALSO_OFF_BAR = 0.6;
/** A unit that is this much noisier than the usual unit is judged by its own noise. */
const NOISY_UNIT = 1.5;
const WILDEST = 8;

/**
 * Departures of every row unit by variable. Empty when the log has no row-unit records. A depth that is only a
 * setting is not judged.
 */
export function judgedSeries(field: Field, passes: Passes): JudgedVariable[] {
  if (passes.rowUnitCount === 0) return [];
  const moments = groupByMoment(field, passes);
  return ROW_UNIT_VARIABLES.flatMap((variable) => {
    const values = field.log.values[variable];
    if (!values || (variable === "seedingDepth" && field.log.depthSource === "set")) return [];
    const band = BANDS[variable];
    return [
      { variable, series: rowUnitSeries(values, moments, passes, WILDEST * band.matters, band.relative) },
    ];
  });
}

/**
 * Finds the departing runs of every row unit, by row unit, variable and place. Empty when the log has no
 * row-unit records, or fewer than four units to compare.
 * @param variables departures to scan; left out, those of the log as they stand ({@link judgedSeries})
 */
export function findRowUnitFaults(
  field: Field,
  passes: Passes,
  variables: readonly JudgedVariable[] = judgedSeries(field, passes),
): RowUnitFault[] {
  const judged = variables.map(({ variable, series }) => {
    const band = BANDS[variable];
    return { variable, band, series, noise: noiseOf(series, band) };
  });
  const all = judged.flatMap(({ series }) => series);
  if (all.length === 0) return [];
  const longest = Math.max(...all.map((series) => series.passes.length));
  const chance = largestRunScores(all.length, longest);
  const critical = chance[Math.min(chance.length - 1, Math.ceil(chance.length * (1 - ALPHA)) - 1)]!;
  const faults: RowUnitFault[] = [];
  for (const { variable, band, series, noise } of judged) {
    for (const unit of series) {
      for (const run of departingRuns(unit, band, Math.max(noise.usual, noise.own(unit)), critical)) {
        const above = chance.reduce((count, score) => count + (score >= run.score ? 1 : 0), 0);
        faults.push({
          rowUnit: unit.rowUnit,
          variable,
          passes: unit.passes.slice(run.first, run.last + 1),
          shift: run.mean,
          z: Math.sign(run.mean) * run.score,
          pValue: Math.min(1, (2 * (1 + above)) / (1 + chance.length)),
          shareOfPasses: (run.last - run.first + 1) / unit.passes.length,
        });
      }
    }
  }
  return faults.sort((a, b) => a.rowUnit - b.rowUnit || a.passes[0]! - b.passes[0]!);
}

/** The strongest run that is called, and what is called on either side of it. */
function departingRuns(unit: RowUnitSeries, band: Band, scale: number, critical: number): Run[] {
  const usual = median(unit.departure);
  const fromItself = unit.departure.map((value) => value - usual);
  const deadBand = band.matters / 2;
  const search = (from: number, to: number): Run[] => {
    const offBar = strongestRun(unit.departure, unit.weight, scale, deadBand, from, to);
    const offSelf = strongestRun(fromItself, unit.weight, scale, deadBand, from, to);
    const called: Run[] = [];
    if (
      offBar &&
      offBar.score > critical &&
      Math.abs(offBar.mean) > leastFromBar(unit, offBar, band, scale, critical)
    ) {
      called.push(offBar);
    }
    if (offSelf && offSelf.score > critical && Math.abs(offSelf.mean) > band.fromItself) {
      const mean = offSelf.mean + usual;
      const sameSide = mean * Math.sign(offSelf.mean);
      if (sameSide > ALSO_OFF_BAR * band.fromItself) called.push({ ...offSelf, mean });
    }
    const [best] = called.sort((a, b) => b.score - a.score);
    if (!best) return [];
    return [...search(from, best.first), best, ...search(best.last + 1, to)];
  };
  return search(0, unit.departure.length);
}

/** Fewer passes outside a run than this do not show that it began or ended. */
const FEWEST_OUTSIDE = 3;

/** How far a run has to lie off the bar: less where the unit's other passes lie elsewhere, beyond chance. */
function leastFromBar(unit: RowUnitSeries, run: Run, band: Band, scale: number, critical: number): number {
  const { departure, weight } = unit;
  const total = { inside: 0, outside: 0, sum: 0 };
  let passes = 0;
  departure.forEach((value, k) => {
    if (k >= run.first && k <= run.last) {
      total.inside += weight[k]!;
      return;
    }
    passes++;
    total.outside += weight[k]!;
    total.sum += weight[k]! * value;
  });
  if (passes < FEWEST_OUTSIDE) return band.allAlong;
  const change = Math.abs(run.mean - total.sum / total.outside);
  const spread = scale * Math.sqrt(1 / total.inside + 1 / total.outside);
  const beganOrEnded = change > band.fromItself && (change - band.matters / 2) / spread > critical;
  return beganOrEnded ? band.fromBar : band.allAlong;
}

/** SD of one pass's departure from first differences between passes, over all units and of one unit. */
function noiseOf(
  series: readonly RowUnitSeries[],
  band: Band,
): { usual: number; own: (unit: RowUnitSeries) => number } {
  const steps = series.map((unit) => {
    const size = new Float64Array(unit.departure.length - 1);
    for (let k = 0; k < size.length; k++) {
      const spread = Math.sqrt(1 / unit.weight[k]! + 1 / unit.weight[k + 1]!);
      size[k] = Math.abs(unit.departure[k + 1]! - unit.departure[k]!) / spread;
    }
    return size;
  });
  const scaleOf = (sizes: Float64Array): number => MAD_TO_SD * median(sizes);
  const pooled = Float64Array.from(steps.flatMap((sizes) => [...sizes]));
  const usual = Math.max(SMALLEST_NOISE * band.matters, scaleOf(pooled) || 0);
  return {
    usual,
    own: (unit) => {
      const own = scaleOf(steps[series.indexOf(unit)]!);
      return own > NOISY_UNIT * usual ? own : usual;
    },
  };
}
