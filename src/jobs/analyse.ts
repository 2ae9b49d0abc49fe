/** The whole job on one loaded field: passes, comparison, groups, causes, cost, findings. */
import { findCauses, usualSwathWidth } from "../causes/find-causes.ts";
import { makeCells } from "../cells/make-cells.ts";
import { findDrivers } from "../compare/drivers.ts";
import { joinSoilZones } from "../compare/soil-join.ts";
import { comparisonNotes } from "../compare/tables/comparison-notes.ts";
import { compareAll } from "../compare/tables/tables.ts";
import { NothingToAnalyseError } from "../errors.ts";
import type { Analysis } from "../findings/analysis.ts";
import type { DocumentParts } from "../findings/document-parts.ts";
import { signedArea } from "../numerics/coverage-grid.ts";
import { fieldOutline } from "../passes/covered-ground.ts";
import { findPasses } from "../passes/find-passes.ts";
import { groundBalance } from "../passes/ground-balance.ts";
import { planterNotes } from "../passes/planter-notes.ts";
import { replantedGround, replantedNote, withoutEarlierPlanting } from "../passes/replanted-ground.ts";
import { documentWithDrafts } from "../report/build-document.ts";
import type { CountSettings } from "../stand-model/stand-view.ts";
import { type WritingOptions, writingOf } from "../texts/language.ts";
import type { Field, LocalPolygon } from "../vocabulary/field.ts";
import { withPrescribedLoads } from "./prescribe.ts";

export const STAGES = ["passes", "compare", "cells", "causes", "report"] as const;
export type Stage = (typeof STAGES)[number];

export interface AnalyseOptions extends WritingOptions {
  /** Called when a stage begins, for progress and timings; the library itself knows no clock. */
  onStage?: (stage: Stage) => void;
  /**
   * True where the document is wanted before the loads of a prescription are worked out, which takes as long as a fifth of
   * the rest; `withPrescribedLoads` puts them in. Default false.
   */
  withoutLoads?: boolean;
  /** How the model takes the counts. */
  counts?: CountSettings;
}

/**
 * Analyses a loaded field.
 * @throws {NothingToAnalyseError} when no record can be placed on a pass.
 */
export async function analyseField(loaded: Field, options: AnalyseOptions = {}): Promise<Analysis> {
  const { onStage, withoutLoads, counts, ...asked } = options;
  const begin = onStage ?? (() => {});
  begin("passes");
  const everyPass = findPasses(loaded);
  const replanted = replantedGround(loaded, everyPass);
  const field = replanted ? withoutEarlierPlanting(loaded, replanted) : loaded;
  const passes = replanted ? findPasses(field) : everyPass;
  if (passes.passes.length === 0) {
    throw new NothingToAnalyseError("no record of the planting log could be placed on a pass", {
      accepted: "records in the order of planting, or with times, at least a few metres apart",
    });
  }
  const outline = field.boundary ?? fieldOutline(field, passes);
  const balance = groundBalance(field, passes, outline);
  const areaM2 = field.boundary ? polygonsArea(outline) : balance.plantedM2;
  begin("compare");
  const inSeveralZones = new Uint8Array(field.log.recordCount);
  const zoneOfRecord = joinSoilZones(field, inSeveralZones);
  const comparison = compareAll(field, passes, zoneOfRecord);
  const drivers = findDrivers(field, passes, zoneOfRecord);
  begin("cells");
  const { cells, cellOf } = makeCells(field, passes, zoneOfRecord);
  const swathWidthM = usualSwathWidth(passes);
  begin("causes");
  const ground = { outline, areaM2, balance };
  const causes = findCauses(field, passes, zoneOfRecord, cells, cellOf, swathWidthM, ground, counts);
  begin("report");
  const parts: DocumentParts = {
    field,
    passes,
    causes,
    zoneOfRecord,
    comparison,
    comparisonNotes: [
      ...(replanted ? [replantedNote(field, replanted)] : []),
      ...planterNotes(field, passes),
      ...comparisonNotes(field, passes, zoneOfRecord, inSeveralZones),
    ],
    areaM2,
    balance,
    replanted,
    drivers,
    swathWidthM,
    ...asked,
  };
  const { document, drafts: findingDrafts } = documentWithDrafts(parts);
  const analysis: Analysis = { field, passes, zoneOfRecord, cells, outline, document, findingDrafts, parts };
  if (!withoutLoads) analysis.document = withPrescribedLoads(analysis, document, writingOf(parts));
  return analysis;
}

/** Area of polygons, holes taken off, m2. */
function polygonsArea(polygons: readonly LocalPolygon[]): number {
  return polygons.flat().reduce((sum, ring) => sum + signedArea(ring), 0);
}
