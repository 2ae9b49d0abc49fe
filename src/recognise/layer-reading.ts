/** What loading each layer needs: its columns recognised, its report, its values in inside units. */
import type { Note } from "../errors.ts";
import type { RawColumn, RawLayer } from "../ingest/layer.ts";
import { NoteBook } from "../ingest/note-book.ts";
import { recordNumber } from "../ingest/record-number.ts";
import type { LayerRole } from "../manifest/manifest.ts";
import type { ColumnChoice } from "../manifest/manifest-schema.ts";
import { median } from "../numerics/descriptive.ts";
import type { InputReport } from "../vocabulary/field.ts";
import { insideValue, type VariableDescription } from "../vocabulary/variable-description.ts";
import { textAt } from "./column-text.ts";
import { requireClear } from "./open-choice.ts";
import { recogniseColumns } from "./recognise.ts";
import type { FoundVariable, RecogniseOptions, RecognitionResult } from "./recognition.ts";
import { tidy } from "./units/unit-question.ts";

export class LayerReading {
  readonly layer: RawLayer;
  readonly role: LayerRole;
  readonly notes = new NoteBook();
  readonly recognition: RecognitionResult;
  readonly #targetPerHa: number | null;

  /**
   * Recognises the columns of a layer.
   * @throws {ChoiceNeededError} where a column or a unit is the user's to choose.
   */
  constructor(
    layer: RawLayer,
    role: LayerRole,
    catalogue: Readonly<Record<string, VariableDescription>>,
    columns: Readonly<Record<string, ColumnChoice | undefined>> | undefined,
    options: Omit<RecogniseOptions, "role" | "choices"> = {},
  ) {
    this.layer = layer;
    this.role = role;
    this.#targetPerHa = options.hints?.expected?.population?.value ?? null;
    this.recognition = recogniseColumns(layer, catalogue, { ...options, role, choices: columns ?? {} });
    requireClear(layer.file, this.recognition.open);
  }

  found(variable: string): FoundVariable | null {
    return this.recognition.found.get(variable) ?? null;
  }

  /**
   * Values of a variable for the kept records, in its inside unit; null where the layer has none. Values that are
   * not possible become NaN and are noted.
   * @param kept record numbers, 0-based
   * @param part which column of a list with one column per row unit
   */
  numbers(variable: string, kept: Int32Array, part = 0): Float64Array | null {
    const found = this.found(variable);
    const values = found?.numbers[part] ?? found?.numbers[0];
    if (!found || !values) return null;
    const { insideUnit, possible } = found.description;
    const ofTarget = found.unit === "%" && found.description.percentOfTarget === true;
    const target = ofTarget ? this.#target(kept) : null;
    const [offset, factor] = ofTarget ? [0, 0.01] : linearConversion(found.unit, found.description);
    const [low, high] = possible ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
    // A share of exactly 1 may come out a little above it.
    const slack = (Math.abs(high) + Math.abs(low)) * 1e-9;
    const result = new Float64Array(kept.length);
    for (let index = 0; index < kept.length; index++) {
      const raw = values[kept[index]!]!;
      const value = (raw * factor + offset) * (target === null ? 1 : target[index]!);
      const isPossible = !(value < low - slack || value > high + slack);
      result[index] = isPossible ? value : Number.NaN;
      if (!isPossible) {
        this.notes.add({
          reason: `is not a possible ${variable}: ${tidy(low)} to ${tidy(high)} ${insideUnit ?? ""} would be accepted; the value is left out`,
          effect: "left out",
          field: found.group.columns[part]?.name ?? found.group.label,
          record: recordNumber(this.layer, kept[index]!),
          value: String(raw),
        });
      }
    }
    return result;
  }

