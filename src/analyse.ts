/** The whole job on one loaded field: passes, comparison, groups, causes, cost, findings. */
import type { Cells } from "./cluster/cells.ts";
import type { Field } from "./field/field.ts";
import type { Passes } from "./passes/passes.ts";
import type { FindingsDocument } from "./report/findings-document.ts";

export const STAGES = ["passes", "compare", "cells", "groups", "causes", "cost", "report"] as const;
export type Stage = (typeof STAGES)[number];

export interface AnalyseOptions {
  /** Called when a stage begins, for progress and timings; the library itself knows no clock. */
  onStage?: (stage: Stage) => void;
}

export interface Analysis {
  field: Field;
  passes: Passes;
  /** Soil zone index of each record (into field.soilZones.names), -1 where none. */
  zoneOfRecord: Int32Array;
  cells: Cells;
  document: FindingsDocument;
}

/**
 * Analyses a loaded field.
 * @throws {NothingToAnalyseError} when no record can be placed on a pass.
 */
export async function analyseField(_field: Field, _options: AnalyseOptions = {}): Promise<Analysis> {
  throw new Error("being built");
}
