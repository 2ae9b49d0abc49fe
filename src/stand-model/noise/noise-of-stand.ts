/** Zones, planting losses and covariance of the stand, estimated in turn. */
import { median, medianAbsoluteDeviation } from "../../numerics/descriptive.ts";
import type { CovarianceModel } from "./covariance.ts";
import { fitStandNoise, noiseMethod } from "./noise-fit.ts";
import type { Patchiness } from "./patchiness.ts";
import { noiseWhitening, type Route, routeOf } from "./route.ts";
import type { ZoneModel } from "./zone-model.ts";
import { fitZoneModel } from "./zone-model.ts";

export interface StandModelInput {
  /** Local metres. */
  x: Float64Array;
  y: Float64Array;
  /** Stand ratio (plants / target) at each point. */
  response: Float64Array;
  /** Zone index of each point, -1 where none. */
  zone: Int32Array;
  /** Predicted loss of stand by factor, share, one entry a point. */
  losses: Readonly<Record<string, Float64Array>>;
  /** Known variance of counting at each point, or null. */
  countingVariance: Float64Array | null;
  /** How the noise is taken out; by the number of points where it is not given. */
  route?: Route;
}

export interface StandModel extends ZoneModel {
  covariance: CovarianceModel;
  /** k of each point: how much patchier its zone, or with many points its surroundings, are than the field. */
  patchiness: Float64Array;
  method: "restricted likelihood" | "robust variogram";
}

const ROUNDS = 2;
/** A zone keeps all its points when no more than this share of them would be left. */
const SMALLEST_ZONE_SHARE = 0.3;

/**
 * Fits the model: zones and losses with the present covariance, the covariance from their residuals, twice.
 * @param leftOut 1 for points the estimates are not to rest on (groups found already), or null; `adjusted`
 * and `residual` cover all points all the same.
 */
export function fitStandModel(input: StandModelInput, leftOut: Uint8Array | null = null): StandModel {
  const kept = keptPoints(input.zone, leftOut);
  const pick = (values: Float64Array): Float64Array => Float64Array.from(kept, (i) => values[i]!);
  const zone = Int32Array.from(kept, (i) => input.zone[i]!);
  const x = pick(input.x);
  const y = pick(input.y);
  const response = pick(input.response);
  const losses = Object.fromEntries(Object.entries(input.losses).map(([name, loss]) => [name, pick(loss)]));
  const countingVariance = input.countingVariance && pick(input.countingVariance);

  const start = medianAbsoluteDeviation(withinZones(response, zone)) || 0.02;
  let covariance: CovarianceModel = { spatialVariance: 0, rangeM: 25, nuggetVariance: start ** 2 };
  let patchinessAt: Patchiness = (at) => new Float64Array(at.x.length).fill(1);
  const zonesGiven = (): ZoneModel => {
    const noise = noiseWhitening(
      covariance,
      { x, y, countingVariance },
      patchinessAt({ x, y, zone }),
      input.route ?? routeOf(kept.length),
    );
    return fitZoneModel({ response, zone, losses, whiten: noise.whiten });
  };
  for (let round = 0; round < ROUNDS; round++) {
    const { residual } = zonesGiven();
    const seen = { x, y, zone, residual, countingVariance };
    ({ covariance, patchinessAt } = fitStandNoise(seen, round === 0 ? null : covariance));
  }
  const zones = zonesGiven();
  const adjusted = input.response.map((value, i) => value - zones.zoneLevel.get(input.zone[i]!)!);
  const residual = adjusted.slice();
  for (const [factorName, loss] of Object.entries(input.losses)) {
    const { share } = zones.response[factorName]!;
    for (let i = 0; i < residual.length; i++) residual[i] = residual[i]! + share * loss[i]!;
  }
  return {
    ...zones,
    adjusted,
    residual,
    covariance,
    patchiness: patchinessAt(input),
    method: noiseMethod(kept.length),
  };
}

function keptPoints(zone: Int32Array, leftOut: Uint8Array | null): number[] {
  const points = [...zone.keys()];
  if (!leftOut) return points;
  const total = new Map<number, number>();
  const left = new Map<number, number>();
  for (const i of points) {
    total.set(zone[i]!, (total.get(zone[i]!) ?? 0) + 1);
    if (!leftOut[i]) left.set(zone[i]!, (left.get(zone[i]!) ?? 0) + 1);
  }
  return points.filter(
    (i) => !leftOut[i] || (left.get(zone[i]!) ?? 0) <= SMALLEST_ZONE_SHARE * total.get(zone[i]!)!,
  );
}

/** Response minus the median of its zone. */
function withinZones(response: Float64Array, zone: Int32Array): Float64Array {
  const medians = new Map<number, number>();
  for (const index of new Set(zone)) medians.set(index, median(response.filter((_, i) => zone[i] === index)));
  return response.map((value, i) => value - medians.get(zone[i]!)!);
}
