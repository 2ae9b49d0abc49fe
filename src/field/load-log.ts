/** The planting log: records with a position, every recognised variable in its inside unit. */
import { FileUnusableError, NothingToAnalyseError } from "../errors.ts";
import { projectColumns } from "../ingest/crs/crs.ts";
import type { RawLayer } from "../ingest/layer.ts";
import { recordNumber } from "../ingest/record-number.ts";
import { seedsPerKg } from "../manifest/manifest-quantities.ts";
import type { Manifest } from "../manifest/manifest-schema.ts";
import { recordsWhere } from "../numerics/present.ts";
import { foreignLog } from "../recognise/foreign-log.ts";
import { labelColumn } from "../recognise/label-column.ts";
import { LayerReading, middleOfSample, pick, recordsWithPosition } from "../recognise/layer-reading.ts";
import { pressureColumns } from "../recognise/unused-reason.ts";
import { LOG_CATALOGUE } from "../vocabulary/catalogue-log.ts";
import type { InputReport, LocalFrame, PlanterSetup, PlantingLog, Targets } from "../vocabulary/field.ts";
import { LOG_VARIABLES, type LogVariable, PLANTING_VARIABLES } from "../vocabulary/variables.ts";
import { depthSourceOf } from "./depth-source.ts";
import { type Expected, expectedMiddles } from "./expected-middles.ts";
import { readFootprints } from "./footprints.ts";
import { requireGround } from "./frame-of-log.ts";
import { type LogTime, timeOf } from "./log-time.ts";
import { inOrder, orderOf, timingOf } from "./order/order-of-log.ts";
import { withoutRepeats } from "./repeated-records.ts";
import { markStanding } from "./standing-records.ts";
import { dropSteadyLoad } from "./steady-load.ts";
import { wayOfLog } from "./way-of-log.ts";
import { spreadRowUnits } from "./wide-log.ts";

export interface LoadedLog {
  log: PlantingLog;
  report: InputReport;
  /** ISO date of the first record with a date, null where the log has none. */
  firstDate: string | null;
}

/** A position this far from the middle of the others is a fault of the receiver (our judgement). */
const FARTHEST_FROM_MIDDLE_M = 20_000;

/**
 * Loads the planting log.
 * @param mayEmpty the layer is nobody else's: its columns are let go as they are read
 * @throws {NothingToAnalyseError} when no column says how well it was planted.
 * @throws {ChoiceNeededError} where a column or a unit is the user's to choose.
 * @throws {FileUnusableError} where the numbers and the coordinate system do not go together
 */
