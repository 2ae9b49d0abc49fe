/**
 * Zone levels of the stand that a planting fault does not drag down. In
 *   y = X b - G theta + e,  e ~ N(0, S),
 * X holds the zone dummies (b flat) and G the loss the log predicts by factor, with theta ~ N(1, 0.6^2): the
 * prediction is believed to be right on average and wrong by more than half now and then (our judgement).
 * A zone median instead would take in a fault that covers more than half the zone.
 */
import type { GlsPrior } from "../../numerics/least-squares.ts";
import { generalisedLeastSquares } from "../../numerics/least-squares.ts";
import type { Whitening } from "../../numerics/whitening.ts";

export interface ZoneModelInput {
  /** Stand ratio (plants / target) at each point. */
  response: Float64Array;
  /** Zone index of each point, -1 where none (those share a level of their own). */
  zone: Int32Array;
  /** Predicted loss of stand by factor, share, one entry a point. */
  losses: Readonly<Record<string, Float64Array>>;
  /** Takes S out of a column. */
  whiten: Whitening["whiten"];
}

export interface ZoneModel {
  /** Stand ratio of each zone with nothing wrong, by zone index; absent for a zone without points. */
  zoneLevel: Map<number, number>;
  /** theta: how much of the predicted loss the stand shows, by factor, and its standard error. */
  response: Record<string, { share: number; standardError: number }>;
  /** z = y - X b: the planting losses are still in it. */
  adjusted: Float64Array;
  /** e = y - X b + G theta: zones and planting are both out of it. */
  residual: Float64Array;
}

const LOSS_PRIOR = { mean: 1, sd: 0.6 };

/** Dummies of the zones that have points, in ascending order of zone. */
export function zoneColumns(zone: Int32Array): { zones: number[]; columns: Float64Array[] } {
  const zones = [...new Set(zone)].sort((a, b) => a - b);
  return {
    zones,
    columns: zones.map((index) => Float64Array.from(zone, (value) => (value === index ? 1 : 0))),
  };
}

/** Fits zones and planting losses together. */
export function fitZoneModel(input: ZoneModelInput): ZoneModel {
  const { zones, columns } = zoneColumns(input.zone);
  const factors = Object.keys(input.losses);
  const lossColumns = factors.map((factor) => input.losses[factor]!.map((value) => -value));
  const prior: GlsPrior = {
    mean: Float64Array.from([...zones.map(() => 0), ...factors.map(() => LOSS_PRIOR.mean)]),
    precision: Float64Array.from([...zones.map(() => 0), ...factors.map(() => LOSS_PRIOR.sd ** -2)]),
  };
  const fit = generalisedLeastSquares([...columns, ...lossColumns], input.response, input.whiten, prior);
  const width = zones.length + factors.length;
  const adjusted = Float64Array.from(input.response);
  zones.forEach((_, index) => {
    const level = fit.coefficients[index]!;
    for (let i = 0; i < adjusted.length; i++) adjusted[i] = adjusted[i]! - columns[index]![i]! * level;
  });
  const response: ZoneModel["response"] = {};
  factors.forEach((factor, index) => {
    const at = zones.length + index;
    response[factor] = {
      share: fit.coefficients[at]!,
      standardError: Math.sqrt(fit.covariance[at * width + at]!),
    };
  });
  return {
    zoneLevel: new Map(zones.map((zone, index) => [zone, fit.coefficients[index]!])),
    response,
    adjusted,
    residual: fit.residual,
  };
}
