/** What the fields of a season say together: page, document and tables, from the results in the folder alone. */
import { closeSync, existsSync, openSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { FileUnusableError, type OpenChoice } from "../../errors.ts";
import { digestField } from "../../season/field/field-digest.ts";
import { FIELD_RUN_SCHEMA, type FieldResult } from "../../season/field-result.ts";
import { growerSeasons } from "../../season/grower-seasons.ts";
import { type Season, seasonJson, seasonOf } from "../../season/season-document.ts";
import { seasonPage } from "../../season/season-page.ts";
import type { SeasonPlan } from "../../season/season-plan.ts";
import { seasonSetUp } from "../../season/season-set-up.ts";
import { SeasonTables, TABLE_FILES } from "../../season/season-tables.ts";
import { seasonText } from "../../season/season-text.ts";
import { setUpSheet } from "../../setup/set-up-sheet.ts";
import { fillOutputFolder, writeOutputFolder } from "../files/output-folder.ts";
import { EXIT } from "../terminal/failure.ts";
import { type Io, mayStyle } from "../terminal/io.ts";
import { bold, cleanedJson } from "../terminal/printed.ts";
import { textWidth } from "../terminal/text-width.ts";
import {
  cannotWrite,
  fieldFolder,
  readExtract,
  readPlan,
  readRun,
  SEASON_MARKER,
  writeWhole,
} from "./season-folder.ts";
import { lockSeason } from "./season-lock.ts";
import { seasonTemplate } from "./season-template.ts";

export interface MergeFlags {
  json?: boolean;
}

/**
 * `evenstand season merge`: joins what parts have worked out.
 * @returns the exit code
 */
export async function mergeSeason(named: string, options: MergeFlags, io: Io): Promise<number> {
  const folder = resolve(io.workingFolder, named);
  if (!existsSync(join(folder, SEASON_MARKER)))
    throw new FileUnusableError(
      `${named}: no season's results are there; "evenstand season run" makes them`,
      {
        file: named,
      },
    );
  // Held as a run of the whole: no part may change what is being read.
  const lock = lockSeason(folder, 1, 1);
  try {
    const plan = readPlan(folder);
    if (!plan)
      throw new FileUnusableError(
        `${named}: its list of fields is missing or damaged; run the season again`,
        {
          file: named,
        },
      );
    return await writeSeason(plan, folder, named, options, io);
  } finally {
    lock.release();
  }
}

/** Writes what the season says beside its fields and prints it in short. */
export async function writeSeason(
  plan: SeasonPlan,
  folder: string,
  named: string,
  options: MergeFlags,
  io: Io,
): Promise<number> {
  // Of one field after the other: all extracts together are too much for memory.
  const results = plan.fields.map((field): FieldResult => {
    const run = readRun(folder, field.id);
    const extract = run?.status === "done" ? readExtract(folder, field.id) : null;
    return { field, run, digest: extract && digestField(extract) };
  });
  const season = seasonOf(plan, results);
  const { document } = season;
  const json = seasonJson(document);
  try {
    writeTables(season, folder);
    writeWhole(join(folder, "season-findings.json"), json);
    const template = await seasonTemplate();
    const linked = withReports(season, folder);
    const growers = growerSeasons(plan, results, season);
    if (growers.length > 0) {
      const pages = growers.map((grower) => ({
        name: `${grower.file}.html`,
        content: seasonPage(template, grower.season, { linked, forGrower: true }),
      }));
      writeOutputFolder(join(folder, "growers"), pages);
    }
    writeWhole(join(folder, "season.html"), seasonPage(template, season, { linked }));
    if (document.fields.length > 0)
      writeWhole(join(folder, "set-up-sheet.html"), setUpSheet(seasonSetUp(document, "farm")));
  } catch (cause) {
    throw cannotWrite(named, cause);
  }
  const emphasise = mayStyle(io) ? bold : (text: string) => text;
  io.out(options.json ? cleanedJson(json) : seasonText(document, { width: textWidth(io), emphasise }));
  const asked = questions(results);
  if (asked) io.err(asked);
  io.err(
    `The season is in ${named}; open season.html there${document.fields.length > 0 ? "; set-up-sheet.html is to print and tick before spring" : ""}.\n`,
  );
  return document.leftOut.length === 0 ? EXIT.done : EXIT.fieldsLeftOut;
}

/** Reads the fields that count a second time, for what only the tables list. */
function writeTables({ document, kept }: Season, folder: string): void {
  fillOutputFolder(join(folder, "tables"), TABLE_FILES, (staging) => {
    const open: number[] = [];
    try {
      const tables = new SeasonTables(document, (name) => {
        const file = openSync(join(staging, name), "w");
        open.push(file);
        return (bytes) => writeFileSync(file, bytes);
      });
      for (const field of kept) {
        const extract = readExtract(folder, field.id);
        if (!extract) throw new Error(`${field.id}: its results changed while the season was put together`);
        tables.add(field, extract);
      }
      tables.finish();
    } finally {
      for (const file of open) closeSync(file);
    }
  });
}

function withReports({ kept }: Season, folder: string): Set<string> {
  const ids = kept.map(({ id }) => id);
  return new Set(ids.filter((id) => existsSync(join(fieldFolder(folder, id), "report.html"))));
}

/** What is left to choose, each question once, with the lines of the season's manifest that answer it for all fields. */
function questions(results: readonly FieldResult[]): string {
  const asked = new Map<string, { choice: OpenChoice; fields: string[] }>();
  for (const { field, run } of results) {
    for (const choice of run?.schema === FIELD_RUN_SCHEMA ? run.choices : []) {
      const key = JSON.stringify([choice.role, choice.variable, choice.lines]);
      const entry = asked.get(key) ?? { choice, fields: [] };
      entry.fields.push(field.path);
      asked.set(key, entry);
    }
  }
  if (asked.size === 0) return "";
  const lines = [...asked.values()].flatMap(({ choice, fields }) => [
    `  ${choice.question} (${fields.length === 1 ? fields[0] : `${fields.length} fields, first ${fields[0]}`})`,
    ...choice.lines.map((line) => `    "defaults": { "${choice.role}": { "columns": { ${line} } } }`),
  ]);
  return `\nTo be chosen once for all fields; write the line that is right into season.json and run again:\n${lines.join("\n")}\n`;
}
