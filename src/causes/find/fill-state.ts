/**
 * Does the difference between a section and the rest of the bar go with how full the planter is? Central tanks move
 * weight between the centre and the wings as they empty; hoppers on the units get lighter alike.
 */
import { mean, sumOfSquaredDeviations } from "../../numerics/descriptive.ts";
import { studentTQuantile } from "../../numerics/distributions.ts";
import type { Passes } from "../../passes/passes.ts";
import { SQUARE_METRES_PER_HECTARE } from "../../quantities/units.ts";
import type { Field } from "../../vocabulary/field.ts";
import type { RowUnitCase } from "./find-row-units.ts";

/** How the difference changes with the seed dropped since the last stop, with a 95 % interval. */
export interface FillEffect {
  variable: "downForceMargin" | "seedingDepth";
  /** Inside unit (N, mm) per million seeds dropped. */
  perMillionSeeds: number;
  low: number;
  high: number;
  /** Share of the spread between passes that it explains, 0..1. */
  explained: number;
  stops: number;
}

/** A stop longer than this may be one to fill; a turn takes less than a minute (our judgement). */
const FILL_STOP_S = 300;
const FEWEST_PASSES = 8;
/** Share of the spread between passes from which the fill state is named (our judgement). */
const LEAST_EXPLAINED = 0.3;

/**
 * Regression of the difference between the case's rows and the others, pass by pass, on the seed that the bar has
 * dropped since the last long stop. Null without clock times or rate, with no stop, too few passes, an interval
 * that holds 0, or too little explained.
 */
export function fillEffect(field: Field, passes: Passes, rowCase: RowUnitCase): FillEffect | null {
  const { variable } = rowCase.main;
  if (rowCase.set?.kind !== "wing") return null;
  if (variable !== "downForceMargin" && variable !== "seedingDepth") return null;
  const since = seedSinceStop(field, passes);
  if (!since || since.stops === 0) return null;
  const rows = new Set(rowCase.rowUnits);
  const values = field.log.values[variable]!;
  const count = passes.passes.length;
  const sums = { inside: new Float64Array(count), outside: new Float64Array(count) };
  const counts = { inside: new Int32Array(count), outside: new Int32Array(count) };
  const dropped = new Float64Array(count);
  for (let i = 0; i < values.length; i++) {
    const pass = passes.passOf[i]! - 1;
    if (pass < 0 || Number.isNaN(values[i]!)) continue;
    const side = rows.has(passes.rowUnitOf[i]!) ? "inside" : "outside";
    sums[side][pass]! += values[i]!;
    counts[side][pass]!++;
    dropped[pass]! += since.millionSeeds[passes.momentOf[i]!]!;
  }
  const used = [...dropped.keys()].filter((pass) => counts.inside[pass]! > 0 && counts.outside[pass]! > 0);
  if (used.length < FEWEST_PASSES) return null;
  const x = used.map((pass) => dropped[pass]! / (counts.inside[pass]! + counts.outside[pass]!));
  const y = used.map(
    (pass) => sums.inside[pass]! / counts.inside[pass]! - sums.outside[pass]! / counts.outside[pass]!,
  );
  const line = straightLine(x, y);
  if (!line || line.explained < LEAST_EXPLAINED) return null;
  const half = studentTQuantile(0.975, used.length - 2) * line.standardError;
  if (Math.abs(line.slope) <= half) return null;
  return {
    variable,
    perMillionSeeds: line.slope,
    low: line.slope - half,
    high: line.slope + half,
    explained: line.explained,
    stops: since.stops,
  };
}

/** Million seeds the bar has dropped since the last long stop, by moment. */
function seedSinceStop(field: Field, passes: Passes): { millionSeeds: Float64Array; stops: number } | null {
  const { time, population } = field.log.values;
  if (!time || !population || !field.log.hasClockTime) return null;
  const seeds = new Float64Array(passes.momentCount);
  const clock = new Float64Array(passes.momentCount).fill(Number.NaN);
  for (let i = 0; i < time.length; i++) {
    const at = passes.momentOf[i]!;
    clock[at] = time[i]!;
    if (passes.passOf[i] === 0 || Number.isNaN(population[i]!)) continue;
    seeds[at]! += (population[i]! * passes.distanceM[i]! * passes.widthM[i]!) / SQUARE_METRES_PER_HECTARE;
  }
  let stops = 0;
  let dropped = 0;
  let last = Number.NaN;
  const millionSeeds = Float64Array.from(seeds, (own, at) => {
    if (clock[at]! - last > FILL_STOP_S) {
      stops++;
      dropped = 0;
    }
    if (!Number.isNaN(clock[at]!)) last = clock[at]!;
    dropped += own / 1e6;
    return dropped;
  });
  return { millionSeeds, stops };
}

/** Least squares of y on x: slope with its standard error, and the share explained; null without spread. */
function straightLine(
  x: readonly number[],
  y: readonly number[],
): { slope: number; standardError: number; explained: number } | null {
  const [middleX, middleY] = [mean(x), mean(y)];
  const spreadX = sumOfSquaredDeviations(x);
  const spreadY = sumOfSquaredDeviations(y);
  if (!(spreadX > 0) || !(spreadY > 0)) return null;
  const products = x.reduce((sum, value, k) => sum + (value - middleX) * (y[k]! - middleY), 0);
  const slope = products / spreadX;
  const left = Math.max(0, spreadY - slope * products);
  return {
    slope,
    standardError: Math.sqrt(left / (x.length - 2) / spreadX),
    explained: 1 - left / spreadY,
  };
}
