/** The files of a prescription as bytes to hand over. Runs in the worker. */
import type { Prescription } from "../../src/prescription/prescription.ts";
import type { UnitSystem } from "../../src/quantities/format.ts";
import type { LocalFrame } from "../../src/vocabulary/field.ts";
import {
  ALL_TASK_FILES,
  prescriptionFiles,
  taskFileKindName,
  USUAL_TASK_FILES,
} from "../../src/write/prescription-files.ts";
import type { PrescriptionFiles } from "../protocol/protocol.ts";

/** Ends of the names of task files that few terminals ask for. */
const USUAL = new Set(USUAL_TASK_FILES.map(taskFileKindName));
const RARE_ENDINGS = ALL_TASK_FILES.map(taskFileKindName)
  .filter((name) => !USUAL.has(name))
  .map((name) => `-${name}.zip`);

export function filesOf(prescription: Prescription, frame: LocalFrame, units: UnitSystem): PrescriptionFiles {
  const { files, notes } = prescriptionFiles(prescription, frame, { taskFiles: ALL_TASK_FILES, units });
  const encoder = new TextEncoder();
  return {
    files: files.map(({ name, content, purpose }) => ({
      name,
      purpose,
      bytes: typeof content === "string" ? encoder.encode(content) : content,
      rare: RARE_ENDINGS.some((ending) => name.endsWith(ending)),
    })),
    notes,
  };
}
