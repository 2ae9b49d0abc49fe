/**
 * Evenstand as a library: from the files of a field to its findings. Pure: no files, no page, no clock, no
 * network.
 *
 * @example
 * const manifest = parseManifestText(text);
 * const field = await loadField(manifest, async (path) => [{ name: path, bytes: await bytesOf(path) }]);
 * const { document } = await analyseField(field);
 * const words = ledgerText(document, { width: 80, emphasise: (heading) => heading });
 *
 * @module
 */

export type { Cells } from "./cells/cells.ts";
export { checkPasses } from "./check/check-passes.ts";
export { CHECK_SCHEMA, type CheckResult, type LastYear } from "./check/check-result.ts";
export { checkText } from "./check/check-text.ts";
export { lastYearOf } from "./check/last-year.ts";
export { type RowUnitPassRow, rowUnitsByPass } from "./compare/tables/row-unit-by-pass.ts";
export { THRESHOLDS } from "./compare/thresholds.ts";
export {
  ChoiceNeededError,
  EvenstandError,
  FileUnusableError,
  isEvenstandError,
  ManifestError,
  type Note,
  NothingToAnalyseError,
  PrescriptionError,
} from "./errors.ts";
export { loadField } from "./field/load.ts";
export type { Analysis } from "./findings/analysis.ts";
export {
  type Estimate,
  FINDINGS_SCHEMA,
  type Finding,
  type FindingsDocument,
} from "./findings/findings-document.ts";
export { describeLayer, type InputFile, type LayerFile, type RawLayer, readLayer } from "./ingest/index.ts";
export { type AnalyseOptions, analyseField, STAGES, type Stage } from "./jobs/analyse.ts";
export { defaultSettings, editRefusal, prescribe } from "./jobs/prescribe.ts";
export { LAYER_ROLES, type LayerRole, parseManifest, parseManifestText } from "./manifest/manifest.ts";
export type { Manifest } from "./manifest/manifest-schema.ts";
export type { Passes } from "./passes/passes.ts";
export type { Prescription, PrescriptionSettings } from "./prescription/prescription.ts";
export type { UnitSystem } from "./quantities/format.ts";
export { convert, parseQuantity, UNITS } from "./quantities/units.ts";
export { type ReplantOptions, type ReplantPlan, replantPlan } from "./replant/replant-plan.ts";
export { cellsGeoJson, findingsGeoJson, geoJsonText } from "./report/geojson.ts";
export { type MapLayers, mapLayers } from "./report/map-layers.ts";
export { passesCsv, rowUnitsCsv, soilZonesCsv } from "./report/tables.ts";
export { type StartingManifest, startingManifest } from "./roles/starting-manifest.ts";
export { countsTemplate, digsTemplate, scoutGeoJson } from "./scout/scout-files.ts";
export { type ScoutOptions, type ScoutPlan, scoutPlan } from "./scout/scout-plan.ts";
export { scoutSheet } from "./scout/sheet.ts";
export { type RepairItem, repairItemsOf } from "./setup/repair-item.ts";
export { type SetUpPlanter, setUpSheet } from "./setup/set-up-sheet.ts";
export { CAUSES, type Cause } from "./vocabulary/causes.ts";
export type { Field, InputReport, Recognition } from "./vocabulary/field.ts";
export { COUNT_VARIABLES, DIG_VARIABLES, LOG_VARIABLES } from "./vocabulary/variables.ts";
export { ledgerText } from "./words/ledger-text.ts";
export { type PrescriptionFile, prescriptionFiles } from "./write/prescription-files.ts";
