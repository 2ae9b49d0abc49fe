/** Zones, planting losses and covariance of the stand, estimated in turn. */
import { cholesky } from "../numerics/cholesky.ts";
import { median, medianAbsoluteDeviation } from "../numerics/descriptive.ts";
import type { CovarianceModel } from "./covariance.ts";
import { covarianceMatrix } from "./covariance.ts";
import { fitByRestrictedLikelihood, fitByRobustVariogram } from "./covariance-fit.ts";
import type { ZoneModel } from "./zone-model.ts";
import { fitZoneModel, zoneColumns } from "./zone-model.ts";

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
  /** 1 for points that are not to count for the covariance (groups found already), or null. */
  leftOut?: Uint8Array | null;
}

export interface StandModel extends ZoneModel {
  covariance: CovarianceModel;
  /** Lower Cholesky factor of the covariance of all points, row-major. */
  factor: Float64Array;
  /** Dummies of the zones present. */
  columns: Float64Array[];
  method: "restricted likelihood" | "robust variogram";
}

/** From this many points the variogram is used: it costs little there and is as good. */
const MANY_POINTS = 350;
const ROUNDS = 2;

/** Fits the model: zones and losses with the present covariance, the covariance from their residuals, twice. */
export function fitStandModel(input: StandModelInput): StandModel {
  const { x, y, response, zone, losses, countingVariance } = input;
  const size = response.length;
  const { columns } = zoneColumns(zone);
  const kept = [...response.keys()].filter((i) => !input.leftOut?.[i]);
  const pick = (values: Float64Array): Float64Array => Float64Array.from(kept, (i) => values[i]!);
  const method = kept.length >= MANY_POINTS ? "robust variogram" : "restricted likelihood";
  const estimate = method === "robust variogram" ? fitByRobustVariogram : fitByRestrictedLikelihood;

  const start = medianAbsoluteDeviation(withinZones(response, zone)) || 0.02;
  let covariance: CovarianceModel = { spatialVariance: 0, rangeM: 25, nuggetVariance: start ** 2 };
  let factor = cholesky(covarianceMatrix(covariance, x, y, countingVariance), size);
  let zones = fitZoneModel({ response, zone, losses, factor });
  for (let round = 0; round < ROUNDS; round++) {
    covariance = estimate({
      x: pick(x),
      y: pick(y),
      residual: pick(zones.residual),
      columns: columns.map(pick),
      countingVariance: countingVariance && pick(countingVariance),
    });
    factor = cholesky(covarianceMatrix(covariance, x, y, countingVariance), size);
    zones = fitZoneModel({ response, zone, losses, factor });
  }
  return { ...zones, covariance, factor, columns, method };
}

/** Response minus the median of its zone. */
function withinZones(response: Float64Array, zone: Int32Array): Float64Array {
  const medians = new Map<number, number>();
  for (const index of new Set(zone)) medians.set(index, median(response.filter((_, i) => zone[i] === index)));
  return response.map((value, i) => value - medians.get(zone[i]!)!);
}
