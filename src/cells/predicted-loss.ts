/**
 * What the log predicts for the stand: the response curves are applied reading by reading (a mean would
 * lose the tails), averaged over a group of records (a cell, a counted spot), and credited to the root:
 * speed before load, load before depth, and only the rest to depth, spread, skips and rate.
 */
import { groundState, isWet } from "../compare/ground-state.ts";
import { loggingIntervalM, noLoadShareLimit, unevenKneeMm } from "../compare/logging-interval.ts";
import { THRESHOLDS as T } from "../compare/thresholds.ts";
import { isMeasuredDepth } from "../field/depth-source.ts";
import { median } from "../numerics/descriptive.ts";
import { presentOf } from "../numerics/present.ts";
import type { Passes } from "../passes/passes.ts";
import { groupBy, type RecordGroups } from "../passes/record-groups.ts";
import type { Field } from "../vocabulary/field.ts";

/** Planting factors in causal order, root first. Names are those of the causes. */
export const FACTORS = [
  "excess-speed",
  "lost-ground-contact",
  "excess-down-force",
  "too-shallow",
  "too-deep",
  "uneven-depth",
  "misses",
  "rate-off-target",
] as const;

export type Factor = (typeof FACTORS)[number];

/** Predicted loss by factor, share of stand (0..1), one entry a group. */
export type PredictedLoss = Record<Factor, Float64Array>;

/** Reading-by-reading losses, one entry a record; null where the log cannot tell. */
export interface RecordDoses {
  light: Float64Array | null;
  heavy: Float64Array | null;
  shallow: Float64Array | null;
  deep: Float64Array | null;
  misses: Float64Array | null;
  rate: Float64Array | null;
  margin: Float64Array | null;
  /** Share of the time without ground contact, as logged. */
  lostContact: Float64Array | null;
  speed: Float64Array | null;
  /** Limits that follow the logging interval: spread of depth, mm, and share of readings without load. */
  unevenKneeMm: number;
  noLoadShareLimit: number;
}

/** Applies the response curves at every record. A set depth proves nothing and gives no depth dose. */
export function recordDoses(field: Field, passes: Passes, zoneOfRecord: Int32Array): RecordDoses {
  const values = field.log.values;
  const n = field.log.recordCount;
  const intervalM = loggingIntervalM(passes);
  const depth = isMeasuredDepth(field.log.depthSource) ? values.seedingDepth : undefined;
  const margin = values.downForceMargin;
  const damp = dampByPassAndZone(field, passes);
  const isDamp = (i: number): boolean =>
    damp[(passes.passOf[i]! - 1) * zoneStride(field) + zoneOfRecord[i]! + 1] === 1;
  const heavyKnee = (i: number): number => (isDamp(i) ? T.heavyKneeWet.value : T.heavyKneeDry.value);
  const from = (
    source: Float64Array | undefined,
    dose: (value: number, i: number) => number,
  ): Float64Array | null => {
    if (!source) return null;
    const out = new Float64Array(n).fill(Number.NaN);
    for (let i = 0; i < n; i++) {
      if (passes.passOf[i]! > 0 && !crawling[i] && !Number.isNaN(source[i]!)) out[i] = dose(source[i]!, i);
    }
    return out;
  };
  const crawling = crawlingRecords(field, passes);
  const target = values.targetPopulation;
  const targetPerHa = field.targets.populationPerHa;
  // A target depth above the knee is the grower's own choice: shallow is then judged against the target.
  const isSoybean = field.crop === "soybean";
  const ownKnee = (isSoybean ? T.shallowKneeSoybean : T.shallowKnee).value;
  const shallowKnee = Math.min(ownKnee, field.targets.seedingDepthMm ?? ownKnee);
  const deepKnee = (isSoybean ? T.deepKneeSoybean : T.deepKnee).value;
  return {
    light: lightDose(
      from(margin, (value) => T.lightSlope.value * Math.max(0, T.lightKnee.value - value)),
      // Time off the ground costs what a load of nothing does.
      from(values.groundContact, (value) => T.lightSlope.value * T.lightKnee.value * Math.max(0, 1 - value)),
    ),
    heavy: from(margin, (value, i) => T.heavySlope.value * Math.max(0, value - heavyKnee(i))),
    shallow: from(depth, (value) => T.shallowSlope.value * Math.max(0, shallowKnee - value)),
    // Deep corn in warm, fit ground comes up: the studies find a loss only where it is cold or wet. Soybeans have to
    // push their seed leaves up and are cut on any ground.
    deep: from(depth, (value, i) =>
      isSoybean || isDamp(i) ? T.deepSlope.value * Math.max(0, value - deepKnee) : 0,
    ),
    misses: from(values.misses, (value) => T.missLoss.value * value),
    rate:
      target || targetPerHa
        ? from(values.population, (value, i) => {
            const logged = target?.[i] ?? Number.NaN;
            const wanted = Number.isNaN(logged) ? (targetPerHa ?? Number.NaN) : logged;
            return wanted > 0 ? 1 - value / wanted : Number.NaN;
          })
        : null,
    margin: soundMargin(field, passes, crawling),
    lostContact: from(values.groundContact, (value) => Math.max(0, 1 - value)),
    speed: values.speed ?? null,
    unevenKneeMm: unevenKneeMm(intervalM),
    noLoadShareLimit: noLoadShareLimit(intervalM),
  };
}

