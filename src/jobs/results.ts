/** What is handed over of an analysed field, by the command into a folder and by the page as files to keep, made by the same functions. */
import { PrescriptionError } from "../errors.ts";
import type { Analysis } from "../findings/analysis.ts";
import type { FindingsDocument } from "../findings/findings-document.ts";
import type { PrescriptionSettings, ZoneEdits } from "../prescription/prescription.ts";
import { cellsGeoJson, findingsGeoJson, geoJsonText } from "../report/geojson.ts";
import { type MapLayers, mapLayers } from "../report/map-layers.ts";
import { type PrescriptionView, prescriptionView } from "../report/prescription-view.ts";
import { reportText } from "../report/report-text.ts";
import { passesCsv, rowUnitsCsv, soilZonesCsv } from "../report/tables.ts";
import { writtenFigures } from "../report/written-figures.ts";
import { countsTemplate, digsTemplate, scoutGeoJson } from "../scout/scout-files.ts";
import { scoutGpx } from "../scout/scout-gpx.ts";
import type { ScoutPlan } from "../scout/scout-plan.ts";
import { scoutSheet } from "../scout/sheet.ts";
import type { WritingOptions } from "../texts/language.ts";
import { prescribe } from "./prescribe.ts";

/** What maps and tables of one analysis are made from, worked out once: results and report both show it. */
const layersOf = new WeakMap<Analysis, MapLayers>();

function layers(analysis: Analysis): MapLayers {
  const known = layersOf.get(analysis) ?? mapLayers(analysis);
  layersOf.set(analysis, known);
  return known;
}

export interface ResultFile {
  name: string;
  content: string;
}

/** findings.json: the whole document. */
export function findingsJson(document: FindingsDocument): string {
  return jsonText(writtenFigures(document));
}

function jsonText(written: FindingsDocument): string {
  return `${JSON.stringify(written, null, 1)}\n`;
}

/** @param document the findings, in the units they are wanted in */
export function resultFiles(analysis: Analysis, document: FindingsDocument): ResultFile[] {
  const written = writtenFigures(document);
  return [
    { name: "findings.json", content: jsonText(written) },
    { name: "passes.csv", content: passesCsv(document.comparison) },
    { name: "row-units.csv", content: rowUnitsCsv(document.comparison) },
    { name: "soil-zones.csv", content: soilZonesCsv(document.comparison) },
    { name: "findings.geojson", content: geoJsonText(findingsGeoJson(written)) },
    { name: "cells.geojson", content: geoJsonText(cellsGeoJson(analysis, layers(analysis))) },
  ];
}

export interface ReportChoices extends WritingOptions {
  settings?: Partial<PrescriptionSettings>;
  edits?: ZoneEdits;
}

/** report.html, with the prescription by the choices; where the field allows none, the report leaves it out. */
export function resultReport(
  template: string,
  analysis: Analysis,
  document: FindingsDocument,
  choices: ReportChoices = {},
): ResultFile {
  const content = reportText(template, document, layers(analysis), prescriptionOf(analysis, choices));
  return { name: "report.html", content };
}

function prescriptionOf(
  analysis: Analysis,
  { settings, edits, ...asked }: ReportChoices,
): PrescriptionView | null {
  try {
    return prescriptionView(prescribe(analysis, settings, edits, asked), analysis.field);
  } catch (error) {
    if (error instanceof PrescriptionError) return null;
    throw error;
  }
}

/** The spots to count next as files and as sheets to print. */
export function scoutFiles(plan: ScoutPlan, analysis: Analysis): ResultFile[] {
  const { field } = analysis;
  return [
    { name: "scout.geojson", content: geoJsonText(scoutGeoJson(plan, field)) },
    { name: "scout.gpx", content: scoutGpx(plan, field) },
    { name: "scout.csv", content: countsTemplate(plan, field) },
    { name: "scout-digs.csv", content: digsTemplate(plan, field) },
    { name: "scout.html", content: scoutSheet(plan, analysis) },
  ];
}
