/** `evenstand analyse`: the whole job on one field, into a folder. */
import { resolve } from "node:path";
import { loadField } from "../../field/load.ts";
import type { Analysis } from "../../findings/analysis.ts";
import { analyseField, STAGES } from "../../jobs/analyse.ts";
import { findingsJson, resultFiles, resultReport } from "../../jobs/results.ts";
import type { LayerRole } from "../../manifest/manifest.ts";
import type { Language } from "../../texts/language.ts";
import { ledgerText } from "../../words/ledger-text.ts";
import { installedChromium } from "../browser/installed-browser.ts";
import { openCommandField } from "../files/field-of-command.ts";
import { type OutputFile, prepareOutputFolder, writeOutputFolder } from "../files/output-folder.ts";
import { reportTemplate } from "../files/report-file.ts";
import { type Io, mayStyle } from "../terminal/io.ts";
import { bold, cleanedJson } from "../terminal/printed.ts";
import { StageClock } from "../terminal/progress.ts";
import { textWidth } from "../terminal/text-width.ts";
import { type Paper, printReport } from "./print-report.ts";

export interface AnalyseFlags {
  out: string;
  pdf?: boolean;
  paper: Paper;
  language: Language;
  json?: boolean;
  timings?: boolean;
  allowOutside?: boolean;
}

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
    const { language } = options;
    const analysis = await analyseField(loaded, { language, onStage: (stage) => clock.begin(stage) });
    clock.begin("write");
    const report = resultReport(await reportTemplate(), analysis, analysis.document, { language });
    const results: OutputFile[] = [...resultFiles(analysis, analysis.document), report];
    if (browser) {
      const { whole, short } = await printReport(browser, report.content, options.paper);
      results.push({ name: "report.pdf", content: whole }, { name: "in-short.pdf", content: short });
    }
    writeOutputFolder(folder, results);
    clock.end();
    io.out(options.json ? cleanedJson(findingsJson(analysis.document)) : ledgerForTerminal(analysis, io));
  } finally {
    clock.end();
  }
  if (options.timings) io.err(clock.timings());
  io.err(`Results are in ${options.out}; open report.html there for the map.\n`);
}

function ledgerForTerminal(analysis: Analysis, io: Io): string {
  const emphasise = mayStyle(io) ? bold : (text: string) => text;
  return ledgerText(analysis.document, { width: textWidth(io), emphasise });
}
