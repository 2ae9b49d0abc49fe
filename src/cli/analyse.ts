/** `evenstand analyse`: the whole job on one field, into a folder. */
import { resolve } from "node:path";
import { type Analysis, analyseField, STAGES } from "../analyse.ts";
import { PrescriptionError } from "../errors.ts";
import { loadField } from "../field/load.ts";
import type { LayerRole } from "../field/manifest.ts";
import { prescribe } from "../prescribe.ts";
import { cellsGeoJson, findingsGeoJson, geoJsonText } from "../report/geojson.ts";
import { ledgerText } from "../report/ledger-text.ts";
import { mapLayers } from "../report/map-layers.ts";
import { type PrescriptionView, prescriptionView } from "../report/prescription-view.ts";
import { passesCsv, rowUnitsCsv, soilZonesCsv } from "../report/tables.ts";
import { openCommandField } from "./field-of-command.ts";
import { installedChromium } from "./installed-browser.ts";
import { type Io, mayStyle } from "./io.ts";
import { type OutputFile, prepareOutputFolder, writeOutputFolder } from "./output-folder.ts";
import { type Paper, printReport } from "./print-report.ts";
import { bold, cleanedJson } from "./printed.ts";
import { StageClock } from "./progress.ts";
import { reportFile } from "./report-file.ts";
import type { AnalyseFlags } from "./run.ts";
import { textWidth } from "./text-width.ts";

const REPORT_NAME = "report.html";

/**
 * Reads the field, analyses it and writes the results folder; prints the findings in words, or with `json`
 * the document itself, to standard output.
 */
export async function analyse(field: string, options: AnalyseFlags, io: Io): Promise<void> {
  const folder = resolve(io.workingFolder, options.out);
  prepareOutputFolder(folder);
  // Before any work is done: without a browser to print with the rest would be thrown away.
  const browser = options.pdf ? installedChromium(io) : null;
  const clock = new StageClock(io, ["read", ...STAGES, "write"]);
  try {
    clock.begin("read");
    const { manifest, files } = await openCommandField(field, options.allowOutside ?? false, io);
    const loaded = await loadField(manifest, files.open);
    for (const input of loaded.inputs) {
      const path = manifest[input.role as LayerRole]?.file ?? input.file;
      input.sha256 = files.hashes.get(path) ?? null;
    }
    const analysis = await analyseField(loaded, { onStage: (stage) => clock.begin(stage) });
    clock.begin("write");
    const findings = jsonText(analysis.document);
    const results = await outputFiles(analysis, findings);
    if (browser) results.push(await printedReport(browser, results, options.paper));
    writeOutputFolder(folder, results);
    clock.end();
    io.out(options.json ? cleanedJson(findings) : ledgerForTerminal(analysis, io));
  } finally {
    clock.end();
  }
  if (options.timings) io.err(clock.timings());
  io.err(`Results are in ${options.out}; open report.html there for the map.\n`);
}

async function printedReport(
  browser: string,
  files: readonly OutputFile[],
  paper: Paper,
): Promise<OutputFile> {
  const report = files.find(({ name }) => name === REPORT_NAME)!;
  return { name: "report.pdf", content: await printReport(browser, String(report.content), paper) };
}

async function outputFiles(analysis: Analysis, findings: string): Promise<OutputFile[]> {
  const { document } = analysis;
  const layers = mapLayers(analysis);
  return [
    { name: "findings.json", content: findings },
    { name: "passes.csv", content: passesCsv(document.comparison) },
    { name: "row-units.csv", content: rowUnitsCsv(document.comparison) },
    { name: "soil-zones.csv", content: soilZonesCsv(document.comparison) },
    { name: "findings.geojson", content: geoJsonText(findingsGeoJson(document)) },
    { name: "cells.geojson", content: geoJsonText(cellsGeoJson(analysis, layers)) },
    { name: REPORT_NAME, content: await reportFile(document, layers, prescriptionOf(analysis)) },
  ];
}

/** With the choices of the field's manifest; null where the field allows none, which its report then leaves out. */
function prescriptionOf(analysis: Analysis): PrescriptionView | null {
  try {
    return prescriptionView(prescribe(analysis), analysis.field);
  } catch (error) {
    if (error instanceof PrescriptionError) return null;
    throw error;
  }
}

function ledgerForTerminal(analysis: Analysis, io: Io): string {
  const emphasise = mayStyle(io) ? bold : (text: string) => text;
  return ledgerText(analysis.document, { width: textWidth(io), emphasise });
}

function jsonText(value: unknown): string {
  return `${JSON.stringify(value, null, 1)}\n`;
}
