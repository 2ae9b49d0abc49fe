/** GeoJSON files to layers: the byte scanner for the log, JSON.parse and a structure check for small layers. */
import { FileUnusableError } from "../errors.ts";
import { crsFromManifest, crsOfGeoJson } from "./crs-recognition.ts";
import { FeatureSink } from "./feature-sink.ts";
import { type CollectionMembers, scanGeoJson } from "./geojson-scan.ts";
import { decodeJsonString, JsonSyntaxError } from "./json-bytes.ts";
import type { RawLayer } from "./layer.ts";
import { NoteBook } from "./note-book.ts";
import type { ReadOptions } from "./read-options.ts";
import { emptyLayer } from "./refusals.ts";
import { settleGeometry } from "./settle.ts";

const GEOMETRY_TYPES = [
  "Point",
  "MultiPoint",
  "LineString",
  "MultiLineString",
  "Polygon",
  "MultiPolygon",
  "GeometryCollection",
];

/**
 * Reads GeoJSON (RFC 7946) from UTF-8 bytes.
 * @throws {FileUnusableError} when the text is no GeoJSON or holds nothing usable.
 */
export async function readGeoJson(bytes: Uint8Array, file: string, options: ReadOptions): Promise<RawLayer> {
  const parsed = options.reader === "library" ? tryParse(bytes) : undefined;
  const { sink, crsMember } = parsed === undefined ? scan(bytes, file) : await takeParsed(parsed, file);
  const { notes } = sink;
  if (sink.seen === 0) throw emptyLayer(file, options.role);
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
  if (settled.geometry === "none" && columns.length === 0) {
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
    notes: notes.notes(),
  };
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

function scan(bytes: Uint8Array, file: string): Taken {
  const sink = new FeatureSink(new NoteBook(), FIRST_CAPACITY, decodeJsonString);
  let members: CollectionMembers;
  try {
    members = scanGeoJson(bytes, sink);
  } catch (error) {
    if (error instanceof JsonSyntaxError) throw notJson(bytes, file, error, sink);
    throw error;
  }
  if (members.hasFeatures && members.type === "FeatureCollection") return { sink, crsMember: members.crs };
  // A single feature or geometry, or no GeoJSON: too small or too odd to scan.
  const only = new FeatureSink(new NoteBook(), 1);
  for (const feature of featuresOf(tryParse(bytes), file)) only.add(feature);
  return { sink: only, crsMember: members.crs };
}

function notJson(
  bytes: Uint8Array,
  file: string,
  error: JsonSyntaxError,
  sink: FeatureSink,
): FileUnusableError {
  const near = new TextDecoder().decode(bytes.subarray(error.offset, error.offset + 24)).trim();
  const accepted = "GeoJSON text in UTF-8";
  const where = `byte ${error.offset + 1}${sink.seen > 0 ? `, feature ${sink.fileNumber}` : ""}`;
  const what = error.cutOff ? `the text ends too early (${where})` : `not JSON at ${where}, near "${near}"`;
  return new FileUnusableError(`${file}: ${what}; accepted is ${accepted}`, {
    file,
    field: where,
    value: near,
    accepted,
    cause: error,
  });
}

/** Problems of a feature that leave its geometry usable, and those our own repair handles. */
const HARMLESS = /bbox|"properties"/;
const REPAIRED = /first and last positions|at least four positions/;

async function takeParsed(document: unknown, file: string): Promise<Taken> {
  const features = featuresOf(document, file);
  const sink = new FeatureSink(new NoteBook(), features.length);
  const { isFeature } = (await import("geojson-validation")).default;
  for (const feature of features) {
    let usableGeometry = true;
    for (const problem of structureProblems(isFeature, feature)) {
      if (REPAIRED.test(problem)) continue;
      const harmless = HARMLESS.test(problem);
      usableGeometry &&= harmless;
      sink.notes.add({
        reason: harmless
          ? "not strictly valid GeoJSON, used all the same"
          : "not valid GeoJSON, so its geometry is not used",
        effect: harmless ? "kept" : "left out",
        record: sink.fileNumber,
        value: problem,
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
  const members = (typeof document === "object" && document !== null ? document : {}) as Record<
    string,
    unknown
  >;
  const { type } = members;
  if (type === "FeatureCollection" && Array.isArray(members.features)) return members.features;
  if (type === "Feature") return [document];
  if (typeof type === "string" && GEOMETRY_TYPES.includes(type)) {
    return [{ type: "Feature", properties: {}, geometry: document }];
  }
  const value = type === "FeatureCollection" ? 'no list of "features"' : `"type" ${JSON.stringify(type)}`;
  const accepted =
    'a GeoJSON object of "type" "FeatureCollection" (with "features"), "Feature" or a geometry';
  throw new FileUnusableError(`${file}: not GeoJSON (${value}); accepted is ${accepted}`, {
    file,
    field: "type",
    value,
    accepted,
  });
}
