/** The one-file report: the built page with the findings put in. */
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { FindingsDocument } from "../report/findings-document.ts";
import type { MapLayers } from "../report/map-layers.ts";
import { packageRoot } from "./package-root.ts";

/** The template's empty JSON scripts: the findings, and what the map and the furrow strip draw. */
const BLOCKS = ["findings", "map-layers"] as const;

/**
 * report.html with the document and the map's layers in it, readable without network.
 * @throws {Error} when the template has not been built: a fault of the installation.
 */
export async function reportFile(document: FindingsDocument, layers: MapLayers): Promise<string> {
  const path = join(packageRoot(), "dist", "report", "report.html");
  let template: string;
  try {
    template = await readFile(path, "utf8");
  } catch (cause) {
    throw new Error(`the report template is missing; "npm run build" makes it`, { cause });
  }
  return fillTemplate(template, document, layers);
}

/**
 * Puts the data into the template's empty JSON scripts. `<` becomes an escape, so that no text from a
 * user's file can end the script or open another.
 */
export function fillTemplate(template: string, document: FindingsDocument, layers: MapLayers): string {
  const data = { findings: document, "map-layers": layers };
  return BLOCKS.reduce((html, id) => {
    const opening = `<script type="application/json" id="${id}">`;
    const parts = html.split(`${opening}</script>`);
    if (parts.length !== 2) throw new Error(`the report template does not have one place for the ${id}`);
    const json = JSON.stringify(data[id]).replaceAll("<", "\\u003c");
    return `${parts[0]}${opening}${json}</script>${parts[1]}`;
  }, template);
}
