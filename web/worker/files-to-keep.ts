/** What of an analysed field can be kept as files, made by the functions the command writes its folders with. Runs in the worker. */
import { zipSync } from "fflate";
import { PrescriptionError } from "../../src/errors.ts";
import type { Analysis } from "../../src/findings/analysis.ts";
import type { FindingsDocument } from "../../src/findings/findings-document.ts";
import { prescribe, withPrescribedLoads } from "../../src/jobs/prescribe.ts";
import { type ResultFile, resultFiles, resultReport, scoutFiles } from "../../src/jobs/results.ts";
import { buildDocument } from "../../src/report/build-document.ts";
import { scoutPlan } from "../../src/scout/scout-plan.ts";
import { USUAL_SCOUTING } from "../../src/scout/usual-scouting.ts";
import type { Writing } from "../../src/texts/language.ts";
import type { FileMade, FilesRequest, PrescriptionRequest } from "../protocol/protocol.ts";
import { filesOf } from "./prescription-files.ts";

/** @throws {PrescriptionError} never: where a field allows no prescription, "everything" leaves its files out */
export function filesToKeep(analysis: Analysis, request: FilesRequest): FileMade[] {
  const { group } = request;
  if (group === "everything") return [everything(analysis, request)];
  if (group === "scouting") return asBytes(scouting(analysis));
  if (group === "results")
    return asBytes(resultFiles(analysis, documentIn(analysis, request.writing, request)));
  // A report carries its sentences in farm units, whoever makes it; it is switched to metric where it is read.
  const inFarm: FilesRequest = { ...request, writing: { ...request.writing, units: "farm" } };
  return asBytes([
    resultReport(request.template ?? "", analysis, documentIn(analysis, inFarm.writing, inFarm), {
      ...inFarm,
      ...inFarm.writing,
    }),
  ]);
}

/** The document with its sentences in the units asked for, and with the loads of the prescription as it was chosen. */
export function documentIn(
  analysis: Analysis,
  writing: Writing,
  choices: Pick<PrescriptionRequest, "settings" | "edits">,
): FindingsDocument {
  return withPrescribedLoads(analysis, buildDocument({ ...analysis.parts, ...writing }), writing, choices);
}

function scouting(analysis: Analysis): ResultFile[] {
  return scoutFiles(scoutPlan(analysis, USUAL_SCOUTING), analysis);
}

function everything(analysis: Analysis, request: FilesRequest): FileMade {
  const groups: readonly (readonly [string, FileMade[]])[] = [
    ["results", filesToKeep(analysis, { ...request, group: "report" })],
    ["results", filesToKeep(analysis, { ...request, group: "results" })],
    ["scouting", filesToKeep(analysis, { ...request, group: "scouting" })],
    ["prescription", prescriptionOf(analysis, request)],
  ];
  const parts = groups.flatMap(([folder, files]) =>
    files.map(({ name, bytes }) => [`${folder}/${name}`, bytes] as const),
  );
  // A zip keeps local time: the parts of the date are the same in every time zone.
  const bytes = zipSync(Object.fromEntries(parts), { level: 6, mtime: new Date(1980, 0, 1) });
  return { name: "everything.zip", bytes };
}

/** None where the field allows no prescription; the pane of the prescription says why. */
function prescriptionOf(analysis: Analysis, { settings, edits, writing }: FilesRequest): FileMade[] {
  try {
    const prescription = prescribe(analysis, settings, edits, writing);
    return filesOf(prescription, analysis.field.frame, writing.units).files.filter(({ rare }) => !rare);
  } catch (error) {
    if (error instanceof PrescriptionError) return [];
    throw error;
  }
}

function asBytes(files: readonly ResultFile[]): FileMade[] {
  const encoder = new TextEncoder();
  return files.map(({ name, content }) => ({ name, bytes: encoder.encode(content) }));
}
