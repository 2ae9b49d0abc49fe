/** The one-file report: the built page with the findings and the map's layers put in. */
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { ComparisonRow } from "../compare/comparison.ts";
import type { FindingsDocument } from "../report/findings-document.ts";
import type { MapLayers } from "../report/map-layers.ts";
import type { PrescriptionView } from "../report/prescription-view.ts";
import { packageRoot } from "./package-root.ts";

/**
 * report.html with the document, the map's layers and the prescription (null for none) in it, readable without network.
 * @throws {Error} when the template has not been built: a fault of the installation.
 */
export async function reportFile(
  document: FindingsDocument,
  layers: MapLayers,
  prescription: PrescriptionView | null,
): Promise<string> {
  const path = join(packageRoot(), "dist", "report", "report.html");
  let template: string;
  try {
    template = await readFile(path, "utf8");
  } catch (cause) {
    throw new Error(`the report template is missing; "npm run build" makes it`, { cause });
  }
  const findings = { ...document, comparison: shownRows(document.comparison) };
  return fillTemplate(template, { findings, "map-layers": layers, prescription });
}

/** Digits a figure of the report's tables keeps; findings.json has them all. */
const SHOWN_DIGITS = 6;

/** The rows of the comparison that the report draws: passes by soil, and row units over the whole field. */
function shownRows(rows: readonly ComparisonRow[]): ComparisonRow[] {
  const drawn = rows.filter(({ pass, rowUnit, soilZone }) =>
    rowUnit === null ? pass !== null && soilZone !== null : pass === null && soilZone === null,
  );
  return drawn.map((row) => {
    const shown: Record<string, unknown> = { ...row };
    for (const [key, value] of Object.entries(row)) {
      if (typeof value === "number") shown[key] = Number(value.toPrecision(SHOWN_DIGITS));
    }
    return shown as unknown as ComparisonRow;
  });
}

/**
 * Puts data into the template's empty JSON scripts, by the id of each. `<` becomes an escape, so that no text
 * from a user's file can end the script or open another.
 * @throws {Error} when the template does not hold exactly one empty script of an id.
 */
export function fillTemplate(template: string, data: Readonly<Record<string, unknown>>): string {
  // All places are looked up before anything is put in: what is put in is never searched.
  const places = Object.entries(data).map(([id, value]) => {
    const open = `<script type="application/json" id="${id}">`;
    const [before, ...rest] = template.split(`${open}</script>`);
    if (before === undefined || rest.length !== 1) {
      throw new Error(`the report template does not have one empty place for ${id}`);
    }
    return { at: before.length + open.length, json: JSON.stringify(value).replaceAll("<", "\\u003c") };
  });
  let filled = "";
  let done = 0;
  for (const { at, json } of places.sort((a, b) => a.at - b.at)) {
    filled += template.slice(done, at) + json;
    done = at;
  }
  return filled + template.slice(done);
}
