/** Zip archives: what is in them, unpacked in memory, nothing trusted (.ZIP File Format Specification 6.3). */
import { inflateSync } from "fflate";
import { crc32 } from "./crc32.ts";

export interface ZipEntry {
  /** Path in the archive, with forward slashes. */
  name: string;
  bytes: Uint8Array;
}

/** Why an entry was not unpacked. */
export interface ZipTrouble {
  name: string;
  reason: string;
}

/** The largest unpacked size taken on, 2 GiB: more is no field's file but a trap. Common practice, no source. */
export const MOST_UNPACKED_BYTES = 2 ** 31;
/** Small archives may pack as tightly as they like; beyond this size a field's figures never pack this tightly (our judgement). */
export const FREE_UNPACKED_BYTES = 2 ** 27;
export const MOST_TIMES_PACKED = 100;

const END_OF_DIRECTORY = 0x06054b50;
const END_OF_DIRECTORY_64 = 0x06064b50;
const LOCATOR_64 = 0x07064b50;
const DIRECTORY_ENTRY = 0x02014b50;
const LOCAL_HEADER = 0x04034b50;
const END_LENGTH = 22;
const LONGEST_COMMENT = 0xffff;
const FULL_32 = 0xffffffff;

interface DirectoryEntry {
  name: string;
  encrypted: boolean;
  method: number;
  crc: number;
  packed: number;
  unpacked: number;
  offset: number;
}

/**
 * Unpacks the entries `wanted` asks for. An entry that is damaged, locked or climbs out of the archive is told
 * of and left out.
 * @throws {Error} (plain) when the bytes are no whole archive, or unpack to more than the limits
 */
export function unzip(
  bytes: Uint8Array,
  wanted: (name: string) => boolean,
): { entries: ZipEntry[]; troubles: ZipTrouble[] } {
  const troubles: ZipTrouble[] = [];
  const chosen = directoryOf(bytes).filter((entry) => {
    if (!wanted(entry.name)) return false;
    if (!climbs(entry.name)) return true;
    troubles.push({ name: entry.name, reason: "its path climbs out of the archive" });
    return false;
  });
  requireModest(bytes.length, chosen);
  const entries: ZipEntry[] = [];
  for (const entry of chosen) {
    try {
      entries.push({ name: entry.name, bytes: contentOf(bytes, entry) });
    } catch (cause) {
      troubles.push({ name: entry.name, reason: cause instanceof Error ? cause.message : String(cause) });
    }
  }
  return { entries, troubles };
}

/** Nothing is written to disk by these names; a path that climbs is a sign of a trap all the same. */
function climbs(name: string): boolean {
  return name.startsWith("/") || /^[a-z]:/i.test(name) || name.split("/").includes("..");
}

function requireModest(packed: number, chosen: readonly DirectoryEntry[]): void {
  const unpacked = chosen.reduce((sum, entry) => sum + entry.unpacked, 0);
  if (unpacked > MOST_UNPACKED_BYTES) {
    throw new Error(`it unpacks to ${unpacked} bytes, more than the limit of ${MOST_UNPACKED_BYTES}`);
  }
  if (unpacked > FREE_UNPACKED_BYTES && unpacked > packed * MOST_TIMES_PACKED) {
    throw new Error(
      `it unpacks to ${unpacked} bytes, ${Math.round(unpacked / packed)} times its size; beyond ${FREE_UNPACKED_BYTES} bytes the limit is ${MOST_TIMES_PACKED} times`,
    );
  }
}

