/**
 * What a field's log, counts and digs hold about load, soil zone by soil zone: today's loads by state of the ground,
 * and the counted spots that speak for load alone.
 */
import { FACTORS, fastSpeed, predictLoss, recordDoses, soundMargin } from "../cells/predicted-loss.ts";
import type { Analysis } from "../findings/analysis.ts";
import { recordsWhere } from "../numerics/present.ts";
import { quantileInPlace } from "../numerics/quantile.ts";
import type { LoadPhysics } from "../quantities/load-physics.ts";
import { SQUARE_METRES_PER_HECTARE } from "../quantities/units.ts";
import type { TextureClass } from "../vocabulary/field.ts";
import { MOISTURES, type Moisture } from "../vocabulary/moisture.ts";
import { plantedByZone } from "./field-sense.ts";
import { bandShiftN, LIMITS } from "./limits.ts";
import { type MoistureOf, type MoistureSource, moistureByZone, recordsOfDigs } from "./moisture.ts";
import type { LoadShares, ZoneSpots } from "./response.ts";
import { type Taint, taintOf } from "./settle-first.ts";

/** Today's load on some ground. */
export interface TodaysLoad {
  meanN: number;
  p10N: number;
  forceN: number | null;
  /** Means over pieces of pass about 12 m long. */
  shares: LoadShares;
  records: number;
}

export interface ZoneEvidence {
  /** Index into the soil zones; -1 for ground without one, or the whole field where there is no soil map. */
  zone: number;
  name: string;
  texture: TextureClass;
  areaHa: number;
  /** Null where the log has no load of sound records there. */
  today: TodaysLoad | null;
  /** The same where the ground was in a state, if enough of it was. */
  todayIn: Partial<Record<Moisture, TodaysLoad>>;
  /** State most of the zone was planted in, and what says so. */
  moisture: Moisture;
  moistureFrom: MoistureSource;
  /** Spots that count, their load as it would be in the state `moisture`; null where there are none. */
  spots: ZoneSpots | null;
  /** 5th and 95th percentile of the load logged at these spots, N. */
  marginRangeN: [number, number] | null;
  informative: boolean;
  digs: number;
  taint: Taint;
  /** Finding whose place this is, cut out of its soil zone; null for a soil zone. */
  place: string | null;
}

/** Name of the one zone of a field without a soil map, and of ground a soil map leaves out. */
export const WHOLE_FIELD = "whole field";
export const NO_SOIL_ZONE = "no soil zone";

const PIECE_M = 12;
/** Systematic thinning keeps the work bounded; more spots of one zone hardly sharpen its answer. */
const MOST_SPOTS = 400;

