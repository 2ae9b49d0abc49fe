/** A folder tree of small invented fields, as a user would hand it in. */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { CaseSetup } from "../../cases/case-setup.ts";
import { buildCase } from "../../cases/field-builder.ts";

export interface DiskField {
  /** Folder below the season's. */
  folder: string;
  seed: number;
  changes?: Partial<CaseSetup>;
  /** Without field.json, to be recognised. */
  bare?: boolean;
}

/** Eight rows at 30 in, five passes of 120 m with a record a row unit each 4 m: 1,200 records. */
export const SMALL: Partial<CaseSetup> = {
  rows: 8,
  widthM: 5 * 8 * 0.762,
  lengthM: 120,
  stepM: 4,
  records: "row",
  counts: null,
  boundary: false,
  soil: null,
};

/** Writes the fields; each gets its own name. */
export function writeSeason(root: string, fields: readonly DiskField[], season?: object): string {
  for (const { folder, seed, changes = {}, bare = false } of fields) {
    const manifest = { name: folder.split("/").at(-1), ...changes.manifest };
    const files = buildCase({ ...SMALL, eastM: 400 * seed, ...changes, seed, manifest });
    mkdirSync(join(root, folder), { recursive: true });
    for (const [name, content] of Object.entries(files)) {
      if (bare && name === "field.json") continue;
      writeFileSync(join(root, folder, name), content);
    }
  }
  if (season) writeFileSync(join(root, "season.json"), JSON.stringify(season, null, 1));
  return root;
}