export function loadLog(
  layer: RawLayer,
  manifest: Manifest,
  frame: LocalFrame,
  planter: PlanterSetup,
  targets: Targets,
  mayEmpty = false,
): LoadedLog {
  const { x, y } = projectColumns(layer.x, layer.y, layer.crs, frame);
  requireGround(layer, x, y);
  const expected: Expected = expectedMiddles(planter, targets);
  const { ground, sections, ...way } = wayOfLog(layer, x, y, frame);
  const reading = new LayerReading(layer, "plantingLog", LOG_CATALOGUE, manifest.plantingLog.columns, {
    rowUnits: planter.rowUnits,
    year: manifest.planted ? Number(manifest.planted.slice(0, 4)) : (manifest.season ?? null),
    hints: { expected, ...way.hints, crop: manifest.crop ?? "corn", seedsPerKg: seedsPerKg(manifest) },
    wayOver: way.wayOver,
  });
  refuseForeign(layer);
  requirePlantingVariable(reading);
  const placed = nearTheOthers(x, y, recordsWithPosition(reading, x, y), reading);
  const inFileOrder = withoutRepeats(layer, placed, reading.notes);
  if (inFileOrder.length === 0) {
    throw new NothingToAnalyseError(
      `${layer.file}: none of its ${layer.recordCount} records has a position`,
      {
        file: layer.file,
      },
    );
  }
  const time = timeOf(reading, inFileOrder, manifest.planted ?? null);
  if (mayEmpty) reading.releaseUnused();
  const filed = columnsOf(reading, inFileOrder, time?.seconds ?? null, mayEmpty);
  const place = { x: pick(x, inFileOrder), y: pick(y, inFileOrder) };
  if (sections && !namesMoments(filed, time)) {
    filed.labels.section = { ...sections, codes: inFileOrder.map((record) => sections.codes[record]!) };
    reading.notes.add({
      reason: `neither a time nor a section in the log: polygons that follow each other across the way are taken as the ${sections.labels.length} sections of one moment`,
      effect: "assumed",
      count: inFileOrder.length,
    });
  }
  const timing = timingOf(time, filed, place);
  const sequence = orderOf(reading, inFileOrder, place, filed, timing);
  const kept = sequence ? sequence.map((place) => inFileOrder[place]!) : inFileOrder;
  const built = sequence ? inOrder(filed, sequence) : filed;
  const placedLog: Pick<PlantingLog, "recordCount" | "x" | "y" | "values" | "labels" | "footprints"> = {
    recordCount: kept.length,
    x: sequence ? pick(place.x, sequence) : place.x,
    y: sequence ? pick(place.y, sequence) : place.y,
    ...built,
  };
  if (ground) readFootprints(placedLog, reading, kept, ground, frame);
  markStanding(built.values, kept, reading);
  const log: PlantingLog = {
    ...placedLog,
    depthSource: "unknown",
    fileRecord: kept.map((record) => recordNumber(layer, record)),
    hasClockTime: timing.hasClockTime,
    isInPlantingOrder: true,
    ...(time?.clockFromZero ? { clockFromZero: true } : {}),
    layout: timing.layout,
  };
  const spread = spreadRowUnits(log, reading, kept, frame, planter);
  dropSteadyLoad(reading, spread.values);
  notePressures(reading);
  spread.depthSource = depthSourceOf(reading, spread.values);
  return { log: spread, report: reading.report(kept.length), firstDate: time?.firstDate ?? null };
}

/** True where the log itself tells which records belong to one moment. */
function namesMoments({ values, labels }: Columns, time: LogTime | null): boolean {
  if (values.rowUnit || labels.rowUnit || labels.section || values.section) return true;
  return Boolean(time?.hasClockTime) && new Set(time!.seconds).size > 1;
}

/** Speed and width alone would let the log of any machine through. */
function refuseForeign(layer: RawLayer): void {
  const foreign = foreignLog(layer);
  if (foreign === null) return;
  const accepted = "the log the planter wrote";
  throw new NothingToAnalyseError(
    `${layer.file}: looks like ${foreign.kind} ("${foreign.column}"), not like a planting log; ${accepted} is needed`,
    { file: layer.file, value: foreign.column, accepted },
  );
}

function requirePlantingVariable(reading: LayerReading): void {
  if (PLANTING_VARIABLES.some((variable) => reading.found(variable) !== null)) return;
  const { file, columns } = reading.layer;
  const names = columns.map((column) => `"${column.name}"`).join(", ");
  const accepted = PLANTING_VARIABLES.join(", ");
  const seen = names === "" ? "it has no columns" : `its columns are ${names}`;
  const why = reading.recognition.notes
    .filter((note) => note.field !== null)
    .map((note) => `"${note.field}" ${note.reason}`);
  throw new NothingToAnalyseError(
    `${file}: no column says how well it was planted; ${seen}. One of these variables is needed: ${accepted}${
      why.length > 0 ? `. Looked at: ${why.join("; ")}` : ""
    }. Name the column in "plantingLog": { "columns": { … } } of the manifest`,
    { file, accepted, value: names },
  );
}