/** The load of the records that say something of ground and settings; NaN for the others, null where the log has none. */
export function soundMargin(
  field: Field,
  passes: Passes,
  crawling = crawlingRecords(field, passes),
): Float64Array | null {
  const margin = field.log.values.downForceMargin;
  if (!margin) return null;
  const sound = new Float64Array(margin.length);
  for (let i = 0; i < sound.length; i++)
    sound[i] = passes.passOf[i]! > 0 && !crawling[i] ? margin[i]! : Number.NaN;
  return sound;
}

/** Load and contact are two looks at one thing: the graver of the two counts, or the one that is there. */
function lightDose(ofLoad: Float64Array | null, ofContact: Float64Array | null): Float64Array | null {
  if (!ofLoad || !ofContact) return ofLoad ?? ofContact;
  return ofLoad.map((dose, i) => {
    const other = ofContact[i]!;
    return Number.isNaN(dose) ? other : Number.isNaN(other) ? dose : Math.max(dose, other);
  });
}

/** Slower than this share of the pass's usual speed is a start or a stop (our judgement). */
const CRAWLING_SHARE = 0.5;

/** 1 for records of starts and stops: rate and load settle only at working speed, so they say nothing of ground or settings. */
export function crawlingRecords(field: Field, passes: Passes): Uint8Array {
  const crawling = new Uint8Array(field.log.recordCount);
  const speed = field.log.values.speed;
  if (!speed) return crawling;
  const { start, records } = groupBy(passes.passOf, passes.passes.length + 1);
  const speeds = new Float64Array(records.length);
  for (let pass = 1; pass <= passes.passes.length; pass++) {
    let known = 0;
    for (let k = start[pass]!; k < start[pass + 1]!; k++) {
      const value = speed[records[k]!]!;
      if (!Number.isNaN(value)) speeds[known++] = value;
    }
    if (known === 0) continue;
    const slow = CRAWLING_SHARE * median(speeds.subarray(0, known));
    for (let k = start[pass]!; k < start[pass + 1]!; k++)
      if (speed[records[k]!]! < slow) crawling[records[k]!] = 1;
  }
  return crawling;
}

function zoneStride(field: Field): number {
  return (field.soilZones?.names.length ?? 0) + 1;
}

/** 1 where the ground was damp or wetter, by (pass - 1) x (zone + 1). */
function dampByPassAndZone(field: Field, passes: Passes): Uint8Array {
  const stride = zoneStride(field);
  const damp = new Uint8Array(passes.passes.length * stride);
  passes.passes.forEach((pass, p) => {
    for (let zone = -1; zone < stride - 1; zone++) {
      if (isWet(groundState(field, pass.date ?? field.planted, zone))) damp[p * stride + zone + 1] = 1;
    }
  });
  return damp;
}

/** Speed (m/s) from which ground counts as driven too fast: above the knee and well above the usual speed. */
export function fastSpeed(field: Field, speeds: Float64Array): number {
  const present = presentOf(speeds);
  const usual = field.targets.speedMetresPerSecond ?? (present.length > 0 ? median(present) : 0);
  return Math.max(T.fastKnee.value, usual * (1 + T.fastShare.value));
}

/**
 * Loss by a symptom that its root accounts for, share of stand; what is beyond is a fault of its own (our judgement). Fast
 * ground costs so much by skips and by uneven depth; wheels that run light let a row unit ride up by about half an inch.
 */
const OF_SPEED = { misses: 0.06, uneven: 0.12 };
const OF_LOST_CONTACT = { shallow: 0.08, uneven: 0.08 };

