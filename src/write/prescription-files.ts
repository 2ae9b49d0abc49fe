/** All files of a prescription, with what each is for; the same for the command and the page. */
import { zipSync } from "fflate";
import { isEvenstandError } from "../errors.ts";
import type { Prescription } from "../prescription/prescription.ts";
import type { UnitSystem } from "../quantities/format.ts";
import { prescriptionDocument } from "../report/prescription-document.ts";
import { writtenFigures } from "../report/written-figures.ts";
import type { LocalFrame } from "../vocabulary/field.ts";
import { cabSheet } from "./cab-sheet.ts";
import { type TaskFileKind, taskFileKindName, USUAL_TASK_FILES } from "./iso11783/kinds.ts";
import { taskGridCellM, writeTaskFiles } from "./iso11783/task-files.ts";
import { prescriptionCsv } from "./prescription-csv.ts";
import { rateZonesGeoJson, rateZonesNameMap, rateZonesShapefile } from "./rate-zones-files.ts";

export { ALL_TASK_FILES, type TaskFileKind, taskFileKindName, USUAL_TASK_FILES } from "./iso11783/kinds.ts";

export interface PrescriptionFile {
  name: string;
  content: string | Uint8Array;
  /** What it is for, in a few words. */
  purpose: string;
}

/** The files, and notes on those that could not be written or differ from what was asked. */
export function prescriptionFiles(
  prescription: Prescription,
  frame: LocalFrame,
  options: { taskFiles?: readonly TaskFileKind[]; units?: UnitSystem } = {},
): { files: PrescriptionFile[]; notes: string[] } {
  const { taskFiles = USUAL_TASK_FILES, units = "farm" } = options;
  const { moisture, gridCellM } = prescription.settings;
  const { quantity, reason } = prescription.channel;
  const files: PrescriptionFile[] = [
    {
      name: "cab-sheet.html",
      content: cabSheet(prescription, frame, units),
      purpose: "one page to print for the cab",
    },
    {
      name: "prescription.csv",
      content: prescriptionCsv(prescription, frame, units),
      purpose: "a line a soil zone or place",
    },
    {
      name: "prescription.json",
      content: `${JSON.stringify(writtenFigures(prescriptionDocument(prescription)), null, 1)}\n`,
      purpose: "everything decided, for programs",
    },
  ];
  if (prescription.withheld !== null)
    return { files, notes: [`No file of rates is written: ${prescription.withheld}.`] };
  const shapefile = rateZonesShapefile(prescription, frame, units);
  const nameMap = rateZonesNameMap(prescription, units);
  files.push(
    { name: shapefile.name, content: shapefile.bytes, purpose: "zones as shapefile, zipped" },
    { name: nameMap.name, content: nameMap.text, purpose: "what the columns mean" },
    {
      name: `rates-${moisture}.geojson`,
      content: `${JSON.stringify(rateZonesGeoJson(prescription, frame, units))}\n`,
      purpose: "zones as GeoJSON",
    },
  );
  const notes: string[] = [];
  if (quantity === null && taskFiles.length > 0)
    notes.push(`No task file: ${reason ?? "no channel is declared"}.`);
  else {
    for (const kind of taskFiles) {
      try {
        const parts = writeTaskFiles(prescription, frame, kind, units);
        const name = `task-${moisture}-${taskFileKindName(kind)}.zip`;
        files.push({ name, content: zipped(parts), purpose: purposeOf(kind) });
      } catch (error) {
        if (!isEvenstandError(error)) throw error;
        if (!notes.includes(sentence(error.message))) notes.push(sentence(error.message));
      }
    }
    if (quantity === "added-force" && files.some(({ name }) => name.startsWith("task-")))
      notes.push(
        "The task files' force is that of one row unit (ISO 11783-11 DDI 426, in N), not of all row units together: see that the machine takes it so.",
      );
    if (quantity === "pressure" && files.some(({ name }) => name.startsWith("task-")))
      notes.push(
        "The task files' pressure is that of the down-force system as a whole (ISO 11783-11 DDI 365, in Pa), the same for all row units: see that the machine takes it so.",
      );
    if (files.some(({ name }) => name.includes("-grid-"))) {
      const cellM = taskGridCellM(prescription, frame);
      if (cellM !== gridCellM)
        notes.push(
          `The cells of the grid are ${Number(cellM.toFixed(2))} m: at ${gridCellM} m a zone would be missed.`,
        );
    }
  }
  return { files, notes };
}

/** A zip keeps local time: the parts of the date are the same in every time zone. */
function zipped(parts: readonly { name: string; bytes: Uint8Array }[]): Uint8Array {
  return zipSync(Object.fromEntries(parts.map(({ name, bytes }) => [name, bytes])), {
    level: 6,
    mtime: new Date(1980, 0, 1),
  });
}

function purposeOf({ version, zones }: TaskFileKind): string {
  const ground = {
    polygons: "polygons",
    "grid-1": "a grid that names zones (type 1)",
    "grid-2": "a grid of set-points (type 2)",
  }[zones];
  return `ISO 11783-10 task, version ${version}, ${ground}`;
}

function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}
