/** GeoJSON files to layers: the byte scanner for the log, JSON.parse and a structure check for small layers. */
import { FileUnusableError } from "../../errors.ts";
import { type ByteSource, wholeOf } from "../containers/byte-window.ts";
import { crsFromManifest, crsOfGeoJson } from "../crs/crs-recognition.ts";
import { FeatureSink } from "../feature-sink.ts";
import type { RawLayer } from "../layer.ts";
import { NoteBook } from "../note-book.ts";
import type { ReadOptions } from "../read-options.ts";
import { emptyLayer } from "../refusals.ts";
import { settleGeometry } from "../settle.ts";
import { shownJson } from "../values/shown-json.ts";
import { GEOMETRY_TYPES, isCheckedMember, memberTrouble } from "./geojson-members.ts";
import { scanGeoJson } from "./geojson-scan.ts";
import { decodeJsonString, eachMember, JsonBytes, JsonSyntaxError } from "./json-bytes.ts";

/** Larger files are read by the scanner whatever the reader asked for: JSON.parse needs many times their size. */
const LARGEST_TO_PARSE_BYTES = 32 << 20;

/**
 * Reads GeoJSON (RFC 7946), also one feature after the other (a line each), from UTF-8 bytes.
 * @throws {FileUnusableError} when the text is no GeoJSON or holds nothing usable.
 */
export async function readGeoJson(source: ByteSource, file: string, options: ReadOptions): Promise<RawLayer> {
  const small = source.size <= LARGEST_TO_PARSE_BYTES;
  const whole = options.reader === "library" && small ? wholeOf(source) : null;
  const parsed = whole ? tryParse(whole) : undefined;
  const taken = whole && parsed !== undefined ? await takeParsed(parsed, whole, file) : scan(source, file);
  const { sink, crsMember } = taken;
  const { notes } = sink;
  if (sink.count === 0 && options.expect !== "anything") {
    const [trouble] = notes.notes();
    throw sink.seen > 0 && trouble
      ? nothingUsable(file, sink.seen, trouble.reason)
      : emptyLayer(file, options.role);
  }
  sink.store.finish(sink.count);
  const fileRecord = sink.fileRecord();
  const settled = settleGeometry(sink.store, {
    file,
    role: options.role,
    expect: options.expect,
    notes,
    fileRecord,
    noteWinding: true,
    crsOf: () =>
      options.crs === undefined ? crsOfGeoJson(crsMember, file, notes) : crsFromManifest(options.crs, file),
  });
  const columns = sink.finishColumns();
  if (settled.geometry === "none" && columns.length === 0 && options.expect !== "anything") {
    const accepted = "features with a geometry or with properties";
    throw new FileUnusableError(`${file}: holds neither positions nor columns; accepted are ${accepted}`, {
      file,
      value: `${sink.count} bare features`,
      accepted,
    });
  }
  return {
    file,
    recordCount: sink.count,
    ...settled,
    columns,
    ...(fileRecord ? { fileRecord } : {}),
    ...(sink.seen === sink.count ? {} : { recordsInFile: sink.seen }),
    notes: notes.notes(),
  };
}

function nothingUsable(file: string, seen: number, why: string): FileUnusableError {
  const accepted = 'features, objects of "type" "Feature"';
  return new FileUnusableError(
    `${file}: none of its ${seen} records can be used (${why}); accepted are ${accepted}`,
    {
      file,
      value: why,
      accepted,
    },
  );
}

/** Room for records before the columns first grow; how many a file holds shows only at its end. */
const FIRST_CAPACITY = 4096;

/** The features of a file in a sink, and the file's `crs` member. */
interface Taken {
  sink: FeatureSink;
  crsMember: unknown;
}

/** The whole text parsed, or undefined where it is not JSON: the scanner then says where. */
function tryParse(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder().decode(bytes)) as unknown;
  } catch {
    return undefined;
  }
}

function scan(source: ByteSource, file: string): Taken {
  const sink = new FeatureSink(new NoteBook(), FIRST_CAPACITY, decodeJsonString);
  try {
    const scanned = scanGeoJson(source, sink);
    if (scanned.kind === "other") throw notGeoJson(scanned.value, file);
    if (scanned.kind === "collection") {
      checkCollection(scanned.names, sink, file);
      if (!scanned.hasFeatures) throw notGeoJson({ type: scanned.type }, file);
      if (scanned.type !== undefined && scanned.type !== "FeatureCollection")
        throw notGeoJson({ type: scanned.type }, file);
    }
    return { sink, crsMember: scanned.crs };
  } catch (error) {
    if (error instanceof JsonSyntaxError) throw notJson(file, error);
    throw error;
  }
}

