/** The built template of the season's page. */
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { packageRoot } from "../files/package-root.ts";

/** @throws {Error} when the template has not been built: a fault of the installation. */
export async function seasonTemplate(): Promise<string> {
  try {
    return await readFile(join(packageRoot(), "dist", "season", "season.html"), "utf8");
  } catch (cause) {
    throw new Error(`the template of the season's page is missing; "npm run build" makes it`, { cause });
  }
}
