/**
 * What drives depth and load within a soil zone: speed, slope, the way of driving, the time of day, the day. All are fitted
 * together, so that a fast second day is not told twice; passes are the clusters.
 */
import { compassPoint } from "../numerics/angles.ts";
import { clusteredLeastSquares } from "../numerics/clustered-least-squares.ts";
import { standardDeviation } from "../numerics/descriptive.ts";
import { studentTQuantile } from "../numerics/distributions.ts";
import type { Passes } from "../passes/passes.ts";
import type { Field } from "../vocabulary/field.ts";
import { type Moments, momentsOf } from "./driver-moments.ts";

export interface Driver {
  variable: "seedingDepth" | "downForceMargin";
  /** Unit of the effect: mm or N. */
  unit: "mm" | "N";
  driver: "speed" | "slope" | "heading" | "time-of-day" | "date";
  /** What is set against what: "1 m/s faster", "1 point of slope more uphill", "driven north against south", "1 h later in the day", "2026-04-25 against 2026-04-24". */
  contrast: string;
  /** Change of the variable, soil zone and the other drivers held. */
  effect: number;
  low: number;
  high: number;
  level: number;
  /** Passes that it rests on. */
  passes: number;
}

const LEVEL = 0.95;
const FEWEST_PASSES = 6;
/** Least spread of speed that says anything, m/s. */
const LEAST_SPEED_SD = 0.05;
/** Least spread of the slope of travel, percent. */
const LEAST_SLOPE_SD = 0.5;
/** Least spread of the time of day, h. */
const LEAST_HOURS_SD = 0.25;
const FEWEST_A_SIDE = 3;

/** Columns of the regression, each with its name. */
interface Candidate {
  driver: Driver["driver"];
  contrast: string;
  values: Float64Array;
}

/**
 * Effects with 95 % intervals, by variable and driver; a driver that hardly varies, or that is the same as another
 * one, is left out. Passes of the end rows are left out where there are enough others. Empty without depth and load,
 * and for a depth that is only set.
 */
export function findDrivers(field: Field, passes: Passes, zoneOfRecord: Int32Array): Driver[] {
  const drivers: Driver[] = [];
  for (const variable of ["seedingDepth", "downForceMargin"] as const) {
    if (variable === "seedingDepth" && field.log.depthSource === "set") continue;
    const moments = momentsOf(field, passes, zoneOfRecord, variable);
    if (!moments) continue;
    const used = new Set(moments.pass);
    if (used.size < FEWEST_PASSES) continue;
    const candidates = candidatesOf(moments, passes);
    if (candidates.length === 0) continue;
    const fit = clusteredLeastSquares({
      y: moments.value,
      columns: candidates.map(({ values }) => values),
      weights: moments.weight,
      levelOf: moments.zone,
      levels: moments.zones,
      clusterOf: moments.pass.map((pass) => pass - 1),
      clusters: passes.passes.length,
    });
    if (!fit) continue;
    const reach = studentTQuantile(0.5 + LEVEL / 2, fit.clusters - 1);
    candidates.forEach(({ driver, contrast }, k) => {
      const effect = fit.coefficients[k]!;
      if (Number.isNaN(effect)) return;
      const half = reach * fit.standardErrors[k]!;
      drivers.push({
        variable,
        unit: variable === "seedingDepth" ? "mm" : "N",
        driver,
        contrast,
        effect,
        low: effect - half,
        high: effect + half,
        level: LEVEL,
        passes: used.size,
      });
    });
  }
  return drivers;
}

function candidatesOf(moments: Moments, passes: Passes): Candidate[] {
  const candidates: Candidate[] = [];
  if (moments.speed && standardDeviation(moments.speed) >= LEAST_SPEED_SD) {
    candidates.push({ driver: "speed", contrast: "1 m/s faster", values: moments.speed });
  }
  if (moments.slope && standardDeviation(moments.slope) >= LEAST_SLOPE_SD) {
    candidates.push({ driver: "slope", contrast: "1 point of slope more uphill", values: moments.slope });
  }
  const passesWhere = (chosen: (k: number) => boolean): number =>
    new Set(moments.pass.filter((_, k) => chosen(k))).size;
  const { axisDeg, side } = waysOf(moments.headingDeg);
  if (
    passesWhere((k) => side[k] === 0.5) >= FEWEST_A_SIDE &&
    passesWhere((k) => side[k] === -0.5) >= FEWEST_A_SIDE
  ) {
    const contrast = `driven ${compassPoint(axisDeg)} against ${compassPoint(axisDeg + 180)}`;
    candidates.push({ driver: "heading", contrast, values: side });
  }
  if (moments.hour && standardDeviation(moments.hour) >= LEAST_HOURS_SD) {
    candidates.push({ driver: "time-of-day", contrast: "1 h later in the day", values: moments.hour });
  }
  const dateOf = (k: number): string | null => passes.passes[moments.pass[k]! - 1]!.date;
  const dates = [...new Set(Array.from(moments.pass, (_, k) => dateOf(k)))]
    .filter((date) => date !== null)
    .filter((date) => passesWhere((k) => dateOf(k) === date) >= FEWEST_A_SIDE)
    .sort();
  for (const date of dates.slice(1)) {
    const values = Float64Array.from(moments.pass, (_, k) => (dateOf(k) === date ? 1 : 0));
    candidates.push({ driver: "date", contrast: `${date} against ${dates[0]}`, values });
  }
  return candidates;
}

/** Within this of the axis a moment counts as driven along it, degrees. */
const ALONG_DEG = 30;

/** The axis of the work (mean of the doubled angles), and +1/2 along it, -1/2 against it, 0 across. */
function waysOf(headingDeg: Float64Array): { axisDeg: number; side: Float64Array } {
  let sine = 0;
  let cosine = 0;
  for (const heading of headingDeg) {
    sine += Math.sin((heading * Math.PI) / 90);
    cosine += Math.cos((heading * Math.PI) / 90);
  }
  const half = ((Math.atan2(sine, cosine) * 90) / Math.PI + 360) % 180;
  // Named by the end that points north, or east on an axis that runs east and west.
  const axisDeg = half > 135 ? half + 180 : half;
  const least = Math.cos((ALONG_DEG * Math.PI) / 180);
  const side = headingDeg.map((heading) => {
    const along = Math.cos(((heading - axisDeg) * Math.PI) / 180);
    return along >= least ? 0.5 : along <= -least ? -0.5 : 0;
  });
  return { axisDeg, side };
}
