/**
 * Evenstand as a library: from the files of a field to its findings. Pure: no files, no page, no clock, no
 * network.
 *
 * @example
 * const manifest = parseManifestText(text);
 * const field = await loadField(manifest, (path) => bytesOf(path));
 * const { document } = await analyseField(field);
 *
 * @module
 */
export { type AnalyseOptions, type Analysis, analyseField, STAGES, type Stage } from "./analyse.ts";
export { CAUSES, type Cause } from "./causes/causes.ts";
export { checkPasses } from "./check/check-passes.ts";
export { CHECK_SCHEMA, type CheckResult, type LastYear } from "./check/check-result.ts";
export { checkText } from "./check/check-text.ts";
export { lastYearOf } from "./check/last-year.ts";
export { type RowUnitPassRow, rowUnitsByPass } from "./compare/row-unit-by-pass.ts";
export { THRESHOLDS } from "./compare/thresholds.ts";
export {
  ChoiceNeededError,
  EvenstandError,
  FileUnusableError,
  isEvenstandError,
  ManifestError,
  type Note,
  NothingToAnalyseError,
} from "./errors.ts";
export type { Field, InputReport, Recognition } from "./field/field.ts";
export { loadField } from "./field/load.ts";
export { LAYER_ROLES, type LayerRole, parseManifest, parseManifestText } from "./field/manifest.ts";
export type { Manifest } from "./field/manifest-schema.ts";
export { type StartingManifest, startingManifest } from "./field/starting-manifest.ts";
export { COUNT_VARIABLES, DIG_VARIABLES, LOG_VARIABLES } from "./field/variables.ts";
export { describeLayer, type InputFile, type RawLayer, readLayer } from "./ingest/index.ts";
export { defaultSettings, editRefusal, prescribe } from "./prescribe.ts";
export type { Prescription, PrescriptionSettings } from "./prescription/prescription.ts";
export {
  type Estimate,
  FINDINGS_SCHEMA,
  type Finding,
  type FindingsDocument,
} from "./report/findings-document.ts";
export { cellsGeoJson, findingsGeoJson, geoJsonText } from "./report/geojson.ts";
export { ledgerText } from "./report/ledger-text.ts";
export { type MapLayers, mapLayers } from "./report/map-layers.ts";
export { type ReplantOptions, type ReplantPlan, replantPlan } from "./report/replant-plan.ts";
export { passesCsv, rowUnitsCsv, soilZonesCsv } from "./report/tables.ts";
export { countsTemplate, digsTemplate, scoutGeoJson } from "./scout/scout-files.ts";
export { type ScoutOptions, type ScoutPlan, scoutPlan } from "./scout/scout-plan.ts";
export { scoutSheet } from "./scout/sheet.ts";
export { type RepairItem, repairItemsOf } from "./setup/repair-item.ts";
export { type SetUpPlanter, setUpSheet } from "./setup/set-up-sheet.ts";
export { convert, parseQuantity, UNITS } from "./units.ts";
export { type PrescriptionFile, prescriptionFiles } from "./write/prescription-files.ts";
