/**
 * The state of work as a file: which field, how its files are read, what is chosen and shown, and the notes.
 * The data themselves stay in their files on disk.
 */
import * as v from "valibot";
import { MOISTURES } from "../../src/vocabulary/moisture.ts";

export const SESSION_SCHEMA = "evenstand/session/1";

const LONGEST_NOTE = 20_000;
const whole = v.pipe(v.number(), v.integer());

const sessionShape = v.object({
  schema: v.literal(SESSION_SCHEMA),
  field: v.object({
    name: v.string(),
    /** The files it was worked out from; the hash is null where it was not known. */
    files: v.array(v.object({ role: v.string(), file: v.string(), sha256: v.nullable(v.string()) })),
  }),
  /** Where the field came from, so that the sample can be opened again by itself. */
  source: v.picklist(["sample", "served", "files"]),
  manifest: v.nullable(v.record(v.string(), v.unknown())),
  choices: v.object({
    units: v.picklist(["farm", "metric"]),
    variable: v.nullable(v.string()),
    beside: v.nullable(v.string()),
    finding: v.nullable(v.string()),
    pass: v.nullable(whole),
    dock: v.string(),
    filter: v.object({
      pass: v.nullable(whole),
      rowUnit: v.nullable(whole),
      zone: v.nullable(whole),
      day: v.nullable(v.string()),
      speedBand: v.nullable(whole),
    }),
  }),
  /** What was chosen about the prescription; the library checks the settings when it uses them. */
  prescription: v.optional(
    v.object({
      settings: v.record(v.string(), v.unknown()),
      edits: v.record(v.picklist(MOISTURES), v.record(v.string(), v.number())),
    }),
  ),
  /** By finding; "field" for the whole field. */
  notes: v.record(v.string(), v.pipe(v.string(), v.maxLength(LONGEST_NOTE))),
});

export type Session = v.InferOutput<typeof sessionShape>;
export type SessionFile = Session["field"]["files"][number];

/** @returns null where the text is no session of a kind this page knows; nothing of it is used then. */
export function sessionOf(text: string): Session | null {
  try {
    const read = v.safeParse(sessionShape, JSON.parse(text));
    return read.success ? read.output : null;
  } catch {
    return null;
  }
}

/** True where a text says that it is a session, whether or not it can be used. */
export function saysSession(text: string): boolean {
  return /"schema"\s*:\s*"evenstand\/session\//.test(text.slice(0, 2000));
}

/** One name for a field by what its files hold, in any order of the files. */
export function fieldKey(name: string, files: readonly SessionFile[]): string {
  const held = files.map(({ role, file, sha256 }) => `${role}:${sha256?.slice(0, 16) ?? file}`).sort();
  return [name, ...held].join(" ");
}

/** Files that are not the ones a session was saved with, by name. */
export function otherFiles(saved: readonly SessionFile[], now: readonly SessionFile[]): string[] {
  const same = (a: SessionFile, b: SessionFile) =>
    a.role === b.role && (a.sha256 === null || b.sha256 === null ? a.file === b.file : a.sha256 === b.sha256);
  const changed = now.filter((each) => !saved.some((one) => same(one, each))).map(({ file }) => file);
  const gone = saved.filter((each) => !now.some((one) => one.role === each.role)).map(({ file }) => file);
  return [...new Set([...changed, ...gone])];
}
