/** From the files the user named for a layer to the one source to read: unpacked, and its parts put together. */
import { Gunzip, unzipSync } from "fflate";
import { FileUnusableError } from "../errors.ts";
import type { InputFile } from "./layer.ts";
import type { ShapefileParts } from "./shapefile-layer.ts";

export type Source =
  | { kind: "geojson" | "csv"; bytes: Uint8Array }
  | { kind: "shapefile"; parts: ShapefileParts };

const ACCEPTED_FILES =
  ".geojson, .json, .csv (each also as .gz), a .shp with its .dbf, .shx and .prj, or a .zip holding one of these";

/** The largest unpacked size taken on, 2 GiB: more is no field's file but a trap. Common practice, no source. */
const MOST_UNPACKED_BYTES = 2 ** 31;

/**
 * Finds what to read among the files of one layer.
 * @returns the source, and the name of the file as the user named it
 * @throws {FileUnusableError} when nothing among them can be read, or several things could.
 */
export function findSource(files: readonly InputFile[], role: string): { source: Source; file: string } {
  if (files.length === 0) {
    throw new FileUnusableError(`no file was given for ${role}; accepted are ${ACCEPTED_FILES}`, {
      field: role,
      accepted: ACCEPTED_FILES,
    });
  }
  const archive = files.length === 1 && isZip(files[0]!) ? files[0]! : null;
  const unpacked = archive ? unzip(archive) : files;
  const mains = mostTelling(unpacked, archive !== null);
  const whole = archive?.name ?? files.map((file) => file.name).join(", ");
  if (mains.length === 0) throw nothingReadable(unpacked, whole, role);
  if (mains.length > 1) {
    const value = mains.map((file) => file.name).join(", ");
    const accepted = "one layer a file; name or unpack the one that is meant";
    throw new FileUnusableError(`${whole}: holds several layers (${value}); accepted is ${accepted}`, {
      file: whole,
      value,
      accepted,
    });
  }
  const main = mains[0]!;
  return { source: sourceOf(main, unpacked), file: archive?.name ?? main.name };
}

function sourceOf(main: InputFile, files: readonly InputFile[]): Source {
  const kind = kindOf(main);
  if (kind === "shapefile") {
    const part = (extension: string) => {
      const wanted = main.name.replace(/\.shp$/i, extension).toLowerCase();
      return files.find((file) => file.name.toLowerCase() === wanted)?.bytes ?? null;
    };
    return {
      kind: "shapefile",
      parts: { shp: main.bytes, shx: part(".shx"), dbf: part(".dbf"), prj: part(".prj"), cpg: part(".cpg") },
    };
  }
  const bytes = isGzip(main.bytes) ? gunzip(main) : main.bytes;
  return { kind, bytes };
}

/** Names of files that can hold a layer, the most telling first. */
const LAYER_NAMES = [/\.shp$/i, /\.geojson(?:\.gz)?$/i, /\.json(?:\.gz)?$/i, /\.[ct]sv(?:\.gz)?$/i];
/** A layer only where the user named it: in an archive it is a note beside the layer. */
const TEXT_NAME = /\.txt(?:\.gz)?$/i;

function mostTelling(files: readonly InputFile[], packed: boolean): InputFile[] {
  for (const name of packed ? LAYER_NAMES : [...LAYER_NAMES, TEXT_NAME]) {
    const found = files.filter((file) => name.test(file.name));
    if (found.length > 0) return found;
  }
  return [];
}

function kindOf(file: InputFile): Source["kind"] {
  if (/\.shp$/i.test(file.name)) return "shapefile";
  return /json(?:\.gz)?$/i.test(file.name) ? "geojson" : "csv";
}

function nothingReadable(files: readonly InputFile[], whole: string, role: string): FileUnusableError {
  const names = files.map((file) => file.name).join(", ");
  const alone = files.some((file) => /\.(?:dbf|shx|prj|cpg)$/i.test(file.name));
  const what = alone
    ? `the .shp file that belongs to ${names} is missing`
    : `nothing readable in it${names === whole || names === "" ? "" : ` (${names})`}`;
  return new FileUnusableError(`${whole}: ${what}; accepted for ${role} are ${ACCEPTED_FILES}`, {
    file: whole,
    value: names,
    accepted: ACCEPTED_FILES,
  });
}

function isZip(file: InputFile): boolean {
  const [a, b, c, d] = file.bytes;
  return /\.zip$/i.test(file.name) || (a === 0x50 && b === 0x4b && c === 3 && d === 4);
}

function isGzip(bytes: Uint8Array): boolean {
  return bytes[0] === 0x1f && bytes[1] === 0x8b;
}

function unzip(archive: InputFile): InputFile[] {
  let total = 0;
  try {
    if (((archive.bytes[6] ?? 0) & 1) === 1) throw new Error("it is protected by a password");
    const entries = unzipSync(archive.bytes, {
      filter: (entry) => {
        if (!isWanted(entry.name)) return false;
        total += entry.originalSize;
        if (total > MOST_UNPACKED_BYTES)
          throw new Error(`it unpacks to more than ${MOST_UNPACKED_BYTES} bytes`);
        return true;
      },
    });
    return Object.entries(entries).map(([name, bytes]) => ({ name: name.replaceAll("\\", "/"), bytes }));
  } catch (cause) {
    throw damaged(archive, "zip", cause);
  }
}

/** Leaves out folders and what desktop systems leave behind in archives. */
function isWanted(name: string): boolean {
  const parts = name.replaceAll("\\", "/").split("/");
  const last = parts.at(-1) ?? "";
  return last !== "" && !last.startsWith(".") && !parts.includes("__MACOSX");
}

/** Unpacks all members of a gzip file (some writers cut the data into many). */
function gunzip(file: InputFile): Uint8Array {
  const chunks: Uint8Array[] = [];
  let total = 0;
  let finished = false;
  try {
    const stream = new Gunzip((chunk, final) => {
      chunks.push(chunk);
      total += chunk.length;
      finished = final;
      if (total > MOST_UNPACKED_BYTES)
        throw new Error(`it unpacks to more than ${MOST_UNPACKED_BYTES} bytes`);
    });
    const step = 1 << 22;
    for (let at = 0; at < file.bytes.length; at += step) {
      stream.push(file.bytes.subarray(at, at + step), at + step >= file.bytes.length);
    }
    if (!finished) throw new Error("it ends too early");
  } catch (cause) {
    throw damaged(file, "gzip", cause);
  }
  const bytes = new Uint8Array(total);
  let at = 0;
  for (const chunk of chunks) {
    bytes.set(chunk, at);
    at += chunk.length;
  }
  return bytes;
}

function damaged(file: InputFile, format: string, cause: unknown): FileUnusableError {
  const why = cause instanceof Error ? cause.message : String(cause);
  const accepted = `a whole ${format} file without a password`;
  return new FileUnusableError(
    `${file.name}: cannot be unpacked as ${format} (${why}); accepted is ${accepted}`,
    {
      file: file.name,
      value: why,
      accepted,
      cause,
    },
  );
}
