/**
 * What a zone's counts teach about load: a posterior over trapezoids E(m) = e - lowSlope (low - m)+ - highSlope
 * (m - high)+ on a grid of nodes, and the load whose expected stand is best under it. e is free, so that only
 * contrasts within the zone count.
 */
import { cholesky, dot, solveLower } from "../numerics/cholesky.ts";
import { normalCdf, normalDensity } from "../numerics/distributions.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "../quantities/units.ts";
import { type CovarianceModel, covarianceMatrix } from "../stand-model/noise/covariance.ts";
import { LIMITS, type NormalPrior, type ResponsePrior } from "./limits.ts";
import type { GainEstimate, MarginTarget } from "./prescription.ts";

/** Counted spots of one zone. */
export interface ZoneSpots {
  /** Local metres. */
  x: Float64Array;
  y: Float64Array;
  /** Load at the spot, N, as it would be in the state of the ground the prior is for. */
  marginN: Float64Array;
  /** Stand as a share of target, other planting losses taken out. */
  response: Float64Array;
  countingVariance: Float64Array;
  patchiness: Float64Array;
  covariance: CovarianceModel;
}

/** Weighted trapezoids. `low` and `high` are the knees of the grid, N; slopes are shares per N. */
export interface Posterior {
  low: Float64Array;
  high: Float64Array;
  lowSlope: Float64Array;
  highSlope: Float64Array;
  /** Weights, sum 1, by low, high, low slope, high slope (last runs fastest). */
  weight: Float64Array;
}

/** Loads as a histogram: each load, N, and its share of the ground. */
export interface LoadShares {
  marginN: Float64Array;
  share: Float64Array;
}

const KNEES = 17;
const SLOPES = 5;
/** Reach of the grid of the knees beyond their prior middle, lb; a knee at or below no load is no knee. */
const LOW_REACH_LBF = { below: 130, above: 130 } as const;
const HIGH_REACH_LBF = { below: 150, above: 190 } as const;
const LEAST_KNEE_LBF = -20;
/** Reach of the slopes in prior SD. */
const SLOPE_REACH = 2;
/** Offsets of the field from the prior that are weighed, lb: all its knees together. */
const OFFSETS_LBF = [-100, -80, -60, -40, -20, 0, 20, 40, 60, 80, 100] as const;
/** Loads that are tried, N. */
const TRIED = Float64Array.from({ length: 321 }, (_, k) => (k + 5) * LBF);
const LEVEL = 0.9;

/** A zone's prior and, where they teach something, its spots. */
export interface ZoneToLearn {
  prior: ResponsePrior;
  spots: ZoneSpots | null;
}

/** The response of one zone by itself. */
export function learnResponse(prior: ResponsePrior, spots: ZoneSpots | null): Posterior {
  return learnResponses([{ prior, spots }])[0]!;
}

/**
 * Prior, or where spots are given the posterior, of each zone's response. The zones of a field share an offset of their
 * knees from the prior (the spring, the planter, its load sensors); it is learnt from all of them and averaged over.
 */
export function learnResponses(zones: readonly ZoneToLearn[]): Posterior[] {
  const learning = zones.map(startLearning);
  const logChance = OFFSETS_LBF.map(
    (offset) =>
      -0.5 * ((offset * LBF) / LIMITS.fieldOffset.value) ** 2 +
      learning.reduce((sum, zone) => sum + zone.logEvidence(offset * LBF), 0),
  );
  const chance = shares(Float64Array.from(logChance));
  return learning.map((zone) => zone.posterior(chance));
}