/** Gathers the evidence of every zone that was planted, in the order of the soil map; ground without a zone last. */
export function gatherEvidence(analysis: Analysis, { lifted, refusal }: LoadPhysics): ZoneEvidence[] {
  const { field, passes, zoneOfRecord } = analysis;
  const recordOfDig = recordsOfDigs(field, passes);
  const moistureOf = moistureByZone(field, passes, zoneOfRecord, recordOfDig);
  const margin = soundMargin(field, passes);
  const zones = field.soilZones ? [...field.soilZones.names.keys(), -1] : [-1];
  const planted = plantedByZone(passes, zoneOfRecord, field.soilZones?.names.length ?? 0);
  const taint = taintOf(analysis, zones, planted);
  const loadOff = taint.recordOff.map((off, i) => off | (lifted[i] ?? 0));
  const spots = spotsForLoad(analysis, taint.spotOff, loadOff);
  const force = refusal.force === null ? (field.log.values.downForce ?? null) : null;
  const found: ZoneEvidence[] = [];
  for (const zone of zones) {
    const records = planted.records.subarray(planted.start[zone + 1]!, planted.start[zone + 2]!);
    if (records.length === 0) continue;
    const stateOfPass = passes.passes.map(({ number }) => moistureOf(zone, number));
    const states = new Map<Moisture, { count: number; from: MoistureSource }>();
    let areaM2 = 0;
    let lastPass = 0;
    let own = { count: 0, from: "dug" as MoistureSource };
    for (let k = 0; k < records.length; k++) {
      const i = records[k]!;
      const pass = passes.passOf[i]!;
      areaM2 += passes.distanceM[i]! * passes.widthM[i]!;
      if (pass !== lastPass) {
        const { state, from } = stateOfPass[pass - 1]!;
        own = states.get(state) ?? { count: 0, from };
        if (from === "dug") own.from = from;
        states.set(state, own);
        lastPass = pass;
      }
      own.count++;
    }
    const [moisture, { from }] = [...states].sort((a, b) => b[1].count - a[1].count)[0]!;
    const onGround = recordsWhere(records, (i) => !lifted[i]);
    const sound = recordsWhere(onGround, (i) => !taint.recordOff[i]);
    const usable = sound.length > 0 ? sound : onGround;
    const today = todaysLoad(analysis, margin, force, usable);
    const todayIn: ZoneEvidence["todayIn"] = {};
    // Mostly all of a zone was planted in one state.
    if (states.size === 1 && today) todayIn[moisture] = today;
    for (const state of states.size === 1 ? [] : MOISTURES) {
      const inState = recordsWhere(usable, (i) => stateOfPass[passes.passOf[i]! - 1]!.state === state);
      if (inState.length < LIMITS.stateShare.value * usable.length) continue;
      const load = inState.length === usable.length ? today : todaysLoad(analysis, margin, force, inState);
      if (load) todayIn[state] = load;
    }
    const learning = zoneSpots(analysis, spots, zone, moistureOf, moisture);
    const range = learning ? rangeOf(learning.spots.marginN) : null;
    found.push({
      zone,
      name: zone >= 0 ? field.soilZones!.names[zone]! : field.soilZones ? NO_SOIL_ZONE : WHOLE_FIELD,
      texture: field.soilZones?.texture[zone] ?? null,
      areaHa: areaM2 / SQUARE_METRES_PER_HECTARE,
      today,
      todayIn,
      moisture,
      moistureFrom: from,
      spots: learning?.spots ?? null,
      marginRangeN: learning ? rangeOf(learning.loggedN) : null,
      informative:
        learning !== null &&
        learning.spots.marginN.length >= LIMITS.fewestSpots.value &&
        range![1] - range![0] >= LIMITS.narrowRange.value,
      digs: recordOfDig.filter((i) => i >= 0 && zoneOfRecord[i] === zone).length,
      taint: taint.ofZone.get(zone)!,
      place: null,
    });
  }
  return found;
}

function todaysLoad(
  { passes }: Analysis,
  margin: Float64Array | null,
  force: Float64Array | null,
  records: Int32Array,
): TodaysLoad | null {
  if (!margin) return null;
  const known = recordsWhere(records, (i) => !Number.isNaN(margin[i]!));
  if (known.length === 0) return null;
  const values = new Float64Array(known.length);
  const pieces = new Map<number, { sum: number; count: number }>();
  let [sum, ofForce, forces] = [0, 0, 0];
  let last = { key: Number.NaN, piece: { sum: 0, count: 0 } };
  for (let k = 0; k < known.length; k++) {
    const i = known[k]!;
    values[k] = margin[i]!;
    sum += margin[i]!;
    if (force && !Number.isNaN(force[i]!)) {
      ofForce += force[i]!;
      forces++;
    }
    const key = passes.passOf[i]! * 1e5 + Math.floor(passes.alongM[i]! / PIECE_M);
    // Records of one moment follow each other on one piece.
    if (key !== last.key) {
      last = { key, piece: pieces.get(key) ?? { sum: 0, count: 0 } };
      pieces.set(key, last.piece);
    }
    last.piece.sum += margin[i]!;
    last.piece.count++;
  }
  const meanN = sum / values.length;
  // Whole newtons are more than fine enough; fewer bins make the gain quick to work out.
  const bins = new Map<number, number>();
  for (const { sum, count } of pieces.values()) {
    const load = 4 * Math.round(sum / count / 4);
    bins.set(load, (bins.get(load) ?? 0) + count);
  }
  const sorted = [...bins].sort((a, b) => a[0] - b[0]);
  return {
    meanN,
    p10N: quantileInPlace(values, 0.1),
    forceN: forces > 0 ? ofForce / forces : null,
    shares: {
      marginN: Float64Array.from(sorted, ([load]) => load),
      share: Float64Array.from(sorted, ([, count]) => count / known.length),
    },
    records: known.length,
  };
}

