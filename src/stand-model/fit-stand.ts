/**
 * The one model of the counts: level, soil zones, contrasts, planting factors, row units and unlisted places together, with
 * the field's own patchiness as noise. Fitted twice: a real place makes the noise look larger than it is, so the noise is
 * estimated again from what the first look leaves.
 */
import type { PredictedLoss } from "../cells/predicted-loss.ts";
import { dot } from "../numerics/cholesky.ts";
import { median } from "../numerics/descriptive.ts";
import { extendBasis } from "../numerics/least-squares.ts";
import { hashNumbers } from "../numerics/random.ts";
import type { Whitening } from "../numerics/whitening.ts";
import { layOutPasses } from "../places/pass-layout.ts";
import { type ContrastContext, contrastTerms } from "./contrast-terms.ts";
import { factorTerms } from "./factor-terms.ts";
import { overAllPoints, overGround } from "./ground-shares.ts";
import type { CovarianceModel } from "./noise/covariance.ts";
import { fitStandNoise } from "./noise/noise-fit.ts";
import { fitStandModel, type StandModel } from "./noise/noise-of-stand.ts";
import { type Route, routeOf } from "./noise/route.ts";
import { type Draw, type SamplerSettings, sampleTerms } from "./sampler.ts";
import type { Column, Term } from "./terms.ts";
import { type PlaceShape, placeShapes, placeTerms } from "./unlisted-terms.ts";
import { gramOf, whiten, whitenedLoss } from "./whitened.ts";

export interface StandFitInput extends ContrastContext {
  swathWidthM: number;
  /** Loss by the published curves, the field's usual taken off, by cell. */
  losses: PredictedLoss;
  /** Row units and sets that depart in the log. */
  rowTerms: readonly Term[];
  /** Stand to be expected where nothing is wrong, share of target. */
  expectedLevel: number;
  /** How the noise is taken out of the columns. */
  route: Route;
}

export interface StandFit {
  terms: Term[];
  draws: Draw[];
  /** Distinct columns of the options, in the order of `columnOf`. */
  columns: Column[];
  columnOf: (term: number, option: number) => number;
  /** Inner products of the whitened columns, and with the whitened response. */
  gram: Float64Array;
  right: Float64Array;
  whitenedColumns: Float64Array[];
  whitenedResponse: Float64Array;
  noise: Whitening;
  model: StandModel;
}

const LOOKS = [
  { chains: 1, burnIn: 20, kept: 50 },
  { chains: 3, burnIn: 50, kept: 200 },
] as const;
/** With many points the draws are the cheapest part, and their chance should lie well below what the counts leave open. */
const LONG_LOOKS = [
  { chains: 2, burnIn: 50, kept: 400 },
  { chains: 3, burnIn: 100, kept: 700 },
] as const;
/** Shapes kept for the sampler, by their score against what one of several residuals leaves. */
const KEPT_SHAPES = 150;
/** Patchiness of the stand that a sound field reaches, SD as share of stand, and its range, m (our judgement). */
export const ORDINARY_SD = { spatial: 0.028, nugget: 0.025 } as const;
export const ORDINARY_RANGE_M = 50;

/** Fits the model. */
export function fitStand(input: StandFitInput): StandFit {
  const { points, shares, cells, losses } = input;
  const spotLosses: Record<string, Float64Array> = {};
  for (const [factor, loss] of Object.entries(losses)) {
    const values = overGround(shares, loss);
    if (values.some((value) => value > 0)) spotLosses[factor] = values;
  }
  const first = fitStandModel({
    x: points.x,
    y: points.y,
    response: points.response,
    zone: points.zone,
    losses: spotLosses,
    countingVariance: points.countingVariance,
    route: input.route,
  });
  const shapes = placeShapes(cells, layOutPasses(cells, input.swathWidthM), shares, points);
  const fixed = [
    ...contrastTerms(input),
    ...factorTerms(input.field, input.passes, cells, shares, losses),
    ...input.rowTerms,
  ];
  const seed = hashNumbers(points.response) % 1_000_003;
  const look = (
    covariance: CovarianceModel,
    patchiness: Float64Array,
    settings: Omit<SamplerSettings, "seed">,
    round: number,
  ): StandFit => {
    const { noise, response } = whiten(points, covariance, patchiness, input.expectedLevel, input.route);
    const kept = chosenShapes(shapes, noise, response, fixed);
    const terms = [...fixed, ...placeTerms(kept, shapes, cells.count, points.count)];
    return {
      ...sampled(terms, noise, response, { ...settings, seed: seed + round }),
      model: { ...first, covariance, patchiness },
    };
  };
  const [firstLook, secondLook] = routeOf(points.count) === "exact" ? LOOKS : LONG_LOOKS;
  const ones = new Float64Array(points.count).fill(1);
  const glimpse = look(ordinaryNoise(first.covariance), ones, firstLook, 0);
  const seen = { ...points, ...residualOf(glimpse, points.response, input.expectedLevel) };
  const { covariance, patchinessAt } = fitStandNoise(seen, first.covariance);
  return look(covariance, patchinessAt(points), secondLook, 1);
}

/** Noise no larger than fields have it: a large place makes what is left of a plain fit look patchier than the ground is. */
function ordinaryNoise({ spatialVariance, nuggetVariance, rangeM }: CovarianceModel): CovarianceModel {
  return {
    spatialVariance: Math.min(spatialVariance, ORDINARY_SD.spatial ** 2),
    nuggetVariance: Math.min(nuggetVariance, ORDINARY_SD.nugget ** 2),
    rangeM: Math.min(rangeM, ORDINARY_RANGE_M),
  };
}

