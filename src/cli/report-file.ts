/** The one-file report: the built page with the findings put in. */
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { FindingsDocument } from "../report/findings-document.ts";
import { packageRoot } from "./package-root.ts";

/** What stands in the template where the findings go. */
const PLACEHOLDER = '<script type="application/json" id="findings"></script>';

/**
 * report.html with the document in it, readable without network.
 * @throws {Error} when the template has not been built: a fault of the installation.
 */
export async function reportFile(document: FindingsDocument): Promise<string> {
  const path = join(packageRoot(), "dist", "report", "report.html");
  let template: string;
  try {
    template = await readFile(path, "utf8");
  } catch (cause) {
    throw new Error(`the report template is missing; "npm run build" makes it`, { cause });
  }
  return fillTemplate(template, document);
}

/**
 * Puts the document into the template's empty JSON script. `<` becomes an escape, so that no text from a
 * user's file can end the script or open another.
 */
export function fillTemplate(template: string, document: FindingsDocument): string {
  const parts = template.split(PLACEHOLDER);
  if (parts.length !== 2) throw new Error("the report template does not have one place for the findings");
  const json = JSON.stringify(document).replaceAll("<", "\\u003c");
  return `${parts[0]}<script type="application/json" id="findings">${json}</script>${parts[1]}`;
}
