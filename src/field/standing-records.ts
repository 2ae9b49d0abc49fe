/** Records during which nothing was planted, though the log does not say "not working". */
import { recordNumber } from "../ingest/record-number.ts";
import type { LayerReading } from "../recognise/layer-reading.ts";
import type { PlantingLog } from "../vocabulary/field.ts";

/**
 * Sets `working` to 0 where the swath has no width or the bar stands still, and notes how many. A speed of 0 in a
 * record that travelled some distance is a sensor's and stays.
 */
export function markStanding(values: PlantingLog["values"], kept: Int32Array, reading: LayerReading): void {
  const { speed, distance, swathWidth } = values;
  const stands = (index: number) => speed?.[index] === 0 && !(distance && distance[index]! > 0);
  mark(values, kept, reading, "swathWidth", (index) => swathWidth?.[index] === 0);
  mark(values, kept, reading, "speed", stands);
}

const REASONS = {
  swathWidth: "is 0: the planter is lifted or switched off; taken as not working",
  speed: "is 0: the planter stands still; taken as not working",
} as const;

function mark(
  values: PlantingLog["values"],
  kept: Int32Array,
  reading: LayerReading,
  variable: keyof typeof REASONS,
  isOff: (index: number) => boolean,
): void {
  for (let index = 0; index < kept.length; index++) {
    if (values.working?.[index] === 0 || !isOff(index)) continue;
    values.working ??= new Float64Array(kept.length).fill(1);
    values.working[index] = 0;
    reading.notes.add({
      reason: REASONS[variable],
      effect: "assumed",
      field: reading.found(variable)!.group.label,
      record: recordNumber(reading.layer, kept[index]!),
    });
  }
}
