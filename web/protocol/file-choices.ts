/** What files without a manifest are taken for, file by file, so that the user sees it and can say otherwise. */
import { LAYER_ROLES, type LayerRole } from "../../src/manifest/manifest.ts";
import type { ColumnChoice } from "../../src/manifest/manifest-schema.ts";
import type { ColumnGlimpse } from "./answers.ts";

export interface SortedFile {
  file: string;
  role: LayerRole | null;
  /** Why it is taken for that, or not used. */
  reason: string;
  /** Null where the file cannot be read. */
  records: number | null;
  /** Share of its records on the planted ground or near it; null where that cannot be told. */
  onField: number | null;
  /** True where it has positions. */
  placed: boolean;
  columns: ColumnGlimpse[];
  /** Columns recognised for the role, and what each is read as. */
  readAs: Record<string, string>;
  /** Variables of that role that it has, those still to be chosen among them. */
  variables: string[];
  /** Columns that are not used in that role, each with the reason. */
  unused: { column: string; reason: string }[];
  /** What to look at before going on. */
  warnings: string[];
}

/** What the user says about one file; what is left out stays as it was taken. */
export interface FileChoice {
  role: LayerRole | null;
  position?: [string, string];
  zone?: string;
  columns?: Record<string, ColumnChoice>;
}

/**
 * The manifest by which the files are read: as they were taken, with what the user said put in.
 * @param taken the manifest guessed from the files
 * @param choices by file
 */
export function manifestBy(
  taken: Readonly<Record<string, unknown>>,
  files: readonly Pick<SortedFile, "file" | "role">[],
  choices: Readonly<Record<string, FileChoice>>,
): Record<string, unknown> {
  const manifest: Record<string, unknown> = { ...taken };
  for (const role of LAYER_ROLES) delete manifest[role];
  for (const { file, role: guessed } of files) {
    const choice = choices[file];
    const role = choice ? choice.role : guessed;
    if (role === null) continue;
    const { position, zone, columns } = choice ?? {};
    const asTaken = role === guessed ? (taken[role] as object) : { file };
    manifest[role] = {
      ...asTaken,
      ...(position ? { position } : {}),
      ...(zone ? { zone } : {}),
      ...(columns && Object.keys(columns).length > 0 ? { columns } : {}),
    };
  }
  return manifest;
}

/** Roles that more than one file is to play. */
export function rolesTwice(
  files: readonly Pick<SortedFile, "file" | "role">[],
  choices: Readonly<Record<string, FileChoice>>,
): LayerRole[] {
  const roles = files.map(({ file, role }) => (choices[file] ? choices[file].role : role));
  return LAYER_ROLES.filter((role) => roles.filter((each) => each === role).length > 1);
}
