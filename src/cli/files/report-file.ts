/** The built template of the one-file report. */
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { packageRoot } from "./package-root.ts";

/** @throws {Error} when the template has not been built: a fault of the installation. */
export async function reportTemplate(): Promise<string> {
  try {
    return await readFile(join(packageRoot(), "dist", "report", "report.html"), "utf8");
  } catch (cause) {
    throw new Error(`the report template is missing; "npm run build" makes it`, { cause });
  }
}
