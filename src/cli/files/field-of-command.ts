/** The field a command names: its manifest checked, its files at hand. */
import { basename } from "node:path";
import { LAYER_ROLES, parseManifestText } from "../../manifest/manifest.ts";
import type { Manifest } from "../../manifest/manifest-schema.ts";
import type { Io } from "../terminal/io.ts";
import { FieldFiles, readManifestFile } from "./field-files.ts";
import { requireMemory } from "./memory-need.ts";

export interface CommandField {
  manifest: Manifest;
  files: FieldFiles;
  /** Name for people: the manifest's, else the folder's. */
  name: string;
}

/**
 * Reads and checks the manifest of a field, and that every file it names is there.
 * @throws {FileUnusableError} when it or a file it names is missing, {ManifestError} when it is not a manifest.
 */
export async function openCommandField(field: string, allowOutside: boolean, io: Io): Promise<CommandField> {
  const { folder, name, text } = await readManifestFile(field, io.workingFolder);
  const manifest = parseManifestText(text, { file: name, allowOutsidePaths: allowOutside });
  const files = new FieldFiles(folder, allowOutside);
  // A file that is not there is told before a large log is read.
  await files.requireAll(pathsOf(manifest));
  const log = manifest.plantingLog.file;
  requireMemory(log, await files.sizes(log));
  return { manifest, files, name: manifest.name ?? basename(folder) };
}

/** Paths of the files a manifest names, each once. */
export function pathsOf(manifest: Manifest): string[] {
  const paths = LAYER_ROLES.map((layer) => manifest[layer]?.file).filter((path) => path !== undefined);
  return [...new Set(paths)];
}