function sampled(
  terms: Term[],
  noise: Whitening,
  response: Float64Array,
  settings: SamplerSettings,
): Omit<StandFit, "model"> {
  const index = new Map<Column, number>();
  const columns: Column[] = [];
  for (const { options } of terms)
    for (const { column } of options) if (!index.has(column)) index.set(column, columns.push(column) - 1);
  const whitenedColumns = columns.map(({ points }) => whitenedLoss(noise, points));
  const gram = gramOf(whitenedColumns);
  const right = Float64Array.from(whitenedColumns, (column) => dot(column, response));
  // Slots that share their options share the sampler's too.
  const prepared = new Map<
    Term["options"],
    { column: number; mean: number; variance: number; logPrior: number }[]
  >();
  const samplerTerms = terms.map(({ options, inclusion }) => {
    const own =
      prepared.get(options) ??
      options.map(({ column, mean, variance, weight }) => ({
        column: index.get(column)!,
        mean,
        variance,
        logPrior: Math.log(inclusion * weight),
      }));
    prepared.set(options, own);
    return { options: own, logOff: Math.log(1 - inclusion) };
  });
  return {
    terms,
    draws: sampleTerms({ gram, size: columns.length, right, terms: samplerTerms }, settings),
    columns,
    columnOf: (term, option) => samplerTerms[term]!.options[option]!.column,
    gram,
    right,
    whitenedColumns,
    whitenedResponse: response,
    noise,
  };
}

/** Shapes that a first, rough score leaves for the exact one, as a multiple of those kept. */
const ROUGH_SHARE = 4;

/**
 * The shapes that score best against the response, and against what zones and planting leave of it. The exact score needs each
 * shape whitened; a rough one, by the sum of the precision over the shape as if its points were independent, chooses those first.
 */
function chosenShapes(
  shapes: readonly PlaceShape[],
  noise: Whitening,
  response: Float64Array,
  fixed: readonly Term[],
): PlaceShape[] {
  const of = (...kinds: Term["kind"][]): Term[] => fixed.filter(({ kind }) => kinds.includes(kind));
  const residuals = [
    response,
    leftBy(of("field"), noise, response),
    leftBy(of("factor"), noise, response),
    leftBy(of("field", "soil-zone", "planting-day", "seed-lot"), noise, response),
    leftBy(of("field", "factor", "row-unit"), noise, response),
  ];
  const best = (candidates: readonly number[], count: number, scores: Float64Array): number[] =>
    [...candidates].sort((a, b) => scores[b]! - scores[a]! || a - b).slice(0, count);
  const size = response.length;
  const pulls = residuals.map((residual) => noise.pull(residual));
  const rough = Float64Array.from(shapes, ({ on: { point, share } }) => {
    let squares = 0;
    for (const value of share) squares += value ** 2;
    const pulled = (pull: Float64Array): number => {
      let sum = 0;
      for (let k = 0; k < point.length; k++) sum += share[k]! * pull[point[k]!]!;
      return sum;
    };
    return Math.max(...pulls.map((pull) => -pulled(pull) / Math.sqrt(squares)));
  });
  const likely = best([...shapes.keys()], ROUGH_SHARE * KEPT_SHAPES, rough);
  const exact = new Float64Array(shapes.length).fill(Number.NEGATIVE_INFINITY);
  for (const k of likely) {
    const column = whitenedLoss(noise, overAllPoints(shapes[k]!.on, size));
    const length = Math.sqrt(dot(column, column)) || 1;
    exact[k] = Math.max(...residuals.map((residual) => dot(column, residual) / length));
  }
  return best(likely, KEPT_SHAPES, exact)
    .sort((a, b) => a - b)
    .map((k) => shapes[k]!);
}

/** What some terms leave of the whitened response when each takes what it can. */
function leftBy(chosen: readonly Term[], noise: Whitening, response: Float64Array): Float64Array {
  const basis: Float64Array[] = [];
  const rest = Float64Array.from(response);
  for (const { options } of chosen) {
    if (!extendBasis(basis, whitenedLoss(noise, options[0]!.column.points))) continue;
    const unit = basis.at(-1)!;
    const effect = dot(unit, rest);
    // A term may only lower the stand.
    if (effect <= 0) continue;
    for (let i = 0; i < rest.length; i++) rest[i]! -= effect * unit[i]!;
  }
  return rest;
}

/** The mean loss by all terms over the draws, and the response less it and the level. */
function residualOf(
  fit: StandFit,
  response: Float64Array,
  level: number,
): { residual: Float64Array; loss: Float64Array } {
  const weight = new Float64Array(fit.columns.length);
  for (const { terms, options, effects } of fit.draws)
    terms.forEach((term, a) => {
      weight[fit.columnOf(term, options[a]!)]! += effects[a]! / fit.draws.length;
    });
  const loss = new Float64Array(response.length);
  fit.columns.forEach(({ points }, c) => {
    if (weight[c] === 0) return;
    for (let i = 0; i < loss.length; i++) loss[i]! += weight[c]! * points[i]!;
  });
  const residual = response.map((value, i) => value - level + loss[i]!);
  const middle = median(residual);
  return { residual: residual.map((value) => value - middle), loss };
}
