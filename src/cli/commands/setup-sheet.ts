/** `evenstand setup-sheet`: what to go over on the planter before spring, from the results of analysed fields. */
import { existsSync, statSync } from "node:fs";
import { rename, rm, writeFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import type { FindingsDocument } from "../../findings/findings-document.ts";
import { findingsInText } from "../../findings/read-findings.ts";
import { formatQuantity } from "../../quantities/format.ts";
import { PRESCRIPTION_SCHEMA, type PrescriptionDocument } from "../../report/prescription-document.ts";
import { planterOf, repairItemsOf } from "../../setup/repair-item.ts";
import { SET_UP_CAUTIONS, type SetUpLoad, type SetUpPlanter, setUpSheet } from "../../setup/set-up-sheet.ts";
import { wrapped } from "../../words/wrapped-text.ts";
import { readTextFile } from "../files/field-files.ts";
import { CommandLineError } from "../terminal/failure.ts";
import type { Io } from "../terminal/io.ts";
import { textWidth } from "../terminal/text-width.ts";

export interface SetUpFlags {
  out: string;
}

/** Reads the results, one sheet a planter, writes them as one page and says what stands first. */
export async function setUpCommand(results: readonly string[], flags: SetUpFlags, io: Io): Promise<void> {
  const target = resolve(io.workingFolder, flags.out);
  refuseTarget(target, flags.out);
  const planters = new Map<string, SetUpPlanter>();
  for (const path of results) {
    const { document, prescription } = await readResults(path, io);
    const { planter, rowUnits } = planterOf(document);
    const known = planters.get(planter) ?? { name: planter, rowUnits, fields: [], items: [], loads: [] };
    planters.set(planter, {
      ...known,
      rowUnits: Math.max(known.rowUnits ?? 0, rowUnits ?? 0) || null,
      fields: [...known.fields, document.field.name],
      items: [...known.items, ...repairItemsOf(document)],
      loads: [...known.loads, ...(prescription ? loadsOf(document, prescription) : [])],
    });
  }
  const sheets = [...planters.values()];
  const staged = `${target}.part`;
  try {
    await writeFile(staged, setUpSheet(sheets));
    await rename(staged, target);
  } finally {
    await rm(staged, { force: true });
  }
  io.out(summaryText(sheets, textWidth(io)));
  io.err(`Print ${flags.out}.\n`);
}

function refuseTarget(target: string, named: string): void {
  if (!/\.html?$/i.test(named)) {
    throw new CommandLineError(`--out ${named}: a name that ends in .html is needed`, { value: named });
  }
  if (existsSync(target) && !statSync(target).isFile()) {
    throw new CommandLineError(`--out ${named}: is there and is no file`, { value: named });
  }
}

/** Findings of a folder of results, or of the file itself, and the prescription beside them where there is one. */
async function readResults(
  path: string,
  io: Io,
): Promise<{ document: FindingsDocument; prescription: PrescriptionDocument | null }> {
  const full = resolve(io.workingFolder, path);
  const isFolder = existsSync(full) && statSync(full).isDirectory();
  const file = isFolder ? join(path, "findings.json") : path;
  const document = findingsInText(await readTextFile(file, io.workingFolder), file);
  const beside = join(path, "prescription.json");
  const hasPrescription = isFolder && existsSync(resolve(io.workingFolder, beside));
  return { document, prescription: hasPrescription ? await readPrescription(beside, io) : null };
}

/** Null where the file is no prescription of ours: the sheet does without. */
async function readPrescription(path: string, io: Io): Promise<PrescriptionDocument | null> {
  try {
    const json = JSON.parse(
      await readTextFile(path, io.workingFolder),
    ) as Partial<PrescriptionDocument> | null;
    if (json?.schema === PRESCRIPTION_SCHEMA && Array.isArray(json.decisions))
      return json as PrescriptionDocument;
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
  }
  io.err(`${path}: is no prescription of evenstand; the sheet is made without its loads\n`);
  return null;
}

function loadsOf(document: FindingsDocument, { decisions }: PrescriptionDocument): SetUpLoad[] {
  const say = (newtons: number | undefined): string =>
    typeof newtons === "number" && Number.isFinite(newtons) ? formatQuantity(newtons, "force", "farm") : "";
  return decisions.map(({ soilZone, prescribedN }) => ({
    field: document.field.name,
    soilZone,
    damp: say(prescribedN?.damp),
    fit: say(prescribedN?.fit),
    dry: say(prescribedN?.dry),
  }));
}

function summaryText(planters: readonly SetUpPlanter[], width: number): string {
  const lines = planters.flatMap(({ name, fields, items }) => [
    `${name} (${fields.join(", ")}): ${items.length === 0 ? "the findings name no part of it" : "to look at first"}`,
    ...items.map(
      ({ rowUnits, title, source }) =>
        `  ${rowUnits.length === 0 ? "whole planter" : `row ${rowUnits.join(", ")}`}: ${title} (${source})`,
    ),
  ]);
  return `${[...lines, ...SET_UP_CAUTIONS].flatMap((line) => wrapped(line, width, line.startsWith("  ") ? "  " : "", 4)).join("\n")}\n`;
}
