/** Whether the memory of this machine holds a log, told before the work starts. */
import { totalmem } from "node:os";
import process from "node:process";
import { FileUnusableError } from "../../errors.ts";

/**
 * What the command takes without a log, and for each byte of one, by file ending: measured to ten million records
 * (docs/size.md), with room for logs of fewer columns.
 */
const BASE_BYTES = 200 * 2 ** 20;
const PER_BYTE: readonly (readonly [ending: RegExp, factor: number])[] = [
  [/\.(?:shp|dbf)$/i, 3],
  // Read as one text.
  [/\.(?:csv|txt)$/i, 3.5],
  // Names of columns stand in every record of it.
  [/\.(?:geo)?json[ls]?$|\.ndjson$/i, 1.5],
];
const GIBIBYTE = 2 ** 30;

export interface FileSize {
  name: string;
  bytes: number;
}

/** Memory that an analysis of these files of a log takes, bytes; packed files and small ones beside it are not looked at. */
export function memoryNeeded(files: readonly FileSize[]): number {
  return files.reduce(
    (sum, { name, bytes }) => sum + bytes * (PER_BYTE.find(([ending]) => ending.test(name))?.[1] ?? 0),
    BASE_BYTES,
  );
}

/** Memory of the machine, or what a container leaves of it, bytes. */
function memoryHere(): number {
  const allowed = process.constrainedMemory();
  return allowed > 0 ? Math.min(allowed, totalmem()) : totalmem();
}

/** @throws {FileUnusableError} where a log needs more memory than the machine has; it names the size that would do. */
export function requireMemory(log: string, files: readonly FileSize[], memoryBytes = memoryHere()): void {
  const needed = memoryNeeded(files);
  if (needed <= memoryBytes) return;
  const size = files.reduce((sum, { bytes }) => sum + bytes, 0);
  const fits = Math.max(0, (size * (memoryBytes - BASE_BYTES)) / (needed - BASE_BYTES));
  const gigabytes = (bytes: number): string => `${(bytes / GIBIBYTE).toFixed(1)} GiB`;
  throw new FileUnusableError(
    `${log}: is ${gigabytes(size)} large; to analyse it takes about ${gigabytes(needed)} of memory, and this machine has ${gigabytes(memoryBytes)}. A log of ${gigabytes(fits)} would do: split it by field, or leave out columns that are not planting`,
    { file: log, value: gigabytes(size), accepted: `a log of at most ${gigabytes(fits)}` },
  );
}
