/** Which program made a result: results of another one are made anew. */
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { packageVersion } from "../files/package-root.ts";
import { reportTemplate } from "../files/report-file.ts";

/**
 * The version, and a hash of the program's own files, so that two states of one version are told apart.
 * @param withReport whether reports are written: their template counts then
 */
export async function programVersion(withReport: boolean): Promise<string> {
  const source = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
  const hash = createHash("sha256");
  for (const file of filesBelow(source)) hash.update(file.slice(source.length)).update(readFileSync(file));
  if (withReport) hash.update(await reportTemplate());
  return `${packageVersion()}-${hash.digest("hex").slice(0, 16)}`;
}

function filesBelow(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true })
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((entry) => {
      const path = join(folder, entry.name);
      if (entry.isDirectory()) return filesBelow(path);
      return /\.[jt]s$/.test(entry.name) && !entry.name.endsWith(".d.ts") ? [path] : [];
    });
}