/** Load and stand of every spot that counts; NaN load for the others. */
function spotsForLoad(
  { field, passes, zoneOfRecord, parts }: Analysis,
  spotOff: Uint8Array,
  recordOff: Uint8Array,
) {
  const { spots, view } = parts.causes;
  if (!spots || !field.log.values.downForceMargin) return null;
  const doses = recordDoses(field, passes, zoneOfRecord);
  const margin = doses.margin!;
  const fast = fastSpeed(field, doses.speed ?? new Float64Array(0));
  const losses = predictLoss(spots.beneath, doses, null, recordOff, fast);
  const others = FACTORS.filter(
    (factor) => factor !== "lost-ground-contact" && factor !== "excess-down-force",
  );
  const marginN = new Float64Array(spots.count).fill(Number.NaN);
  const response = Float64Array.from(spots.response);
  for (let s = 0; s < spots.count; s++) {
    if (spotOff[s]) continue;
    let [sum, count] = [0, 0];
    for (let k = spots.beneath.start[s]!; k < spots.beneath.start[s + 1]!; k++) {
      const i = spots.beneath.records[k]!;
      if (recordOff[i] || Number.isNaN(margin[i]!)) continue;
      sum += margin[i]!;
      count++;
    }
    marginN[s] = sum / count;
    // How much of a predicted loss the stand of this field shows is what the stand model found.
    for (const factor of others)
      response[s]! += (view?.fit.model.response[factor]?.share ?? 1) * losses[factor][s]!;
  }
  return { marginN, response };
}

function zoneSpots(
  { parts }: Analysis,
  loads: ReturnType<typeof spotsForLoad>,
  zone: number,
  moistureOf: MoistureOf,
  moisture: Moisture,
): { spots: ZoneSpots; loggedN: Float64Array } | null {
  const { spots, view } = parts.causes;
  const model = view?.fit.model;
  if (!spots || !loads) return null;
  const all = [...spots.zone.keys()].filter(
    (s) => spots.zone[s] === zone && !Number.isNaN(loads.marginN[s]!),
  );
  if (all.length === 0) return null;
  const every = Math.ceil(all.length / MOST_SPOTS);
  const kept = all.filter((_, k) => k % every === 0);
  const pick = (value: (s: number) => number): Float64Array => Float64Array.from(kept, value);
  const state = (s: number): Moisture => moistureOf(zone, spots.pass[s]!).state;
  const own: ZoneSpots = {
    x: pick((s) => spots.x[s]!),
    y: pick((s) => spots.y[s]!),
    marginN: pick((s) => loads.marginN[s]! + bandShiftN(state(s), moisture)),
    response: pick((s) => loads.response[s]!),
    countingVariance: pick((s) => spots.countingVariance[s]!),
    patchiness: pick((s) => view?.patchinessOf(s) ?? 1),
    covariance: model?.covariance ?? {
      spatialVariance: 0,
      rangeM: 25,
      nuggetVariance: LIMITS.plainSpotSd.value ** 2,
    },
  };
  return { spots: own, loggedN: pick((s) => loads.marginN[s]!) };
}

function rangeOf(values: Float64Array): [number, number] {
  return [quantileInPlace(values.slice(), 0.05), quantileInPlace(values.slice(), 0.95)];
}
