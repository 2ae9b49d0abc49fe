/** From the files the user named for a layer to the sources to read: unpacked, and their parts put together. */
import { FileUnusableError } from "../../errors.ts";
import type { LayerFile } from "../layer.ts";
import { NoteBook } from "../note-book.ts";
import type { ShapefileParts } from "../shapefile/shapefile-layer.ts";
import { type ByteSource, sourceOfBytes, sourceOfFile, wholeOf } from "./byte-window.ts";
import { foreignContent } from "./foreign-content.ts";
import { gunzip, isGzip } from "./gzip.ts";
import { unzip } from "./zip.ts";

export type Source = { name: string } & (
  | { kind: "geojson" | "csv"; bytes: ByteSource }
  | { kind: "shapefile"; parts: ShapefileParts }
);

export interface FoundSources {
  /** One or more of one kind, by name. */
  sources: Source[];
  /** Name of the whole as the user named it. */
  file: string;
  /** What was found beside them and is not read. */
  notes: NoteBook;
}

const ACCEPTED_FILES =
  ".geojson, .json, .ndjson, .csv (each also as .gz), a .shp with its .dbf, .shx and .prj, or a .zip holding one of these";

/** Bytes that tell what a file is. */
const START_BYTES = 512;

interface NamedSource {
  name: string;
  source: ByteSource;
}

/**
 * Finds what to read among the files of one layer. Several layers of one kind are all given, by name.
 * @throws {FileUnusableError} when nothing among them can be read.
 */
export function findSources(files: readonly LayerFile[], role: string): FoundSources {
  if (files.length === 0) {
    throw new FileUnusableError(`no file was given for ${role}; accepted are ${ACCEPTED_FILES}`, {
      field: role,
      accepted: ACCEPTED_FILES,
    });
  }
  const notes = new NoteBook();
  const named = files.map((file) => ({ name: file.name, source: sourceOfFile(file) }));
  const archive = named.length === 1 && isZip(named[0]!) ? named[0]! : null;
  const unpacked = archive ? unpack(archive, notes) : named;
  const whole = archive?.name ?? named.map(({ name }) => name).join(", ");
  const { mains, passedOver } = mostTelling(unpacked, archive !== null);
  if (mains.length === 0) throw nothingReadable(unpacked, whole, role, notes);
  if (passedOver.length > 0) {
    const names = passedOver.map(({ name }) => name).join(", ");
    notes.add({
      reason: `beside ${endingOf(mains[0]!.name)} files it holds ${names}, which could be layers too and are not read; name such a file by itself`,
      effect: "left out",
      count: passedOver.length,
    });
  }
  const sources = mains.toSorted((a, b) => byName(a.name, b.name)).map((main) => sourceOf(main, unpacked));
  return { sources, file: archive?.name ?? (mains.length === 1 ? mains[0]!.name : whole), notes };
}

