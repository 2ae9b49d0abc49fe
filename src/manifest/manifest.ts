/** Reads and checks a field manifest: shape, keys, quantities and paths. */
import * as v from "valibot";
import { ManifestError } from "../errors.ts";
import { shownJson } from "../ingest/values/shown-json.ts";
import { isoDateOf } from "../ingest/values/times.ts";
import { nearestWord } from "../numerics/nearest-name.ts";
import { requireFittingUnits } from "./column-units.ts";
import { planterSetup, prices, seedsPerKg, targets } from "./manifest-quantities.ts";
import { type Manifest, manifestSchema } from "./manifest-schema.ts";
import { manifestJson } from "./manifest-text.ts";
import { prescriptionChoices } from "./prescription-choices.ts";

export interface ManifestOptions {
  /** Accept absolute paths and paths that leave the manifest's folder tree. Default false. */
  allowOutsidePaths?: boolean;
  /** Name of the manifest file, for messages. Default "field.json". */
  file?: string;
}

/** Keys of the manifest that name a file, in the order the layers are read. */
export const LAYER_ROLES = [
  "plantingLog",
  "soilZones",
  "standCounts",
  "digs",
  "boundary",
  "seedLots",
  "weather",
  "yield",
] as const;

export type LayerRole = (typeof LAYER_ROLES)[number];

/**
 * Checks a manifest that has been read from JSON.
 * @throws {ManifestError} for an unknown key (the nearest known one is named), a wrong type, a quantity whose
 * unit does not fit, row units the bar does not have, or a path that leaves the folder tree.
 */
export function parseManifest(json: unknown, options: ManifestOptions = {}): Manifest {
  const file = options.file ?? "field.json";
  const result = v.safeParse(manifestSchema, json, { abortPipeEarly: true });
  if (!result.success) throw errorOf(mostTelling(result.issues), file);
  const manifest = result.output;
  requireRealDate(manifest.planted);
  requireFittingUnits(manifest);
  planterSetup(manifest);
  targets(manifest);
  prices(manifest);
  seedsPerKg(manifest);
  prescriptionChoices(manifest);
  if (!options.allowOutsidePaths) {
    for (const role of LAYER_ROLES) {
      const path = manifest[role]?.file;
      if (path !== undefined) requireInsidePath(path, `${role}.file`);
    }
  }
  return manifest;
}

/**
 * Checks a manifest given as the text of its file.
 * @throws {ManifestError} as {@link parseManifest}, and where the text is not JSON.
 */
export function parseManifestText(text: string, options: ManifestOptions = {}): Manifest {
  return parseManifest(manifestJson(text, options.file ?? "field.json"), options);
}

/** The shape YYYY-MM-DD alone lets 2026-02-31 through. */
function requireRealDate(planted: string | undefined): void {
  if (planted === undefined) return;
  const isDay = isoDateOf(Date.parse(`${planted}T00:00:00Z`) / 1000) === planted;
  const year = Number(planted.slice(0, 4));
  if (isDay && year >= 1980 && year <= 2100) return;
  const accepted = "a date as YYYY-MM-DD of the years 1980 to 2100";
  throw new ManifestError(
    `planted is "${planted}", which is ${isDay ? "no year of a log" : "not a day of the calendar"}; write ${accepted}`,
    { field: "planted", value: planted, accepted },
  );
}

function requireInsidePath(path: string, field: string): void {
  const parts = path.split(/[\\/]/);
  const absolute = /^([\\/]|[a-zA-Z]:)/.test(path) || /^[a-z][a-z0-9+.-]+:\/\//i.test(path);
  let depth = 0;
  let leaves = false;
  for (const part of parts) {
    if (part === "..") depth -= 1;
    else if (part !== "" && part !== ".") depth += 1;
    if (depth < 0) leaves = true;
  }
  if (!absolute && !leaves) return;
  const accepted = "a path relative to the manifest that stays in its folder tree";
  throw new ManifestError(
    `${field} is "${path}", which ${absolute ? "is not relative" : "leaves the folder of the manifest"}; write ${accepted}`,
    { field, value: path, accepted },
  );
}

type Issue = v.BaseIssue<unknown>;

/** An unknown key says more than the key that is missing because of it. */
function mostTelling(issues: readonly Issue[]): Issue {
  return issues.find(isUnknownKey) ?? issues[0]!;
}

function isUnknownKey(issue: Issue): boolean {
  return issue.type === "strict_object" && issue.expected === "never";
}

