/** What of an output folder is ours: its marker, and the folder of a run that writes. */
import { randomUUID } from "node:crypto";
import { readFileSync } from "node:fs";
import { basename, join } from "node:path";
import process from "node:process";

/** The file that marks a folder as written by Evenstand; it lists the files that are ours. */
export const MARKER_FILE = ".evenstand";

/** The number of a process and a random part: what tells the files of one run from those of another. */
export const RUN = String.raw`(\d+)-[0-9a-f-]+`;

/** Folder of a run that writes, inside the output folder. */
export const STAGING = new RegExp(`^\\.evenstand-writing-${RUN}$`);

export function stagingName(): string {
  return stagingOf(`${process.pid}-${randomUUID()}`);
}

/** @param run number of a process and a random part */
export function stagingOf(run: string): string {
  return `.evenstand-writing-${run}`;
}

/** Names an earlier run wrote; only plain names, so that a doctored marker reaches no other folder. */
export function filesOfMarker(folder: string): string[] {
  try {
    const marker: unknown = JSON.parse(readFileSync(join(folder, MARKER_FILE), "utf8"));
    const files = (marker as { files?: unknown }).files;
    if (!Array.isArray(files)) return [];
    return files.filter((name) => typeof name === "string" && name === basename(name) && !/^\.*$/.test(name));
  } catch {
    return [];
  }
}
