/** Where the log's actual depth comes from: the manifest, the column's name, or what its values give away. */
import type { DepthSource, PlantingLog } from "./field.ts";
import type { LayerReading } from "./layer-reading.ts";

/** A sensor gives more distinct values than this over so many records (our judgement). */
const FEWEST_SENSED_VALUES = 4;
const RECORDS_TO_TELL = 100;

/** True where the depth was measured, by a sensor or a spade: a setting proves nothing about the seed. */
export function isMeasuredDepth(source: DepthSource): boolean {
  return source === "sensed" || source === "dug";
}

/** The source of the depth; a note says so where it was told from the values. */
export function depthSourceOf(reading: LayerReading, values: PlantingLog["values"]): DepthSource {
  const found = reading.found("seedingDepth");
  if (!found || !values.seedingDepth) return "unknown";
  if (found.source !== null) return found.source;
  const why = readsLikeSetting(values.seedingDepth, values.targetDepth ?? null);
  if (why === null) return "unknown";
  reading.notes.add({
    reason: `${why}: it reads like a setting and not like a measurement, so no depth cause is drawn from it (name "source" in the manifest where it is sensed)`,
    effect: "assumed",
    field: found.group.label,
    count: values.seedingDepth.length,
  });
  return "set";
}

function readsLikeSetting(depth: Float64Array, target: Float64Array | null): string | null {
  const distinct = new Set<number>();
  let count = 0;
  let equal = 0;
  for (let record = 0; record < depth.length; record++) {
    const value = depth[record]!;
    if (Number.isNaN(value)) continue;
    count += 1;
    if (distinct.size < FEWEST_SENSED_VALUES) distinct.add(value);
    if (target && value === target[record]) equal += 1;
  }
  if (count < RECORDS_TO_TELL) return null;
  if (equal === count) return "is the same as the target depth in every record";
  if (distinct.size < FEWEST_SENSED_VALUES) return `has only ${distinct.size} distinct values`;
  return null;
}