function errorOf(issue: Issue, file: string): ManifestError {
  if (issue.type === "union") {
    const inner = unionIssue(issue);
    if (inner) return errorOf({ ...inner, path: joinPath(issue, inner) } as Issue, file);
  }
  const keys = (issue.path ?? []).map((item) => item.key as string | number);
  const field = textOfPath(keys);
  if (isUnknownKey(issue)) {
    const key = String(keys.at(-1));
    const known = knownKeys(keys.slice(0, -1));
    const nearest = nearestWord(key, known);
    const where = keys.length > 1 ? ` in ${textOfPath(keys.slice(0, -1))}` : "";
    const hint = nearest === null ? "no key is known there" : `the nearest known key is "${nearest}"`;
    const rest = known.length > 1 ? ` (known: ${known.join(", ")})` : "";
    return new ManifestError(`${file}: unknown key "${key}"${where}; ${hint}${rest}`, {
      file,
      field,
      value: key,
      accepted: known.join(", "),
    });
  }
  const missing = issue.input === undefined;
  const accepted = acceptedBy(issue, keys);
  const what = field === "" ? "the manifest" : field;
  // Of a list or an object the library names the kind alone.
  const isWhole = typeof issue.input === "object" && issue.input !== null;
  const received = isWhole ? shownJson(issue.input) : issue.received;
  return new ManifestError(
    missing
      ? `${file}: ${what} is missing; write ${accepted}`
      : `${file}: ${what} is ${received}; write ${accepted}`,
    { file, field, value: missing ? undefined : received, accepted },
  );
}

/** Of the alternatives of a union, the object's own trouble where an object was given. */
function unionIssue(issue: Issue): Issue | null {
  const input = issue.input;
  if (typeof input !== "object" || input === null) return null;
  const inner = (issue.issues ?? []) as Issue[];
  const wanted = Array.isArray(input)
    ? inner.filter((one) => (one.path ?? []).length > 0 && typeof one.path![0].key === "number")
    : inner.filter((one) => one.type !== "array" && (one.path ?? []).length > 0);
  return wanted.find(isUnknownKey) ?? wanted[0] ?? null;
}

function joinPath(outer: Issue, inner: Issue) {
  return [...(outer.path ?? []), ...(inner.path ?? [])];
}

function acceptedBy(issue: Issue, keys: readonly (string | number)[]): string {
  const description = schemaAt(keys)?.description;
  const expected = issue.expected === null ? issue.message : `${issue.expected}`;
  const type = issue.input === undefined ? (schemaAt(keys)?.type ?? issue.type) : issue.type;
  const plain = plainExpectation(type, expected);
  return description === undefined ? plain : `${plain}: ${description}`;
}

function plainExpectation(type: string, expected: string): string {
  if (type === "strict_object" || type === "record") return "an object";
  if (type === "iso_date") return "a date as YYYY-MM-DD";
  if (type === "string" || type === "non_empty") return "text that is not empty";
  if (type === "integer") return "a whole number";
  if (type === "number") return "a number";
  if (type === "array" || type === "tuple") return "a list";
  if (type === "union") return "one of the forms described";
  if (type === "min_length" || type === "max_length") return `a list of ${expected} entries`;
  return expected;
}

/** A schema node as far as this file needs to walk it. */
interface SchemaNode {
  type: string;
  entries?: Record<string, SchemaNode>;
  wrapped?: SchemaNode;
  options?: SchemaNode[];
  description: string | undefined;
}

function schemaAt(keys: readonly (string | number)[]): SchemaNode | undefined {
  let node: SchemaNode | undefined = nodeOf(manifestSchema);
  for (const key of keys) {
    const object: SchemaNode | undefined =
      node?.entries === undefined ? node?.options?.map(nodeOf).find((option) => option.entries) : node;
    const next: SchemaNode | undefined = object?.entries?.[key];
    if (next === undefined) return undefined;
    node = nodeOf(next);
  }
  return node;
}

function nodeOf(schema: unknown): SchemaNode {
  let node = schema as SchemaNode;
  while (node.wrapped) node = node.wrapped;
  return { ...node, description: v.getDescription(node as unknown as v.GenericSchema) };
}

function knownKeys(keys: readonly (string | number)[]): string[] {
  const node = schemaAt(keys);
  const object = node?.entries === undefined ? node?.options?.find((option) => option.entries) : node;
  return Object.keys(object?.entries ?? {});
}

function textOfPath(keys: readonly (string | number)[]): string {
  return keys
    .map((key, place) => (typeof key === "number" ? `[${key}]` : place === 0 ? key : `.${key}`))
    .join("");
}
