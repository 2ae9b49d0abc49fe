/** Reads and checks a season's manifest, and lays what it says for all fields under a field's own manifest. */
import * as v from "valibot";
import { ManifestError } from "../errors.ts";
import { shownJson } from "../ingest/values/shown-json.ts";
import { parseManifest } from "../manifest/manifest.ts";
import { manifestJson } from "../manifest/manifest-text.ts";
import { nearestWord } from "../numerics/nearest-name.ts";
import { type FieldDefaults, type SeasonManifest, seasonSchema } from "./season-schema.ts";

/**
 * Checks a season's manifest given as the text of its file.
 * @param file name of the manifest, for messages
 * @throws {ManifestError} where it is no JSON, has an unknown key or a wrong type, or its defaults could stand in no field.
 */
export function parseSeasonText(text: string, file: string): SeasonManifest {
  const result = v.safeParse(seasonSchema, manifestJson(text, file), { abortPipeEarly: true });
  if (!result.success) throw errorOf(result.issues[0], file);
  requireSoundDefaults(result.output, file);
  return result.output;
}

/**
 * A field's manifest with what holds for the whole season laid under it: the field's own words win, key by key; a list is
 * taken whole. Layers that the field does not have are not made up.
 */
export function withDefaults(
  manifest: Readonly<Record<string, unknown>>,
  defaults: FieldDefaults,
  planter: Readonly<Record<string, unknown>> | null,
): Record<string, unknown> {
  const { plantingLog, standCounts, digs, ...rest } = defaults;
  const layers = { plantingLog, standCounts, digs };
  const under: Record<string, unknown> = { ...rest };
  for (const [role, said] of Object.entries(layers)) {
    if (said && manifest[role] !== undefined) under[role] = said;
  }
  if (planter) under.planter = laidUnder(planter, under.planter);
  return laidUnder(manifest, under) as Record<string, unknown>;
}

/** `own` over `under`, objects key by key. */
function laidUnder(own: unknown, under: unknown): unknown {
  if (own === undefined) return under;
  if (!isObject(own) || !isObject(under)) return own;
  const keys = new Set([...Object.keys(own), ...Object.keys(under)]);
  return Object.fromEntries([...keys].map((key) => [key, laidUnder(own[key], under[key])]));
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** Units and dates of the defaults are checked as a field's are, before the first field is opened. */
function requireSoundDefaults(season: SeasonManifest, file: string): void {
  const layers = { plantingLog: { file: "log" }, standCounts: { file: "counts" }, digs: { file: "digs" } };
  const planters = season.planters ? Object.values(season.planters) : [null];
  for (const planter of planters) {
    parseManifest(withDefaults(layers, season.defaults ?? {}, planter), {
      file: `${file} (for every field)`,
    });
  }
}

function errorOf(issue: v.BaseIssue<unknown>, file: string): ManifestError {
  const keys = (issue.path ?? []).map((item) => item.key as string | number);
  const field = keys
    .map((key) => (typeof key === "number" ? `[${key}]` : `.${key}`))
    .join("")
    .slice(1);
  if (issue.type === "strict_object" && issue.expected === "never") {
    const known = keys.length === 1 ? Object.keys(seasonSchema.entries) : [];
    const nearest = nearestWord(String(keys.at(-1)), known);
    const hint = nearest === null ? "no such key is known there" : `the nearest known key is "${nearest}"`;
    const accepted = known.join(", ");
    return new ManifestError(`${file}: unknown key "${field}"; ${hint}`, { file, field, accepted });
  }
  const received = issue.input === undefined ? "is missing" : `is ${shownJson(issue.input)}`;
  const accepted = issue.expected ?? issue.message;
  return new ManifestError(`${file}: ${field || "the manifest"} ${received}; write ${accepted}`, {
    file,
    field,
    accepted,
  });
}