function notJson(file: string, error: JsonSyntaxError): FileUnusableError {
  const accepted = "GeoJSON text in UTF-8";
  const where = `byte ${error.offset + 1}${error.feature === null ? "" : `, feature ${error.feature}`}`;
  const what = error.cutOff
    ? `the text ends too early (${where})`
    : `not JSON at ${where}, near "${error.near}"`;
  return new FileUnusableError(`${file}: ${what}; accepted is ${accepted}`, {
    file,
    field: where,
    value: error.near,
    accepted,
    cause: error,
  });
}

/** A member that stands twice leaves open what is meant. */
function refuseTwice(names: readonly string[], file: string): void {
  const twice = names.find((name, index) => names.indexOf(name) < index);
  if (twice !== undefined) {
    const accepted = "each member once";
    throw new FileUnusableError(
      `${file}: the member "${twice}" stands twice, so what is meant cannot be told; accepted is ${accepted}`,
      { file, field: twice, value: "twice", accepted },
    );
  }
}

/** Notes members that do not belong. */
function checkCollection(names: readonly string[], sink: FeatureSink, file: string): void {
  refuseTwice(names, file);
  for (const name of names) {
    const foreign = name !== "bbox" && name !== "id" && isCheckedMember("collection", name);
    const trouble = foreign ? memberTrouble("collection", name, null) : null;
    if (trouble) sink.notes.add({ reason: trouble, effect: "kept", field: name });
  }
}

/** Names of the members of the text's object, in file order. */
function memberNames(bytes: Uint8Array): string[] {
  const json = new JsonBytes({ size: bytes.length, read: () => bytes });
  const names: string[] = [];
  eachMember(json, (start, end) => {
    names.push(decodeJsonString(json.bytes.subarray(start, end)));
    json.skipValue();
  });
  return names;
}

/** Problems of a feature that leave its geometry usable, those our own repair handles, and those noted anyway. */
const HARMLESS = /bbox/;
const HANDLED = /first and last positions|at least four positions|"properties"/;

async function takeParsed(document: unknown, bytes: Uint8Array, file: string): Promise<Taken> {
  const features = featuresOf(document, file);
  const sink = new FeatureSink(new NoteBook(), features.length);
  const names = memberNames(bytes);
  if ((document as { type?: unknown }).type === "FeatureCollection") checkCollection(names, sink, file);
  else refuseTwice(names, file);
  const { isFeature } = (await import("geojson-validation")).default;
  for (const feature of features) {
    let usableGeometry = true;
    for (const problem of structureProblems(isFeature, feature)) {
      if (HANDLED.test(problem)) continue;
      const harmless = HARMLESS.test(problem);
      usableGeometry &&= harmless;
      sink.notes.add({
        reason: harmless
          ? "not strictly valid GeoJSON, used all the same"
          : "not valid GeoJSON, so its geometry is not used",
        effect: harmless ? "kept" : "left out",
        record: sink.fileNumber,
        value: problem?.replaceAll("[object Object]", "an object"),
      });
    }
    sink.add(feature, usableGeometry);
  }
  return { sink, crsMember: (document as { crs?: unknown }).crs };
}

function structureProblems(
  isFeature: (feature: unknown, trace: true) => string[],
  feature: unknown,
): string[] {
  // What is no feature at all is named, and left out, by the sink.
  if ((feature as { type?: unknown } | null)?.type !== "Feature") return [];
  try {
    return isFeature(feature, true);
  } catch {
    // The library runs into an exception on an empty ring; our own repair names it.
    return [];
  }
}

function featuresOf(document: unknown, file: string): unknown[] {
  const members = asObject(document);
  const { type } = members;
  if (type === "FeatureCollection" && Array.isArray(members.features)) return members.features;
  if (type === "Feature") return [document];
  if (typeof type === "string" && GEOMETRY_TYPES.includes(type)) {
    return [{ type: "Feature", properties: {}, geometry: document }];
  }
  throw notGeoJson(document, file);
}

function notGeoJson(document: unknown, file: string): FileUnusableError {
  const isObject = typeof document === "object" && document !== null && !Array.isArray(document);
  const { type } = asObject(document);
  const value = !isObject
    ? `${Array.isArray(document) ? "a list" : JSON.stringify(document)}, where an object is needed`
    : type === "FeatureCollection"
      ? 'no list of "features"'
      : type === undefined
        ? 'no "type"'
        : `"type" ${shownJson(type)}`;
  const accepted =
    'a GeoJSON object of "type" "FeatureCollection" (with "features"), "Feature" or a geometry';
  return new FileUnusableError(`${file}: not GeoJSON (${value}); accepted is ${accepted}`, {
    file,
    field: "type",
    value,
    accepted,
  });
}

function asObject(value: unknown): Record<string, unknown> {
  return (typeof value === "object" && value !== null ? value : {}) as Record<string, unknown>;
}
