/** The order of a log as it is read, its layout, and whether its clock tells moments apart. */
import { FileUnusableError } from "../../errors.ts";
import { recordNumber } from "../../ingest/record-number.ts";
import { distinctCount } from "../../numerics/present.ts";
import type { LayerReading } from "../../recognise/layer-reading.ts";
import { pick } from "../../recognise/layer-reading.ts";
import { partOf } from "../../recognise/part-of-bar.ts";
import type { PlantingLog } from "../../vocabulary/field.ts";
import type { LogVariable } from "../../vocabulary/variables.ts";
import type { LogTime } from "../log-time.ts";
import { layoutOf } from "./layout.ts";
import { plantingOrder } from "./planting-order.ts";

type Columns = Pick<PlantingLog, "values" | "labels">;

/** What the times of a log are good for. */
export interface Timing {
  layout: PlantingLog["layout"];
  /** False where the times are days, or one time stands at so many moments that it tells none from another. */
  hasClockTime: boolean;
}

/** One time for so many moments on average, and the clock tells them no longer apart (our judgement). */
const MOST_MOMENTS_A_TIME = 20;

/** Layout and clock, by the columns and the positions in the order of the file. */
export function timingOf(
  time: LogTime | null,
  columns: Columns,
  place: Pick<PlantingLog, "x" | "y">,
): Timing {
  const seconds = time?.hasClockTime ? time.seconds : null;
  const layout = layoutOf(columns, seconds, place);
  if (!seconds) return { layout, hasClockTime: false };
  const times = distinctCount(seconds);
  const part = layout === "bar" ? null : partOf({ ...columns, layout });
  const parts = part ? distinctCount(part) : 1;
  const moments =
    seconds.length / (layout === "section" && !part ? Math.max(1, seconds.length / times) : parts);
  return { layout, hasClockTime: moments <= MOST_MOMENTS_A_TIME * times };
}

/**
 * Places of the records in the order of planting, null where they stand in it. Times that were set right replace those
 * of the columns.
 * @throws {FileUnusableError} where the records stand in no order and nothing tells one
 */
export function orderOf(
  reading: LayerReading,
  kept: Int32Array,
  { x, y }: Pick<PlantingLog, "x" | "y">,
  columns: Columns,
  timing: Timing,
): Int32Array | null {
  const { values, labels } = columns;
  const { layer, notes } = reading;
  const ordered = plantingOrder(
    {
      x,
      y,
      part: timing.layout === "bar" ? null : partOf({ ...columns, layout: timing.layout }),
      seconds: timing.hasClockTime ? values.time! : null,
      isSideBySide: timing.layout !== "bar",
      machine: labels.machine?.codes ?? null,
      headingDeg: values.heading ?? null,
      recordNumber: (place) => recordNumber(layer, kept[place]!),
      timeColumn: reading.found("time")?.group.label ?? null,
    },
    notes,
  );
  if (ordered.isScattered) {
    throw new FileUnusableError(
      `${layer.file}: its records stand in no order in which a planter could have driven them, and no column tells their order; a time of each record, or the records in the order of planting, would be accepted`,
      {
        file: layer.file,
        field: "time",
        accepted: "a time of each record, or records in the order of planting",
      },
    );
  }
  if (ordered.seconds && timing.hasClockTime) values.time = ordered.seconds;
  if (ordered.byPosition) timing.hasClockTime = false;
  return ordered.order;
}

/** Columns with their records in another order. */
export function inOrder({ values, labels }: Columns, order: Int32Array): Columns {
  const ordered: Columns = { values: {}, labels: {} };
  for (const [variable, column] of Object.entries(values) as [LogVariable, Float64Array][]) {
    ordered.values[variable] = pick(column, order);
  }
  for (const [variable, label] of Object.entries(labels) as [
    LogVariable,
    NonNullable<Columns["labels"]["pass"]>,
  ][]) {
    ordered.labels[variable] = { ...label, codes: order.map((record) => label.codes[record]!) };
  }
  return ordered;
}
