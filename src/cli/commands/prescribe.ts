/** `evenstand prescribe`: loads by soil zone, as sheet, tables, zones and task files. */
import { resolve } from "node:path";
import { isEvenstandError } from "../../errors.ts";
import { loadField } from "../../field/load.ts";
import { analyseField } from "../../jobs/analyse.ts";
import { editRefusal, prescribe } from "../../jobs/prescribe.ts";
import { SETTING_BOUNDS, ZONE_LOAD_BOUND } from "../../manifest/prescription-bounds.ts";
import type {
  Channel,
  DownForceSystem,
  Prescription,
  PrescriptionSettings,
  ZoneEdits,
} from "../../prescription/prescription.ts";
import { boundedQuantity } from "../../quantities/bounded-quantity.ts";
import type { Moisture } from "../../vocabulary/moisture.ts";
import { prescriptionText } from "../../words/prescription-text.ts";
import {
  ALL_TASK_FILES,
  type TaskFileKind,
  taskFileKindName,
  USUAL_TASK_FILES,
} from "../../write/iso11783/kinds.ts";
import { prescriptionFiles } from "../../write/prescription-files.ts";
import { openCommandField } from "../files/field-of-command.ts";
import { prepareOutputFolder, writeOutputFolder } from "../files/output-folder.ts";
import { asOption } from "../terminal/as-option.ts";
import { CommandLineError } from "../terminal/failure.ts";
import { type Io, mayStyle } from "../terminal/io.ts";
import { bold, cleanedJson } from "../terminal/printed.ts";
import { textWidth } from "../terminal/text-width.ts";

export interface PrescribeFlags {
  out: string;
  moisture?: Moisture;
  channel?: Channel;
  minimum?: string;
  maximum?: string;
  largestStep?: string;
  rateStep?: string;
  system?: DownForceSystem;
  lag?: string;
  smallestArea?: string;
  mostRates?: number;
  gridCell?: string;
  outside?: string;
  lostPosition?: string;
  proofStrips: boolean;
  load?: string[];
  taskFiles?: string[];
  flat?: boolean;
  allowUncovered?: boolean;
  json?: boolean;
  allowOutside?: boolean;
}

/** Options that are quantities, and the setting each stands for. */
const QUANTITIES = {
  minimum: { option: "--minimum", setting: "minimumMarginN" },
  maximum: { option: "--maximum", setting: "maximumMarginN" },
  largestStep: { option: "--largest-step", setting: "largestStepN" },
  rateStep: { option: "--rate-step", setting: "rateStepN" },
  lag: { option: "--lag", setting: "lagS" },
  smallestArea: { option: "--smallest-area", setting: "smallestAreaHa" },
  gridCell: { option: "--grid-cell", setting: "gridCellM" },
  outside: { option: "--outside", setting: "outsideMarginN" },
  lostPosition: { option: "--lost-position", setting: "lostPositionMarginN" },
} as const;

/** Works the loads out, writes the files into the folder, and prints the loads in words or with `json` as the document. */
export async function prescribeCommand(field: string, flags: PrescribeFlags, io: Io): Promise<void> {
  const folder = resolve(io.workingFolder, flags.out);
  const given = settingsOf(flags);
  const edits = editsOf(flags.load ?? []);
  const taskFiles = taskFilesOf(flags.taskFiles);
  prepareOutputFolder(folder);
  const { manifest, files } = await openCommandField(field, flags.allowOutside ?? false, io);
  const loaded = await loadField(manifest, files.open);
  const analysis = await analyseField(loaded);
  const settings = given;
  const prescription = withOptionsBlamed(given, () => {
    if (Object.keys(edits).length > 0) requireEdits(prescribe(analysis, settings), edits);
    return prescribe(analysis, settings, edits);
  });
  const made = prescriptionFiles(prescription, loaded.frame, { taskFiles });
  writeOutputFolder(folder, made.files);
  const document = made.files.find(({ name }) => name === "prescription.json")!.content as string;
  if (flags.json) io.out(cleanedJson(document));
  else {
    const emphasise = mayStyle(io) ? bold : (text: string) => text;
    io.out(prescriptionText(prescription, { width: textWidth(io), emphasise }));
  }
  for (const note of made.notes) io.err(`${note}\n`);
  io.err(`Files are in ${flags.out}; print cab-sheet.html there for the cab.\n`);
}

function settingsOf(flags: PrescribeFlags): Partial<PrescriptionSettings> {
  const settings: Partial<PrescriptionSettings> = {};
  if (flags.moisture !== undefined) settings.moisture = flags.moisture;
  if (flags.channel !== undefined) settings.channel = flags.channel;
  if (flags.mostRates !== undefined) settings.mostRates = flags.mostRates;
  if (flags.system !== undefined) settings.system = flags.system;
  if (flags.flat) settings.flat = true;
  if (flags.allowUncovered) settings.allowUncovered = true;
  if (!flags.proofStrips) settings.proofStrips = false;
  for (const [flag, { option, setting }] of Object.entries(QUANTITIES)) {
    const text = flags[flag as keyof typeof QUANTITIES];
    if (text !== undefined)
      settings[setting] = asOption(option, () => boundedQuantity(text, SETTING_BOUNDS[setting], option));
  }
  return settings;
}

function editsOf(texts: readonly string[]): ZoneEdits {
  const edits = new Map<string, number>();
  for (const text of texts) {
    const at = text.lastIndexOf("=");
    const soilZone = text.slice(0, Math.max(at, 0)).trim();
    if (soilZone === "" || edits.has(soilZone))
      throw new CommandLineError(
        `--load "${text}" ${soilZone === "" ? "names no zone" : "names a zone for the second time"}; write the soil zone, "=" and its load, such as "clay loam=95 lbf"`,
        { value: text, accepted: '"clay loam=95 lbf"' },
      );
    edits.set(
      soilZone,
      asOption("--load", () =>
        boundedQuantity(text.slice(at + 1).trim(), ZONE_LOAD_BOUND, `--load ${soilZone}`),
      ),
    );
  }
  return Object.fromEntries(edits);
}

function requireEdits(prescription: Prescription, edits: ZoneEdits): void {
  for (const [soilZone, marginN] of Object.entries(edits)) {
    const refusal = editRefusal(prescription, soilZone, marginN);
    if (refusal !== null)
      throw new CommandLineError(`--load ${soilZone}: ${refusal}`, {
        value: soilZone,
        accepted: prescription.decisions.map((decision) => decision.soilZone).join(", "),
      });
  }
}

function taskFilesOf(names: readonly string[] | undefined): readonly TaskFileKind[] {
  if (names === undefined) return USUAL_TASK_FILES;
  if (names.includes("all")) return ALL_TASK_FILES;
  const known = new Map(ALL_TASK_FILES.map((kind) => [taskFileKindName(kind), kind]));
  const wrong = names.find((name) => name !== "none" && !known.has(name));
  if (wrong !== undefined)
    throw new CommandLineError(`--task-files ${wrong}: there is no such kind`, {
      value: wrong,
      accepted: ["all", "none", ...known.keys()].join(", "),
    });
  return [...new Set(names)].flatMap((name) => known.get(name) ?? []);
}

/** A setting that cannot be is the command line's fault where it came from there. */
function withOptionsBlamed(given: Partial<PrescriptionSettings>, work: () => Prescription): Prescription {
  try {
    return work();
  } catch (error) {
    const setting = isEvenstandError(error) ? error.details.field?.replace("prescription.", "") : undefined;
    if (!isEvenstandError(error) || setting === undefined || !(setting in given)) throw error;
    throw new CommandLineError(error.message, { ...error.details, cause: error });
  }
}