function directoryOf(bytes: Uint8Array): DirectoryEntry[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const { count, offset } = findDirectory(view);
  const entries: DirectoryEntry[] = [];
  let at = offset;
  for (let index = 0; index < count; index++) {
    if (at + 46 > view.byteLength || view.getUint32(at, true) !== DIRECTORY_ENTRY)
      throw new Error(`its directory is damaged at entry ${index + 1} of ${count}`);
    const nameLength = view.getUint16(at + 28, true);
    const extraLength = view.getUint16(at + 30, true);
    const flags = view.getUint16(at + 8, true);
    const nameBytes = bytes.subarray(at + 46, at + 46 + nameLength);
    const entry: DirectoryEntry = {
      name: decodeName(nameBytes, (flags & 0x800) !== 0).replaceAll("\\", "/"),
      encrypted: (flags & 1) === 1,
      method: view.getUint16(at + 10, true),
      crc: view.getUint32(at + 16, true),
      packed: view.getUint32(at + 20, true),
      unpacked: view.getUint32(at + 24, true),
      offset: view.getUint32(at + 42, true),
    };
    readLongSizes(view, at + 46 + nameLength, extraLength, entry);
    entries.push(entry);
    at += 46 + nameLength + extraLength + view.getUint16(at + 32, true);
  }
  return entries;
}

function findDirectory(view: DataView): { count: number; offset: number } {
  const first = Math.max(0, view.byteLength - END_LENGTH - LONGEST_COMMENT);
  for (let at = view.byteLength - END_LENGTH; at >= first; at--) {
    if (view.getUint32(at, true) !== END_OF_DIRECTORY) continue;
    const count = view.getUint16(at + 10, true);
    const offset = view.getUint32(at + 16, true);
    if (count !== 0xffff && offset !== FULL_32) return { count, offset };
    if (at < 20 || view.getUint32(at - 20, true) !== LOCATOR_64) return { count, offset };
    const end = Number(view.getBigUint64(at - 12, true));
    if (end + 56 > view.byteLength || view.getUint32(end, true) !== END_OF_DIRECTORY_64) break;
    return {
      count: Number(view.getBigUint64(end + 32, true)),
      offset: Number(view.getBigUint64(end + 48, true)),
    };
  }
  throw new Error("it is no zip file, or it ends too early");
}

/** Sizes beyond 4 GiB stand in the extra field 1, in a fixed order, only those that are full in the entry. */
function readLongSizes(view: DataView, begin: number, length: number, entry: DirectoryEntry): void {
  const end = Math.min(begin + length, view.byteLength);
  for (let at = begin; at + 4 <= end; ) {
    const size = view.getUint16(at + 2, true);
    if (view.getUint16(at, true) === 1) {
      let value = at + 4;
      for (const key of ["unpacked", "packed", "offset"] as const) {
        if (entry[key] !== FULL_32 || value + 8 > end) continue;
        entry[key] = Number(view.getBigUint64(value, true));
        value += 8;
      }
    }
    at += 4 + size;
  }
}

function contentOf(bytes: Uint8Array, entry: DirectoryEntry): Uint8Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const { offset } = entry;
  if (offset + 30 > bytes.length || view.getUint32(offset, true) !== LOCAL_HEADER)
    throw new Error("it is damaged");
  if (entry.encrypted || (view.getUint16(offset + 6, true) & 1) === 1)
    throw new Error("it is protected by a password");
  const begin = offset + 30 + view.getUint16(offset + 26, true) + view.getUint16(offset + 28, true);
  if (begin + entry.packed > bytes.length) throw new Error("it ends too early");
  const packed = bytes.subarray(begin, begin + entry.packed);
  if (entry.method !== 0 && entry.method !== 8)
    throw new Error(`it is packed by method ${entry.method}; stored or deflated would be read`);
  // The room is what the directory says: an entry that holds more than it admits is cut and fails the checksum.
  const content = entry.method === 0 ? packed : inflateSync(packed, { out: new Uint8Array(entry.unpacked) });
  if (content.length !== entry.unpacked || crc32(content) !== entry.crc)
    throw new Error("it is damaged (its checksum is another)");
  return content;
}

function decodeName(bytes: Uint8Array, isUtf8: boolean): string {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder(isUtf8 ? "utf-8" : "windows-1252").decode(bytes);
  }
}
