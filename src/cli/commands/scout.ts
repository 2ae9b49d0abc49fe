/** `evenstand scout`: where to count next, as files and sheets to print. */
import { resolve } from "node:path";
import { loadField } from "../../field/load.ts";
import { analyseField } from "../../jobs/analyse.ts";
import { scoutFiles } from "../../jobs/results.ts";
import { type ScoutPlan, scoutPlan } from "../../scout/scout-plan.ts";
import { SCOUT_CAUTIONS } from "../../scout/sheet.ts";
import { wrapped } from "../../words/wrapped-text.ts";
import { openCommandField } from "../files/field-of-command.ts";
import { prepareOutputFolder, writeOutputFolder } from "../files/output-folder.ts";
import type { Io } from "../terminal/io.ts";
import { textWidth } from "../terminal/text-width.ts";

export interface ScoutFlags {
  out: string;
  spots: number;
  digs: number;
  allowOutside?: boolean;
}

/** Chooses the spots, writes the files into the folder and says what they are for. */
export async function scout(field: string, flags: ScoutFlags, io: Io): Promise<void> {
  const folder = resolve(io.workingFolder, flags.out);
  prepareOutputFolder(folder);
  const { manifest, files } = await openCommandField(field, flags.allowOutside ?? false, io);
  const analysis = await analyseField(await loadField(manifest, files.open));
  const plan = scoutPlan(analysis, { spots: flags.spots, digs: Math.min(flags.digs, flags.spots) });
  writeOutputFolder(folder, scoutFiles(plan, analysis));
  io.out(summaryText(plan, textWidth(io)));
  io.err(`Print ${flags.out}/scout.html; scout.csv and scout-digs.csv are the forms to type into.\n`);
}

function summaryText(plan: ScoutPlan, width: number): string {
  const cover = plan.spots.filter(({ finding }) => finding === null).length;
  const lines = [
    `${plan.spots.length} spots to count, in walking order; digs at ${plan.spots.filter(({ dig }) => dig).length} of them.`,
    ...plan.needs.map(
      ({ finding, title, inside, beside, wanted, already }) =>
        `  ${finding} ${title}: ${inside} inside and ${beside} beside (${already} counted there, ${wanted} settle it)`,
    ),
    `  ${cover} on soil zones and ground the log says nothing about`,
    ...plan.notes.map((note) => `  ${note}`),
    ...SCOUT_CAUTIONS,
  ];
  return `${lines.flatMap((line) => wrapped(line, width, line.startsWith("  ") ? "  " : "", 4)).join("\n")}\n`;
}