/** Without a load, a column in a unit of pressure may be meant for it: it is named with the unit that would be read. */
function notePressures(reading: LayerReading): void {
  if (reading.found("downForceMargin")) return;
  const { unrecognised, unusedReasons } = reading.recognition;
  for (const { name, reason } of pressureColumns(unrecognised, unusedReasons))
    reading.notes.add({ reason, effect: "left out", field: name });
}

/** Leaves out positions that lie far from the middle of all others, such as 0, 0. */
function nearTheOthers(
  x: Float64Array,
  y: Float64Array,
  kept: Int32Array,
  reading: LayerReading,
): Int32Array {
  const middleX = middleOfSample(x);
  const middleY = middleOfSample(y);
  return recordsWhere(kept, (record) => {
    const near = (x[record]! - middleX) ** 2 + (y[record]! - middleY) ** 2 <= FARTHEST_FROM_MIDDLE_M ** 2;
    if (!near) {
      reading.notes.add({
        reason: `the position lies more than ${FARTHEST_FROM_MIDDLE_M / 1000} km from the others; the record is left out`,
        effect: "left out",
        record: recordNumber(reading.layer, record),
        value: `${reading.layer.x[record]}, ${reading.layer.y[record]}`,
      });
    }
    return near;
  });
}

type Columns = Pick<PlantingLog, "values" | "labels">;

function columnsOf(
  reading: LayerReading,
  kept: Int32Array,
  seconds: Float64Array | null,
  mayEmpty: boolean,
): Columns {
  const values: PlantingLog["values"] = {};
  const labels: PlantingLog["labels"] = {};
  if (seconds) values.time = seconds;
  for (const variable of Object.keys(LOG_VARIABLES) as LogVariable[]) {
    const found = reading.found(variable);
    if (!found || variable === "time") continue;
    const { kind } = found.description;
    if (kind === "label") labels[variable] = labelColumn(found.group.columns[0]!, kept);
    else if (kind === "flag") values[variable] = flags(reading, variable, kept);
    else values[variable] = reading.numbers(variable, kept)!;
    if (mayEmpty) reading.release(variable);
  }
  if (values.heading) values.heading = withinOneTurn(values.heading, reading);
  return { values, labels };
}

/** Headings as 0 to 360; those past a full turn (not just counted from -180) are noted. */
function withinOneTurn(heading: Float64Array, reading: LayerReading): Float64Array {
  const past = heading.filter((degrees) => degrees > 360 || degrees < -180).length;
  if (past > 0) {
    reading.notes.add({
      reason: "is past a full turn; taken as the same direction between 0 and 360 degrees",
      effect: "converted",
      field: reading.found("heading")!.group.label,
      count: past,
    });
  }
  return heading.map((degrees) => ((degrees % 360) + 360) % 360);
}

const ON = new Set(["1", "true", "yes", "y", "on", "working", "active", "planting", "engaged"]);
const OFF = new Set(["0", "false", "no", "n", "off", "not working", "inactive", "lifted", "disengaged"]);

function flags(reading: LayerReading, variable: LogVariable, kept: Int32Array): Float64Array {
  const texts = reading.texts(variable, kept) ?? [];
  return Float64Array.from(texts, (text, index) => {
    if (text === null) return Number.NaN;
    const word = text.trim().toLowerCase();
    if (ON.has(word)) return 1;
    if (OFF.has(word)) return 0;
    reading.notes.add({
      reason: `is neither on nor off (0, 1, yes, no, on, off would be accepted); taken as missing`,
      effect: "left out",
      field: reading.found(variable)!.group.label,
      record: recordNumber(reading.layer, kept[index]!),
      value: text,
    });
    return Number.NaN;
  });
}

/** Thrown for a log that is a table without positions. */
export function requirePositions(layer: RawLayer): void {
  if (layer.geometry !== "none" && layer.crs.definition !== null) return;
  throw new FileUnusableError(
    `${layer.file}: the planting log has no positions; points or polygons are needed`,
    {
      file: layer.file,
      accepted: "points or polygons, or a table with longitude and latitude",
    },
  );
}
