/** Where the installed package stands: its version, its built page, its report template. */
import { existsSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

/** Folder that holds the package's package.json, whether this runs from `src` or from `dist/src`. */
export function packageRoot(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, "package.json"))) {
    const parent = dirname(folder);
    if (parent === folder) throw new Error("package.json of evenstand not found above the command");
    folder = parent;
  }
  return folder;
}

export function packageVersion(): string {
  const json: unknown = JSON.parse(readFileSync(join(packageRoot(), "package.json"), "utf8"));
  return (json as { version: string }).version;
}
