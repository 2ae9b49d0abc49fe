/** Reads the files of a field from disk, and none but those under the manifest's folder unless allowed. */
import { createHash } from "node:crypto";
import { readdir, readFile, realpath, stat } from "node:fs/promises";
import { basename, dirname, extname, isAbsolute, join, relative, resolve, sep } from "node:path";
import { FileUnusableError, isEvenstandError } from "../../errors.ts";
import type { InputFile, LayerFile, StreamedFile } from "../../ingest/layer.ts";
import { fileInPieces } from "./file-pieces.ts";

/** Files that belong to a loose shapefile of the same name. */
const SHAPEFILE_ENDINGS = [".shp", ".shx", ".dbf", ".dbt", ".fpt", ".prj", ".cpg"];

/** Files that the readers walk from front to back. */
const READ_IN_PIECES = /\.(?:shp|dbf|geojson|geojsonl|ndjson|json)$/i;

export interface ManifestFile {
  /** Absolute path of the folder that paths in the manifest start from. */
  folder: string;
  /** Name of the manifest for messages, as seen from the working folder where it lies below it. */
  name: string;
  text: string;
}

/**
 * Finds and reads the manifest a command names: the file itself, or field.json in the folder.
 * @throws {FileUnusableError} when it is not there.
 */
export async function readManifestFile(field: string, workingFolder: string): Promise<ManifestFile> {
  const named = resolve(workingFolder, field);
  const found = await statOrNull(named);
  if (!found) {
    throw new FileUnusableError(`${field}: no such file or folder; give a field manifest or its folder`, {
      file: field,
    });
  }
  const path = found.isDirectory() ? join(named, "field.json") : named;
  if (found.isDirectory() && !(await statOrNull(path))) {
    throw new FileUnusableError(
      `${field}: the folder holds no field.json; "evenstand inspect FILE... --manifest ${join(field, "field.json")}" writes one`,
      { file: field },
    );
  }
  const fromHere = relative(workingFolder, path);
  const name = fromHere.startsWith("..") ? path : fromHere;
  return { folder: dirname(path), name, text: new TextDecoder().decode(await readNamed(path, name)) };
}

/**
 * Text of a file that is named on the command line.
 * @throws {FileUnusableError} where it cannot be read
 */
export async function readTextFile(path: string, workingFolder: string): Promise<string> {
  return new TextDecoder().decode(await readNamed(resolve(workingFolder, path), path));
}

/**
 * Refuses what is no file: a folder, a pipe, a socket or a device, which could be read for ever.
 * @throws {FileUnusableError}
 */
async function requireFile(full: string, name: string): Promise<void> {
  let found: Awaited<ReturnType<typeof stat>>;
  try {
    found = await stat(full);
  } catch (cause) {
    throw unreadable(name, cause);
  }
  if (found.isFile()) return;
  const what = found.isDirectory()
    ? "is a folder, not a file"
    : "is a pipe, a socket or a device; a file on a disk is needed";
  throw new FileUnusableError(`${name}: ${what}`, { file: name });
}

/** The files of one field, read on demand; remembers the hash of what it has read. */
export class FieldFiles {
  /** Path as the manifest names it -> SHA-256, hexadecimal (see docs/outputs.md for loose shapefiles). */
  readonly hashes = new Map<string, string>();
  readonly #folder: string;
  readonly #allowOutside: boolean;

  constructor(folder: string, allowOutside: boolean) {
    this.#folder = folder;
    this.#allowOutside = allowOutside;
  }