  /** Target population of the kept records, seeds/ha: of the log, else of the manifest. */
  #target(kept: Int32Array): Float64Array {
    const logged = this.numbers("targetPopulation", kept);
    const whole = this.#targetPerHa ?? Number.NaN;
    return logged ?? new Float64Array(kept.length).fill(whole);
  }

  /** Lets the column of a variable go that nothing asks for again; one per row unit, or a target that others are shares of, stays. */
  release(variable: string): void {
    const found = this.found(variable);
    const column = found?.group.columns[0];
    if (!found || !column || found.group.columns.length > 1 || variable === "targetPopulation") return;
    for (const other of this.recognition.found.values())
      if (other !== found && other.group.columns.includes(column)) return;
    found.numbers = [];
    empty(column);
  }

  /** Lets the positions as they stand in the file go, and the columns that are no variable. */
  releaseUnused(): void {
    this.layer.x = new Float64Array(0);
    this.layer.y = new Float64Array(0);
    const used = new Set([...this.recognition.found.values()].flatMap(({ group }) => group.columns));
    for (const column of this.layer.columns) if (!used.has(column)) empty(column);
  }

  /** Text of a variable for the kept records, null where missing; null altogether where the layer has none. */
  texts(variable: string, kept: Int32Array): (string | null)[] | null {
    const column = this.found(variable)?.group.columns[0];
    if (!column) return null;
    return Array.from(kept, (record) => textAt(column, record));
  }

  /** The report of this layer. */
  report(used: number, earlier: readonly Note[] = []): InputReport {
    const { layer, recognition } = this;
    return reportOf(layer, this.role, used, {
      recognised: recognition.recognised,
      unrecognised: recognition.unrecognised,
      unusedReasons: recognition.unusedReasons,
      notes: [...earlier, ...recognition.notes, ...this.notes.notes()],
    });
  }
}

function empty(column: RawColumn): void {
  if (column.kind === "number") column.values = new Float64Array(0);
  else column.codes = new Int32Array(0);
}

/** The report of a layer: what its reader noted first, then what the loading noted. */
export function reportOf(
  layer: RawLayer,
  role: LayerRole,
  used: number,
  parts: Pick<InputReport, "recognised" | "unrecognised" | "unusedReasons" | "notes">,
): InputReport {
  return {
    role,
    file: layer.file,
    sha256: null,
    records: layer.recordsInFile ?? layer.recordCount,
    used,
    leftOut: (layer.recordsInFile ?? layer.recordCount) - used,
    crs: layer.crs.name,
    ...parts,
    notes: [...layer.notes, ...parts.notes],
  };
}

/** Offset and factor of the conversion of a variable's values into its inside unit. */
function linearConversion(from: string, description: VariableDescription): [number, number] {
  if (from === "1") return [0, 1];
  const offset = insideValue(0, from, description);
  return [offset, insideValue(1, from, description) - offset];
}

/**
 * Record numbers (0-based) that have a position in the frame. Records without one are noted by the reader already;
 * here only those are noted whose position does not fit the coordinate system.
 */
export function recordsWithPosition(reading: LayerReading, x: Float64Array, y: Float64Array): Int32Array {
  const { layer, notes } = reading;
  const kept = new Int32Array(x.length);
  let count = 0;
  for (let record = 0; record < x.length; record++) {
    if (Number.isFinite(x[record]!) && Number.isFinite(y[record]!)) {
      kept[count] = record;
      count += 1;
    } else if (Number.isFinite(layer.x[record]!) && Number.isFinite(layer.y[record]!)) {
      notes.add({
        reason: `the position does not fit the coordinate system (${layer.crs.name}); the record is left out`,
        effect: "left out",
        record: recordNumber(layer, record),
        value: `${layer.x[record]}, ${layer.y[record]}`,
      });
    }
  }
  return kept.slice(0, count);
}

/** The entries of a column at the given record numbers. */
export function pick(values: Float64Array, kept: Int32Array): Float64Array {
  const picked = new Float64Array(kept.length);
  for (let index = 0; index < kept.length; index++) picked[index] = values[kept[index]!]!;
  return picked;
}

/** Middles are taken from at most about this many values, evenly spread. */
const MIDDLE_SAMPLE = 20_000;

/** Median of an even sample of the finite values; a few far off do not move it. NaN where there are none. */
export function middleOfSample(values: Float64Array): number {
  const stride = Math.max(1, Math.floor(values.length / MIDDLE_SAMPLE));
  const sample: number[] = [];
  for (let index = 0; index < values.length; index += stride) {
    if (Number.isFinite(values[index]!)) sample.push(values[index]!);
  }
  return median(Float64Array.from(sample));
}