/** The grid of a zone, its likelihood, and what an offset makes of its prior. */
function startLearning({ prior, spots }: ZoneToLearn) {
  const { lowKnee, highKnee, logLowSlope, logHighSlope } = prior;
  const low = between(
    Math.max(LEAST_KNEE_LBF * LBF, lowKnee.mean - LOW_REACH_LBF.below * LBF),
    lowKnee.mean + LOW_REACH_LBF.above * LBF,
    KNEES,
  );
  const high = between(
    Math.max(0, highKnee.mean - HIGH_REACH_LBF.below * LBF),
    highKnee.mean + HIGH_REACH_LBF.above * LBF,
    KNEES,
  );
  const logLow = gridOf(logLowSlope);
  const logHigh = gridOf(logHighSlope);
  const lowSlope = logLow.map(Math.exp);
  const highSlope = logHigh.map(Math.exp);
  const seen = spots && spots.marginN.length > 1 ? whitened(spots, low, high) : null;
  // Slopes do not move with the offset: what the spots say of them is fixed node by node.
  const fixed = new Float64Array(KNEES * KNEES * SLOPES * SLOPES);
  let at = 0;
  for (let i = 0; i < KNEES; i++) {
    for (let j = 0; j < KNEES; j++) {
      for (let k = 0; k < SLOPES; k++) {
        for (let l = 0; l < SLOPES; l++) {
          const misfit = seen ? seen(i, j, lowSlope[k]!, highSlope[l]!) / (2 * LIMITS.caution.value) : 0;
          fixed[at++] = logDensity(logLow[k]!, logLowSlope) + logDensity(logHigh[l]!, logHighSlope) - misfit;
        }
      }
    }
  }
  const best = fixed.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
  for (let n = 0; n < fixed.length; n++) fixed[n] = Math.exp(fixed[n]! - best);
  /** Chance of each pair of knees under an offset: each column sums to 1, so that offsets compare fairly. */
  const knees = (offsetN: number) => ({
    byLow: shares(low.map((knee) => logDensity(knee - offsetN, lowKnee))),
    byHigh: shares(high.map((knee) => logDensity(knee - offsetN, highKnee))),
  });
  const overPairs = (offsetN: number, take: (pair: number, chance: number) => void): void => {
    const { byLow, byHigh } = knees(offsetN);
    for (let i = 0; i < KNEES; i++)
      for (let j = 0; j < KNEES; j++) take(i * KNEES + j, byLow[i]! * byHigh[j]!);
  };
  const slopes = SLOPES * SLOPES;
  const ofPair = Float64Array.from({ length: KNEES * KNEES }, (_, pair) =>
    fixed.subarray(pair * slopes, (pair + 1) * slopes).reduce((sum, value) => sum + value, 0),
  );
  const evidence = (offsetN: number): number => {
    let sum = 0;
    overPairs(offsetN, (pair, chance) => {
      sum += chance * ofPair[pair]!;
    });
    return sum;
  };
  return {
    logEvidence: (offsetN: number): number => Math.log(evidence(offsetN)),
    posterior: (chances: Float64Array): Posterior => {
      const pairs = new Float64Array(KNEES * KNEES);
      OFFSETS_LBF.forEach((offset, o) => {
        const share = chances[o]! / evidence(offset * LBF);
        overPairs(offset * LBF, (pair, chance) => {
          pairs[pair]! += share * chance;
        });
      });
      const weight = fixed.map((value, node) => value * pairs[Math.floor(node / slopes)]!);
      const total = weight.reduce((sum, value) => sum + value, 0);
      return { low, high, lowSlope, highSlope, weight: weight.map((value) => value / total) };
    },
  };
}

/** Shares from logarithms: exponentials that sum to 1. */
function shares(logs: Float64Array): Float64Array {
  const most = Math.max(...logs);
  const values = logs.map((log) => Math.exp(log - most));
  const sum = values.reduce((total, value) => total + value, 0);
  return values.map((value) => value / sum);
}

function between(first: number, last: number, count: number): Float64Array {
  return Float64Array.from({ length: count }, (_, k) => first + ((last - first) * k) / (count - 1));
}

/** Best load under the posterior with the control error built in, and the range as good within 0.3 points. */
export function bestTarget(posterior: Posterior): MarginTarget {
  const { byLow, byHigh } = marginalSlopes(posterior);
  const expected = TRIED.map(
    (target) => -dot(byLow, short(posterior.low, target)) - dot(byHigh, beyond(posterior.high, target)),
  );
  let best = 0;
  expected.forEach((value, k) => {
    if (value > expected[best]!) best = k;
  });
  const enough = expected[best]! - LIMITS.asGoodAsBest.value;
  let [first, last] = [best, best];
  while (first > 0 && expected[first - 1]! >= enough) first--;
  while (last + 1 < expected.length && expected[last + 1]! >= enough) last++;
  return { targetN: TRIED[best]!, lowN: TRIED[first]!, highN: TRIED[last]! };
}

/** Posterior mean of the stand at loads that are known, less the zone's level: 0 or below. */
export function expectedStand(posterior: Posterior, marginN: Float64Array): Float64Array {
  const { byLow, byHigh } = marginalSlopes(posterior);
  return marginN.map((load) => {
    let sum = 0;
    for (let i = 0; i < KNEES; i++) {
      sum -= byLow[i]! * Math.max(0, posterior.low[i]! - load);
      sum -= byHigh[i]! * Math.max(0, load - posterior.high[i]!);
    }
    return sum;
  });
}

/** Loads planned on some ground: one target held with the control error, N, or the loads themselves. */
export type PlannedLoads = number | LoadShares;

/** Mean of {@link gainOf} alone, which is quick to work out. */
export function meanGain(posterior: Posterior, planned: PlannedLoads, today: LoadShares): number {
  const { byLow, byHigh } = marginalSlopes(posterior);
  const { low, high } = differences(posterior, planned, today);
  return -dot(byLow, low) - dot(byHigh, high);
}

/** Expected stand at the planned loads, less that of today's: mean and 90 % interval. */
export function gainOf(posterior: Posterior, planned: PlannedLoads, today: LoadShares): GainEstimate {
  const { low: lowDifference, high: highDifference } = differences(posterior, planned, today);
  const { weight, lowSlope, highSlope } = posterior;
  const gain = new Float64Array(weight.length);
  let at = 0;
  let estimate = 0;
  for (let i = 0; i < KNEES; i++) {
    for (let j = 0; j < KNEES; j++) {
      for (let k = 0; k < SLOPES; k++) {
        for (let l = 0; l < SLOPES; l++) {
          gain[at] = -lowSlope[k]! * lowDifference[i]! - highSlope[l]! * highDifference[j]!;
          estimate += weight[at]! * gain[at]!;
          at++;
        }
      }
    }
  }
  const order = Array.from(gain.keys()).sort((a, b) => gain[a]! - gain[b]!);
  const quantile = (probability: number): number => {
    let sum = 0;
    for (const node of order) {
      sum += weight[node]!;
      if (sum >= probability) return gain[node]!;
    }
    return gain[order.at(-1)!]!;
  };
  return { estimate, low: quantile((1 - LEVEL) / 2), high: quantile((1 + LEVEL) / 2), level: LEVEL };
}

