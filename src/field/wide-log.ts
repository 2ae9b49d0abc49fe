/**
 * Logs with one column per row unit: each record of the bar becomes one record per row unit, placed to the left
 * and right of the bar's position by row spacing and direction of travel.
 */
import { ManifestError } from "../errors.ts";
import type { LayerReading } from "../recognise/layer-reading.ts";
import type { LocalFrame, PlanterSetup, PlantingLog } from "../vocabulary/field.ts";
import type { LogVariable } from "../vocabulary/variables.ts";
import { travelDirections } from "./travel-direction.ts";

/**
 * Spreads a log whose columns are lists over its row units; a log without lists is returned as it is.
 * @throws {ManifestError} when the lists differ in length, do not fit the bar, or the row spacing is not known.
 */
export function spreadRowUnits(
  log: PlantingLog,
  reading: LayerReading,
  kept: Int32Array,
  frame: LocalFrame,
  planter: PlanterSetup,
): PlantingLog {
  const lists = [...reading.recognition.found.values()].filter(
    (found) => found.group.columns.length > 1 && found.numbers.length === found.group.columns.length,
  );
  const first = lists[0];
  if (!first) return log;
  const rowUnits = first.numbers.length;
  for (const list of lists) requireLength(list.variable, list.numbers.length, rowUnits, planter);
  const spacing = rowSpacingOf(log, rowUnits, planter);
  const heading = travelDirections(log, frame);

  const placed = placedRecords(log, heading, reading);
  const count = placed.length * rowUnits;
  const each = (value: (record: number, unit: number) => number) => {
    const column = new Float64Array(count);
    for (const [place, record] of placed.entries()) {
      for (let unit = 0; unit < rowUnits; unit++) column[place * rowUnits + unit] = value(record, unit);
    }
    return column;
  };
  const offset = (record: number, unit: number) =>
    zeroIfMissing(log.values.lateralOffset?.[record]) + (unit - (rowUnits - 1) / 2) * spacing;

  const values: PlantingLog["values"] = {};
  for (const [variable, column] of Object.entries(log.values) as [LogVariable, Float64Array][]) {
    values[variable] = each((record) => column[record]!);
  }
  for (const { variable } of lists) {
    const parts = Array.from({ length: rowUnits }, (_, unit) => reading.numbers(variable, kept, unit)!);
    values[variable as LogVariable] = each((record, unit) => parts[unit]![record]!);
  }
  values.rowUnit = each((_, unit) => unit + 1);
  values.swathWidth = each(() => spacing);
  delete values.lateralOffset;

  const labels: PlantingLog["labels"] = {};
  for (const [variable, { codes, labels: texts }] of Object.entries(log.labels)) {
    labels[variable as LogVariable] = {
      codes: Int32Array.from(each((record) => codes[record]!)),
      labels: texts,
    };
  }
  reading.notes.add({
    reason: `one column per row unit: each record became ${rowUnits} records, placed across the bar ${spacing.toFixed(3)} m apart; values of the whole bar stand at every row unit`,
    effect: "converted",
    field: first.group.label,
    count: placed.length,
  });
  // The ground of a row unit is a strip of its record's polygon, no polygon of its own.
  const { footprints: _, ...points } = log;
  return {
    ...points,
    recordCount: count,
    // To the right of a heading h (clockwise from north) lies (cos h, -sin h).
    x: each((record, unit) => log.x[record]! + offset(record, unit) * Math.cos(heading[record]!)),
    y: each((record, unit) => log.y[record]! - offset(record, unit) * Math.sin(heading[record]!)),
    values,
    labels,
    fileRecord: Int32Array.from(each((record) => log.fileRecord[record]!)),
    layout: "row-unit",
  };
}

/** Records whose direction of travel is known; the others cannot be spread and are noted. */
function placedRecords(log: PlantingLog, heading: Float64Array, reading: LayerReading): Int32Array {
  return Int32Array.from({ length: log.recordCount }, (_, record) => record).filter((record) => {
    const known = !Number.isNaN(heading[record]!);
    if (!known) {
      reading.notes.add({
        reason: "no heading and no record near it to tell the direction of travel; the record is left out",
        effect: "left out",
        record: log.fileRecord[record]!,
      });
    }
    return known;
  });
}

function zeroIfMissing(value: number | undefined): number {
  return value === undefined || Number.isNaN(value) ? 0 : value;
}

function requireLength(variable: string, length: number, rowUnits: number, planter: PlanterSetup): void {
  const wanted = planter.rowUnits ?? rowUnits;
  if (length === wanted && length === rowUnits) return;
  throw new ManifestError(
    `plantingLog.columns.${variable} has ${length} columns, but there are ${wanted} row units; write one column per row unit`,
    { field: `plantingLog.columns.${variable}`, value: String(length), accepted: `${wanted} columns` },
  );
}

function rowSpacingOf(log: PlantingLog, rowUnits: number, planter: PlanterSetup): number {
  if (planter.rowSpacingM !== null) return planter.rowSpacingM;
  let widest = 0;
  for (const width of log.values.swathWidth ?? []) if (width > widest) widest = width;
  if (widest > 0) return widest / rowUnits;
  throw new ManifestError(
    'the log has one column per row unit, but the row spacing is not known; write "planter": { "rowSpacing": "30 in" }',
    { field: "planter.rowSpacing", accepted: "a length" },
  );
}