/**
 * Predicted loss of each group by factor.
 * @param depthSdMm spread of depth along the row by group (NaN where unknown), or null
 * @param excluded 1 for records that are not to count (row units judged on their own)
 * @param fast from {@link fastSpeed}
 */
export function predictLoss(
  groups: RecordGroups,
  doses: RecordDoses,
  depthSdMm: Float64Array | null,
  excluded: Uint8Array,
  fast: number,
): PredictedLoss {
  const count = groups.start.length - 1;
  const loss = Object.fromEntries(
    FACTORS.map((factor) => [factor, new Float64Array(count)]),
  ) as PredictedLoss;
  for (let g = 0; g < count; g++) {
    const average = (dose: Float64Array | null): number => meanOver(dose, groups, g, excluded);
    const speed = average(doses.speed);
    const margin = average(doses.margin);
    const light = average(doses.light) || 0;
    const heavy = average(doses.heavy) || 0;
    const shallow = average(doses.shallow) || 0;
    const deep = average(doses.deep) || 0;
    const spread = depthSdMm?.[g] ?? Number.NaN;
    const uneven = spread > doses.unevenKneeMm ? T.unevenSlope.value * (spread - doses.unevenKneeMm) : 0;
    const misses = average(doses.misses) || 0;
    // A skipped seed also lowers the rate: it is paid for once.
    const rate = Math.max(0, (average(doses.rate) || 0) - misses);
    if (speed > fast) {
      const skipsOfSpeed = Math.min(misses, OF_SPEED.misses);
      const unevenOfSpeed = Math.min(uneven, OF_SPEED.uneven);
      loss["excess-speed"][g] = light + shallow + unevenOfSpeed + skipsOfSpeed;
      loss.misses[g] = misses - skipsOfSpeed;
      loss["uneven-depth"][g] = uneven - unevenOfSpeed;
    } else {
      const ranLight =
        margin < T.lowMeanMargin.value ||
        average(doses.lostContact) > doses.noLoadShareLimit ||
        noLoadShare(doses.margin, groups, g, excluded) > doses.noLoadShareLimit;
      const shallowOfContact = ranLight ? Math.min(shallow, OF_LOST_CONTACT.shallow) : 0;
      const unevenOfContact = ranLight ? Math.min(uneven, OF_LOST_CONTACT.uneven) : 0;
      loss["lost-ground-contact"][g] = ranLight ? light + shallowOfContact + unevenOfContact : 0;
      loss["too-shallow"][g] = shallow - shallowOfContact;
      loss["uneven-depth"][g] = uneven - unevenOfContact;
      loss.misses[g] = misses;
    }
    loss["excess-down-force"][g] = heavy;
    loss["too-deep"][g] = deep;
    loss["rate-off-target"][g] = rate;
  }
  return loss;
}

function meanOver(dose: Float64Array | null, groups: RecordGroups, g: number, excluded: Uint8Array): number {
  if (!dose) return Number.NaN;
  let sum = 0;
  let n = 0;
  for (let k = groups.start[g]!; k < groups.start[g + 1]!; k++) {
    const i = groups.records[k]!;
    const value = dose[i]!;
    if (excluded[i] || Number.isNaN(value)) continue;
    sum += value;
    n++;
  }
  return n > 0 ? sum / n : Number.NaN;
}

function noLoadShare(
  margin: Float64Array | null,
  groups: RecordGroups,
  g: number,
  excluded: Uint8Array,
): number {
  if (!margin) return 0;
  let without = 0;
  let n = 0;
  for (let k = groups.start[g]!; k < groups.start[g + 1]!; k++) {
    const i = groups.records[k]!;
    if (excluded[i] || Number.isNaN(margin[i]!)) continue;
    if (margin[i]! <= T.noLoad.value) without++;
    n++;
  }
  return n > 0 ? without / n : 0;
}

/**
 * Takes the field's usual (median) loss of each factor off, since only departures from the rest of the
 * field are looked for here; a field that is off as a whole is judged against its target apart from this.
 * @returns the medians taken off, by factor
 */
export function subtractUsual(loss: PredictedLoss): Record<Factor, number> {
  const usual = {} as Record<Factor, number>;
  for (const factor of FACTORS) {
    const values = loss[factor];
    usual[factor] = values.length > 0 ? median(values) : 0;
    for (let g = 0; g < values.length; g++) values[g] = Math.max(0, values[g]! - usual[factor]);
  }
  return usual;
}
