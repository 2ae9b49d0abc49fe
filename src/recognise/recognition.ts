/** What recognising the columns of a layer gives. */
import type { Note, OpenChoice } from "../errors.ts";
import type { TimeReading } from "../ingest/values/times.ts";
import type { ColumnChoice } from "../manifest/manifest-schema.ts";
import type { Recognition } from "../vocabulary/field.ts";
import type { VariableDescription } from "../vocabulary/variable-description.ts";
import type { ColumnGroup } from "./column-groups.ts";
import type { UnitHints } from "./units/unit-question.ts";
import type { WayOver } from "./way-hints.ts";

/** One variable found in a layer. */
export interface FoundVariable {
  variable: string;
  description: VariableDescription;
  group: ColumnGroup;
  /** Values of each number column of the group, in the file's unit, marks for "no value" as NaN. Empty for text. */
  numbers: Float64Array[];
  /** The reading of a time. */
  time: TimeReading | null;
  /** Unit the values are in; "1" for numbers without one. */
  unit: string;
  confidence: number;
  reason: string;
  source: "set" | "sensed" | "dug" | null;
}

export interface RecognitionResult {
  found: Map<string, FoundVariable>;
  /** What was recognised, in the order of the catalogue. */
  recognised: Recognition[];
  /** Names of the columns that mean nothing to the job. */
  unrecognised: string[];
  /** Why each of them is not used, in the same order. */
  unusedReasons: string[];
  notes: Note[];
  /** What the user has to decide; empty when all is clear. */
  open: OpenChoice[];
}

export interface RecogniseOptions {
  /** Key of the layer in the manifest. */
  role: string;
  choices?: Readonly<Record<string, ColumnChoice | undefined>>;
  /** Row units of the bar, null where not known. */
  rowUnits?: number | null;
  /** Year of planting, null where not known. */
  year?: number | null;
  hints?: Partial<UnitHints>;
  /** What the positions tell of the way, once time and parts of the bar are known. */
  wayOver?: WayOver;
}