function byName(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function sourceOf(main: NamedSource, files: readonly NamedSource[]): Source {
  const { name } = main;
  const kind = kindOf(main);
  refuseForeign(main, kind);
  if (kind !== "shapefile") return { name, kind, bytes: unpackedOf(main) };
  const stem = name.replace(/\.shp$/i, "").toLowerCase();
  const part = (...extensions: string[]) =>
    files.find((file) => extensions.some((extension) => file.name.toLowerCase() === stem + extension))
      ?.source ?? null;
  return {
    name,
    kind,
    parts: {
      shp: main.source,
      shx: part(".shx"),
      dbf: part(".dbf"),
      memo: part(".dbt", ".fpt"),
      prj: part(".prj"),
      cpg: part(".cpg", ".cst"),
    },
  };
}

function unpackedOf(main: NamedSource): ByteSource {
  if (!isGzip(main.source.read(0, 2))) return main.source;
  try {
    return sourceOfBytes(gunzip(wholeOf(main.source)));
  } catch (cause) {
    throw damaged(main.name, "gzip", cause);
  }
}

/** Names of files that can hold a layer, the most telling first. */
const LAYER_NAMES = [
  /\.shp$/i,
  /\.geojson(?:\.gz)?$/i,
  /\.(?:geojsonl|geojsons|ndjson|jsonl|json)(?:\.gz)?$/i,
  /\.[ct]sv(?:\.gz)?$/i,
];
/** A layer only where the user named it: in an archive it is a note beside the layer. */
const TEXT_NAME = /\.txt(?:\.gz)?$/i;

function mostTelling(
  files: readonly NamedSource[],
  packed: boolean,
): { mains: NamedSource[]; passedOver: NamedSource[] } {
  for (const name of packed ? LAYER_NAMES : [...LAYER_NAMES, TEXT_NAME]) {
    const mains = files.filter((file) => name.test(file.name));
    if (mains.length === 0) continue;
    const passedOver = files.filter(
      (file) => !mains.includes(file) && LAYER_NAMES.some((other) => other.test(file.name)),
    );
    return { mains, passedOver };
  }
  return { mains: [], passedOver: [] };
}

function kindOf(file: NamedSource): Source["kind"] {
  if (/\.shp$/i.test(file.name)) return "shapefile";
  return /json[ls]?(?:\.gz)?$/i.test(file.name) ? "geojson" : "csv";
}

function endingOf(name: string): string {
  return /\.\w+(?:\.gz)?$/.exec(name)?.[0].toLowerCase() ?? name;
}

function refuseForeign(main: NamedSource, kind: Source["kind"]): void {
  const start = main.source.read(0, START_BYTES);
  const found = foreignContent(start);
  if (found === null || (kind === "shapefile" && found === "a .shp file")) return;
  if (kind !== "shapefile" && found === "a gzip file") return;
  throw new FileUnusableError(
    `${main.name}: is ${found} under another name; accepted are ${ACCEPTED_FILES}`,
    { file: main.name, value: found, accepted: ACCEPTED_FILES },
  );
}

function nothingReadable(
  files: readonly NamedSource[],
  whole: string,
  role: string,
  notes: NoteBook,
): FileUnusableError {
  const names = files.map((file) => file.name).join(", ");
  const alone = files.some((file) => /\.(?:dbf|shx|prj|cpg)$/i.test(file.name));
  const [trouble] = notes.notes();
  const what = trouble
    ? `nothing in it can be read (${trouble.value}: ${trouble.reason})`
    : alone
      ? `the .shp file that belongs to ${names} is missing`
      : `nothing readable in it${names === whole || names === "" ? "" : ` (${names})`}`;
  return new FileUnusableError(`${whole}: ${what}; accepted for ${role} are ${ACCEPTED_FILES}`, {
    file: whole,
    value: names,
    accepted: ACCEPTED_FILES,
  });
}

function isZip({ name, source }: NamedSource): boolean {
  const [a, b, c, d] = source.read(0, 4);
  return /\.zip$/i.test(name) || (a === 0x50 && b === 0x4b && c === 3 && d === 4);
}

function unpack(archive: NamedSource, notes: NoteBook): NamedSource[] {
  const start = archive.source.read(0, START_BYTES);
  const found = foreignContent(start);
  if (found !== null && found !== "a zip file") {
    throw damaged(archive.name, "zip", new Error(`it is ${found} under another name`));
  }
  try {
    const { entries, troubles } = unzip(wholeOf(archive.source), isWanted);
    for (const { name, reason } of troubles) {
      notes.add({ reason: `a file of the archive is not read: ${reason}`, effect: "left out", value: name });
    }
    if (entries.length === 0 && troubles.length > 0)
      throw new Error(`${troubles[0]!.name}: ${troubles[0]!.reason}`);
    return entries.map(({ name, bytes }) => ({ name, source: sourceOfBytes(bytes) }));
  } catch (cause) {
    throw damaged(archive.name, "zip", cause);
  }
}

/** Leaves out folders and what desktop systems leave behind in archives. */
function isWanted(name: string): boolean {
  const parts = name.split("/");
  const last = parts.at(-1) ?? "";
  return last !== "" && !last.startsWith(".") && !parts.includes("__MACOSX");
}

function damaged(file: string, format: string, cause: unknown): FileUnusableError {
  const why = cause instanceof Error ? cause.message : String(cause);
  const accepted = `a whole ${format} file without a password`;
  return new FileUnusableError(`${file}: cannot be unpacked as ${format} (${why}); accepted is ${accepted}`, {
    file,
    value: why,
    accepted,
    cause,
  });
}
