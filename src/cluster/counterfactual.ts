/**
 * Loss of plants over a group: what would stand there had nothing been wrong, kriged from the healthy places,
 * minus what stands there. A plain comparison of means would treat neighbouring counts as independent and
 * give intervals far too narrow.
 */
import { variance } from "../numerics/descriptive.ts";
import type { GlsPrior } from "../numerics/least-squares.ts";
import type { CovarianceModel } from "./covariance.ts";
import type { KrigingPlaces } from "./kriging.ts";
import { kriging } from "./kriging.ts";

/** Counted spots or cells; every array has one entry a place. */
interface CountedPlaces {
  /** Local metres. */
  x: Float64Array;
  y: Float64Array;
  /** Stand ratio (plants / target). */
  response: Float64Array;
  /** Zone index, -1 where none. */
  zone: Int32Array;
  /** Known variance of counting, or null. */
  countingVariance: Float64Array | null;
}

export interface LossInput {
  spots: CountedPlaces;
  /** Covariance of the stand, and how much patchier each place's zone is than the field. */
  model: { covariance: CovarianceModel; patchiness: Float64Array };
  /** Indices of the places in the group. */
  members: readonly number[];
  /** 1 for places in any group or right beside one (half of such a count may lie in it): they are no measure of health. */
  inGroup: Uint8Array;
  /** Loss the log predicts at each place, share; places with more than 1.5 points are not healthy. */
  planting: Float64Array;
  /** Further columns that explain the response and whose loss is counted elsewhere (share of a departing row unit). */
  rowColumns: readonly Float64Array[];
}

export interface CountedLoss {
  /** Share of target stand, positive where plants are missing. */
  estimate: number;
  standardError: number;
  /** Limits of the interval and its level. */
  low: number;
  high: number;
  level: number;
  /** Counted places in the group, and healthy ones it was measured against. */
  count: number;
  healthy: number;
}

/** Predicted loss above which a place is not healthy (our judgement). */
const HEALTHY_LOSS = 0.015;
/** Fewer healthy places say nothing; then all outside the groups are taken, if they are as many. */
const FEWEST_HEALTHY = 8;
/** The covariance is itself estimated: standard errors are widened by this (measured on simulated fields). */
const WIDEN = 1.2;
/**
 * Zones differ in stand by about this SD (our judgement). It matters only where a zone has next to no healthy
 * place: its level is then taken from the other zones, with a wide interval.
 */
const ZONE_SD = 0.05;
const ROW_SD = 0.3;
const LEVEL = 0.9;
const Z_OF_LEVEL = 1.6448536269514722;
/** With fewer places than this in a group their spread is not trusted to be small. */
const FEW_MEMBERS = 4;
/** Least spread of the loss within a small group, as a share of the loss (our judgement). */
const SMALL_GROUP_SPREAD = 0.5;

/**
 * Prepares the healthy baseline once for several groups.
 * @returns a function from the members of a group to its loss, or null when too few healthy places are left.
 */
export function healthyBaseline(
  input: Omit<LossInput, "members">,
): ((members: readonly number[]) => CountedLoss) | null {
  const { spots, inGroup, planting, model } = input;
  const outside = [...spots.response.keys()].filter((i) => !inGroup[i]);
  const clean = outside.filter((i) => planting[i]! < HEALTHY_LOSS);
  const healthy = clean.length >= FEWEST_HEALTHY ? clean : outside;
  if (healthy.length < FEWEST_HEALTHY) return null;
  const { columns, prior } = trend(spots.zone, input.rowColumns);
  const placesAt = (indices: readonly number[]): KrigingPlaces => {
    const pick = (values: Float64Array): Float64Array => Float64Array.from(indices, (i) => values[i]!);
    return {
      x: pick(spots.x),
      y: pick(spots.y),
      columns: columns.map(pick),
      countingVariance: spots.countingVariance && pick(spots.countingVariance),
      patchiness: pick(model.patchiness),
    };
  };
  const known = Float64Array.from(healthy, (i) => spots.response[i]!);
  // Differences from place to place that the noise alone makes are in the kriging variance already.
  const noise = (members: readonly number[]): number => {
    let sum = 0;
    for (const i of members) {
      sum += (spots.countingVariance?.[i] ?? 0) + model.covariance.nuggetVariance * model.patchiness[i]! ** 2;
    }
    return sum / members.length;
  };
  const krige = kriging(placesAt(healthy), known, model.covariance, prior);
  return (members) => {
    const baseline = krige(placesAt(members));
    const losses = baseline.values.map((value, k) => value - spots.response[members[k]!]!);
    const estimate = losses.reduce((sum, value) => sum + value, 0) / losses.length;
    const spread = withinGroupVariance(losses, estimate, noise(members));
    const standardError = Math.sqrt(WIDEN ** 2 * baseline.variance + spread / losses.length);
    return {
      estimate,
      standardError,
      low: estimate - Z_OF_LEVEL * standardError,
      high: estimate + Z_OF_LEVEL * standardError,
      level: LEVEL,
      count: members.length,
      healthy: healthy.length,
    };
  };
}

/** Loss over one group; null when too few healthy places are left to measure it against. */
export function countedLoss(input: LossInput): CountedLoss | null {
  return healthyBaseline(input)?.(input.members) ?? null;
}

/** Variance of the loss from place to place in the group, the counted places being a sample of it. */
function withinGroupVariance(losses: Float64Array, estimate: number, noise: number): number {
  const seen = Math.max(0, variance(losses) - noise);
  if (losses.length >= FEW_MEMBERS) return seen;
  return Math.max(Number.isNaN(seen) ? 0 : seen, (SMALL_GROUP_SPREAD * estimate) ** 2);
}

/** A common level, the zones' departures from it (where there are several), and the further columns. */
function trend(
  zone: Int32Array,
  rowColumns: readonly Float64Array[],
): { columns: Float64Array[]; prior: GlsPrior } {
  const zones = [...new Set(zone)].sort((a, b) => a - b);
  const departures = zones.length > 1 ? zones : [];
  const columns = [
    new Float64Array(zone.length).fill(1),
    ...departures.map((index) => Float64Array.from(zone, (value) => (value === index ? 1 : 0))),
    ...rowColumns,
  ];
  const precision = Float64Array.from([
    0,
    ...departures.map(() => ZONE_SD ** -2),
    ...rowColumns.map(() => ROW_SD ** -2),
  ]);
  return { columns, prior: { mean: new Float64Array(columns.length), precision } };
}
