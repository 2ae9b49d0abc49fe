/** What came of one field, and which fields of a season count. */
import type { OpenChoice } from "../errors.ts";
import type { FieldDigest } from "./field/field-digest.ts";
import type { PlannedField, SeasonPlan } from "./season-plan.ts";

export const FIELD_RUN_SCHEMA = "evenstand/field-run/1";

/** `field-run.json`, written last: what the results beside it were made of. */
export interface FieldRun {
  schema: typeof FIELD_RUN_SCHEMA;
  /** Hash of the inputs' content, the settings and the program: the same key, the same results. */
  key: string;
  status: "done" | "failed";
  /** Name of the field; null where its manifest could not be read. */
  name: string | null;
  /** SHA-256 of the planting log; null where it was not read. */
  logSha256: string | null;
  /** Why it failed; null where it did not. */
  reason: string | null;
  /** What is left to the user to choose. */
  choices: readonly OpenChoice[];
}

export interface FieldResult {
  field: PlannedField;
  /** Null where the field has not been worked on yet. */
  run: FieldRun | null;
  /** Null where there are no results. */
  digest: FieldDigest | null;
}

/** A field that counts. */
export interface KeptField {
  id: string;
  /** Name, with the place behind it where several fields have it. */
  label: string;
  grower: string | null;
  operator: string | null;
  /** Name of the planter, or a name by its rows where nobody says. */
  planter: string;
  /** True where the planter's name is only a guess by its rows. */
  planterGuessed: boolean;
  digest: FieldDigest;
}

export interface LeftOutField {
  id: string;
  path: string;
  label: string;
  reason: string;
}

export interface ChosenFields {
  kept: KeptField[];
  leftOut: LeftOutField[];
  /** What else a reader has to know: two fields of one name, planters taken for one. */
  notes: string[];
}

/** Fields that count, by id, and those that do not with the reason. */
export function chooseFields(plan: SeasonPlan, results: readonly FieldResult[]): ChosenFields {
  const leftOut: LeftOutField[] = [];
  const done: (FieldResult & { run: FieldRun; digest: FieldDigest })[] = [];
  const leave = ({ field, run }: FieldResult, reason: string): void => {
    leftOut.push({ id: field.id, path: field.path, label: field.name ?? run?.name ?? field.path, reason });
  };
  for (const result of results) {
    const { run, digest } = result;
    if (!run) leave(result, "not worked on yet; run the season again");
    else if (run.status === "failed") leave(result, run.reason ?? "failed");
    else if (!digest) leave(result, "its results are damaged; run the season again");
    else done.push({ ...result, run, digest });
  }
  const year = plan.season ?? usualYear(done.map(({ digest }) => yearOf(digest)));
  const firstOfLog = new Map<string, PlannedField>();
  const kept: KeptField[] = [];
  const names = new Map<string, string[]>();
  for (const result of done) {
    const { field, run, digest } = result;
    const twin = run.logSha256 === null ? undefined : firstOfLog.get(run.logSha256);
    const ownYear = yearOf(digest);
    if (twin) leave(result, `its planting log is that of ${twin.path}: counted once`);
    else if (year !== null && ownYear !== null && ownYear !== year)
      leave(result, `it is of ${ownYear}, the season of ${year}`);
    else {
      if (run.logSha256 !== null) firstOfLog.set(run.logSha256, field);
      const name = field.name ?? digest.name;
      const paths = names.get(name);
      if (paths) paths.push(field.path);
      else names.set(name, [field.path]);
      const guessed = digest.rowUnits > 0 ? `${digest.rowUnits}-row planter` : "planter";
      kept.push({
        id: field.id,
        label: name,
        grower: field.grower,
        operator: field.operator,
        planter: field.planter ?? guessed,
        planterGuessed: field.planter === null,
        digest,
      });
    }
  }
  const notes: string[] = [];
  for (const [name, paths] of names) {
    if (paths.length > 1)
      notes.push(
        `${paths.length} fields are called "${name}": ${paths.join(", ")}. They are kept apart by their place.`,
      );
  }
  const pathOf = new Map(plan.fields.map(({ id, path }) => [id, path]));
  for (const field of kept) {
    if (names.get(field.label)!.length > 1) field.label = `${field.label} (${pathOf.get(field.id)})`;
  }
  return { kept, leftOut, notes };
}

/** The harvest's year; of corn and soybeans it is that of planting. */
function yearOf({ season, planted }: FieldDigest): number | null {
  return season ?? (planted ? Number(planted.slice(0, 4)) : null);
}

/** The most frequent year, of equals the latest. */
function usualYear(years: readonly (number | null)[]): number | null {
  const counts = new Map<number, number>();
  for (const year of years) if (year !== null) counts.set(year, (counts.get(year) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1] || b[0] - a[0])[0]?.[0] ?? null;
}
