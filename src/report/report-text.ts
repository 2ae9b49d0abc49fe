/** The one-file report: the built template with the findings, the map's layers and the prescription put in. */
import type { ComparisonRow } from "../compare/tables/comparison.ts";
import type { FindingsDocument } from "../findings/findings-document.ts";
import type { MapLayers } from "./map-layers.ts";
import type { PrescriptionView } from "./prescription-view.ts";
import { writtenFigures } from "./written-figures.ts";

/**
 * report.html, readable without network.
 * @param template text of the built template
 * @param prescription null for none
 * @throws {Error} when the template does not hold exactly one empty place for each part
 */
export function reportText(
  template: string,
  document: FindingsDocument,
  layers: MapLayers,
  prescription: PrescriptionView | null,
): string {
  const findings = { ...document, comparison: shownRows(document.comparison) };
  return fillTemplate(template, {
    findings: writtenFigures(findings),
    "map-layers": layers,
    prescription: writtenFigures(prescription),
  });
}

/** The rows of the comparison that the report draws: passes by soil, and row units over the whole field. */
function shownRows(rows: readonly ComparisonRow[]): ComparisonRow[] {
  return rows.filter(({ pass, rowUnit, soilZone }) =>
    rowUnit === null ? pass !== null && soilZone !== null : pass === null && soilZone === null,
  );
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