  /**
   * The bytes of the file a manifest names; for a .shp its siblings of the same name too, in any case.
   * @throws {FileUnusableError} when it is missing, no file, or outside the manifest's folder.
   */
  provide = async (path: string): Promise<InputFile[]> => {
    const files: InputFile[] = [];
    for (const { full, name } of await this.#filesOf(path))
      files.push({ name, bytes: await readNamed(full, name) });
    this.hashes.set(path, hashOf(files));
    return files;
  };

  /**
   * As {@link provide}, but files that are read straight through (shapefile parts and GeoJSON) are read
   * piece by piece, so that no more than a piece is in memory.
   * @throws as {@link provide}
   */
  open = async (path: string): Promise<LayerFile[]> => {
    const files: LayerFile[] = [];
    for (const { full, name } of await this.#filesOf(path)) {
      files.push(
        READ_IN_PIECES.test(name) ? inPieces(full, name) : { name, bytes: await readNamed(full, name) },
      );
    }
    this.hashes.set(path, hashOf(files));
    return files;
  };

  /**
   * As {@link provide}, but every file is read piece by piece and no hash is made, for handing them on.
   * @throws as {@link provide}
   */
  pieces = async (path: string): Promise<StreamedFile[]> =>
    (await this.#filesOf(path)).map(({ full, name }) => inPieces(full, name));

  /** Sizes of the files of a path, bytes. */
  async sizes(path: string): Promise<{ name: string; bytes: number }[]> {
    const files = await this.#filesOf(path);
    return Promise.all(files.map(async ({ full, name }) => ({ name, bytes: (await stat(full)).size })));
  }

  /**
   * Looks whether every file is there and a file, before any is read.
   * @throws as {@link provide}
   */
  async requireAll(paths: readonly string[]): Promise<void> {
    for (const path of paths) await this.#filesOf(path);
  }

  async #filesOf(path: string): Promise<{ full: string; name: string }[]> {
    const full = resolve(this.#folder, path);
    await this.#refuseOutside(full, path);
    const paths = /\.shp$/i.test(path) ? await shapefileSet(full, path) : [full];
    const files: { full: string; name: string }[] = [];
    for (const each of paths) {
      if (each !== full) await this.#refuseOutside(each, path);
      await requireFile(each, path);
      files.push({ full: each, name: path.slice(0, path.length - basename(path).length) + basename(each) });
    }
    return files;
  }

  async #refuseOutside(full: string, path: string): Promise<void> {
    if (this.#allowOutside) return;
    const [real, folder] = await Promise.all([realPathOf(full, path), realpath(this.#folder)]);
    const fromFolder = relative(folder, real);
    if (fromFolder === ".." || fromFolder.startsWith(`..${sep}`) || isAbsolute(fromFolder)) {
      throw new FileUnusableError(
        `${path}: lies outside the manifest's folder; move it there, or pass --allow-outside`,
        { file: path, accepted: "a file in the manifest's folder or below it" },
      );
    }
  }
}

/** SHA-256 of the file; of several, of the lines "hash  name" sorted by name, as sha256sum prints them. */
function hashOf(files: readonly LayerFile[]): string {
  const [only] = files;
  if (only && files.length === 1) return hashOfFile(only);
  const lines = files.map((file) => `${hashOfFile(file)}  ${basename(file.name)}\n`);
  return createHash("sha256")
    .update(lines.sort((a, b) => (a.slice(66) < b.slice(66) ? -1 : 1)).join(""))
    .digest("hex");
}

const HASH_PIECE_BYTES = 1 << 20;

function hashOfFile(file: LayerFile): string {
  const hash = createHash("sha256");
  if ("bytes" in file) return hash.update(file.bytes).digest("hex");
  for (let at = 0; at < file.size; at += HASH_PIECE_BYTES)
    hash.update(file.read(at, Math.min(HASH_PIECE_BYTES, file.size - at)));
  return hash.digest("hex");
}

async function shapefileSet(full: string, path: string): Promise<string[]> {
  const folder = dirname(full);
  const stem = basename(full, extname(full)).toLowerCase();
  const siblings: string[] = [];
  for (const entry of (await readFolder(folder, path)).sort()) {
    const ending = extname(entry).toLowerCase();
    const sameName = entry.slice(0, entry.length - ending.length).toLowerCase() === stem;
    const isNamed = join(folder, entry) === full;
    // The file itself under the name given; of the other endings one each, whatever the case.
    const taken = siblings.some((other) => extname(other).toLowerCase() === ending);
    if (sameName && SHAPEFILE_ENDINGS.includes(ending) && (ending === ".shp" ? isNamed : !taken)) {
      siblings.push(join(folder, entry));
    }
  }
  return siblings.length > 0 ? siblings : [full];
}

async function readFolder(folder: string, path: string): Promise<string[]> {
  try {
    return await readdir(folder);
  } catch (cause) {
    throw unreadable(path, cause);
  }
}

async function readNamed(full: string, name: string): Promise<Uint8Array> {
  try {
    await requireFile(full, name);
    return new Uint8Array(await readFile(full));
  } catch (cause) {
    throw isEvenstandError(cause) ? cause : unreadable(name, cause);
  }
}

function inPieces(full: string, name: string): StreamedFile {
  try {
    return fileInPieces(full, name);
  } catch (cause) {
    throw unreadable(name, cause);
  }
}

async function realPathOf(full: string, path: string): Promise<string> {
  try {
    return await realpath(full);
  } catch (cause) {
    throw unreadable(path, cause);
  }
}

function unreadable(name: string, cause: unknown): FileUnusableError {
  const code = (cause as NodeJS.ErrnoException).code;
  const reasons: Record<string, string> = {
    ENOENT: "no such file",
    ENOTDIR: "no such file",
    EISDIR: "is a folder, not a file",
    EACCES: "may not be read by this user",
    EPERM: "may not be read by this user",
    ERR_FS_FILE_TOO_LARGE: "is larger than 2 GiB; split the log by field",
  };
  const reason = (code && reasons[code]) || `cannot be read: ${messageOf(cause)}`;
  return new FileUnusableError(`${name}: ${reason}`, { file: name, cause });
}

async function statOrNull(path: string) {
  try {
    return await stat(path);
  } catch {
    return null;
  }
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