/** Sums of weight times slope, by knee. */
function marginalSlopes({ weight, lowSlope, highSlope }: Posterior) {
  const byLow = new Float64Array(KNEES);
  const byHigh = new Float64Array(KNEES);
  let at = 0;
  for (let i = 0; i < KNEES; i++) {
    for (let j = 0; j < KNEES; j++) {
      for (let k = 0; k < SLOPES; k++) {
        for (let l = 0; l < SLOPES; l++) {
          byLow[i]! += weight[at]! * lowSlope[k]!;
          byHigh[j]! += weight[at]! * highSlope[l]!;
          at++;
        }
      }
    }
  }
  return { byLow, byHigh };
}

/** Mean of (knee - load)+ for loads about the target with the control error, by knee. */
function short(knees: Float64Array, targetN: number): Float64Array {
  return knees.map((knee) => meanAbove(knee - targetN));
}

/** Mean of (load - knee)+ likewise. */
function beyond(knees: Float64Array, targetN: number): Float64Array {
  return knees.map((knee) => meanAbove(targetN - knee));
}

/** Mean of max(0, z) for z normal about `mean` with the control error as SD. */
function meanAbove(mean: number): number {
  const sd = LIMITS.controlError.value;
  return mean * normalCdf(mean / sd) + sd * normalDensity(mean / sd);
}

/** Mean of (knee - load)+ and of (load - knee)+ at the planned loads, less those of today's, by knee. */
function differences({ low, high }: Posterior, planned: PlannedLoads, today: LoadShares) {
  const held = typeof planned === "number";
  return {
    low: lessToday(held ? short(low, planned) : meanPast(low, planned, -1), low, today, -1),
    high: lessToday(held ? beyond(high, planned) : meanPast(high, planned, 1), high, today, 1),
  };
}

function lessToday(now: Float64Array, knees: Float64Array, today: LoadShares, sign: 1 | -1): Float64Array {
  const before = meanPast(knees, today, sign);
  return now.map((value, k) => value - before[k]!);
}

/** Mean of (load - knee)+ (sign 1) or (knee - load)+ (sign -1) over loads as they are, by knee. */
function meanPast(knees: Float64Array, { marginN, share }: LoadShares, sign: 1 | -1): Float64Array {
  return knees.map((knee) => {
    let mean = 0;
    for (let n = 0; n < marginN.length; n++) mean += share[n]! * Math.max(0, sign * (marginN[n]! - knee));
    return mean;
  });
}

function gridOf({ mean, sd }: NormalPrior): Float64Array {
  return between(mean - SLOPE_REACH * sd, mean + SLOPE_REACH * sd, SLOPES);
}

function logDensity(value: number, { mean, sd }: NormalPrior): number {
  return -0.5 * ((value - mean) / sd) ** 2;
}

/**
 * Residual sum r'S^-1 r, e profiled, as a function of the node: every vector is whitened by the Cholesky factor of
 * the counts' covariance and freed of the whitened level, then the sum is a quadratic form of inner products.
 */
function whitened(spots: ZoneSpots, low: Float64Array, high: Float64Array) {
  const size = spots.marginN.length;
  const factor = cholesky(
    covarianceMatrix(spots.covariance, spots.x, spots.y, spots.countingVariance, spots.patchiness),
    size,
  );
  const level = solveLower(factor, size, new Float64Array(size).fill(1));
  const norm = dot(level, level);
  const free = (vector: Float64Array): Float64Array => {
    const white = solveLower(factor, size, vector);
    const along = dot(white, level) / norm;
    return white.map((value, i) => value - along * level[i]!);
  };
  const y = free(spots.response);
  const a = Array.from(low, (knee) => free(spots.marginN.map((load) => Math.max(0, knee - load))));
  const b = Array.from(high, (knee) => free(spots.marginN.map((load) => Math.max(0, load - knee))));
  const yy = dot(y, y);
  const ya = a.map((vector) => dot(y, vector));
  const yb = b.map((vector) => dot(y, vector));
  const aa = a.map((vector) => dot(vector, vector));
  const bb = b.map((vector) => dot(vector, vector));
  const ab = a.map((one) => b.map((other) => dot(one, other)));
  return (i: number, j: number, lowSlope: number, highSlope: number): number =>
    yy +
    2 * (lowSlope * ya[i]! + highSlope * yb[j]! + lowSlope * highSlope * ab[i]![j]!) +
    lowSlope ** 2 * aa[i]! +
    highSlope ** 2 * bb[j]!;
}
