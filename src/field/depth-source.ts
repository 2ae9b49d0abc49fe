/** Where the log's actual depth comes from: the manifest, the column's name, or what its values give away. */
import type { LayerReading } from "../recognise/layer-reading.ts";
import type { DepthSource, PlantingLog } from "../vocabulary/field.ts";

/** A sensor gives at least this many distinct values over so many records (our judgement). */
const FEWEST_SENSED_VALUES = 8;
/** With fewer values than this, or where hardly a record differs from the one before, it is a setting (our judgement). */
const FEWEST_OPEN_VALUES = 4;
const MOST_STEPS_OF_A_SETTING = 0.02;
/** Share of records that differ from the one before on the same row unit, from which it is a measurement (our judgement). */
const LEAST_STEPS_OF_A_SENSOR = 0.2;
const RECORDS_TO_TELL = 100;

/**
 * Most that a cause in the depth may be sure of, 0..1, where the log's values alone say that the depth was sensed and
 * no dig bears it out (our judgement).
 */
export const SENSED_BY_LOOK_CEILING = 0.85;

/** The ceiling of a cause in the depth, 0..1. @param dug true where digs at the place speak of the depth: they overrule */
export function depthCauseCeiling(source: DepthSource, dug: boolean): number {
  return source === "sensed-by-look" && !dug ? SENSED_BY_LOOK_CEILING : 1;
}

/** True where the depth came from a sensor, whoever says so. */
export function isSensedDepth(source: DepthSource): boolean {
  return source === "sensed" || source === "sensed-by-look";
}

/** True where the depth was measured, by a sensor or a spade: a setting proves nothing about the seed. */
export function isMeasuredDepth(source: DepthSource): boolean {
  return isSensedDepth(source) || source === "dug";
}

/** The source of the depth; a note says so where it was told from the values. */
export function depthSourceOf(reading: LayerReading, values: PlantingLog["values"]): DepthSource {
  const found = reading.found("seedingDepth");
  if (!found || !values.seedingDepth) return "unknown";
  if (found.source !== null) return found.source;
  const { source, reason } = sourceByLook(values.seedingDepth, values.targetDepth, values.rowUnit);
  if (reason === null) return source;
  reading.notes.add({
    reason,
    effect: "assumed",
    field: found.group.label,
    count: values.seedingDepth.length,
  });
  return source;
}

/** What the values of a depth look like, record by record. */
interface Look {
  count: number;
  distinct: number;
  /** Records that differ from the one before on the same row unit, and records that have one before. */
  changed: number;
  followed: number;
  equalToTarget: number;
}

function lookAt(
  depth: Float64Array,
  target: Float64Array | undefined,
  rowUnit: Float64Array | undefined,
): Look {
  const distinct = new Set<number>();
  const last = new Map<number, number>();
  const look: Look = { count: 0, distinct: 0, changed: 0, followed: 0, equalToTarget: 0 };
  for (let record = 0; record < depth.length; record++) {
    const value = depth[record]!;
    if (Number.isNaN(value)) continue;
    look.count += 1;
    if (distinct.size < FEWEST_SENSED_VALUES) distinct.add(value);
    if (value === target?.[record]) look.equalToTarget += 1;
    const unit = rowUnit?.[record] ?? 0;
    const before = last.get(unit);
    last.set(unit, value);
    if (before === undefined) continue;
    look.followed += 1;
    if (before !== value) look.changed += 1;
  }
  look.distinct = distinct.size;
  return look;
}

/** A setting by its looks, a sensor by its looks, or neither: then the source stays open and no reason is given. */
function sourceByLook(
  depth: Float64Array,
  target: Float64Array | undefined,
  rowUnit: Float64Array | undefined,
): { source: DepthSource; reason: string | null } {
  const look = lookAt(depth, target, rowUnit);
  if (look.count < RECORDS_TO_TELL) return { source: "unknown", reason: null };
  const changing = look.followed === 0 ? 0 : look.changed / look.followed;
  const setting = settingReason(look, changing);
  if (setting !== null) {
    return {
      source: "set",
      reason: `${setting}: it reads like a setting and not like a measurement, so no depth cause is drawn from it (name "source" in the manifest where it is sensed)`,
    };
  }
  if (look.distinct < FEWEST_SENSED_VALUES || changing < LEAST_STEPS_OF_A_SENSOR)
    return { source: "unknown", reason: null };
  return {
    source: "sensed-by-look",
    reason: `moves from record to record like a measurement (${Math.round(100 * changing)} % of the records differ from the one before): taken as sensed, and a cause in the depth is called at most ${Math.round(100 * SENSED_BY_LOOK_CEILING)} % likely until digs bear it out (name "source" in the manifest: "sensed", or "set" where it is only the setting)`,
  };
}

function settingReason({ count, distinct, equalToTarget }: Look, changing: number): string | null {
  if (equalToTarget === count) return "is the same as the target depth in every record";
  if (distinct < FEWEST_OPEN_VALUES)
    return distinct === 1 ? "is the same in every record" : `has only ${distinct} distinct values`;
  if (changing < MOST_STEPS_OF_A_SETTING) return "changes in few steps and stays as it is between them";
  return null;
}
