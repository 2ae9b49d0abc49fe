/** An analysed field: what the findings, the prescription, the scouting plan and the files are made from. */
import type { Draft } from "../causes/draft.ts";
import type { Cells } from "../cells/cells.ts";
import type { Passes } from "../passes/passes.ts";
import type { Field, LocalPolygon } from "../vocabulary/field.ts";
import type { DocumentParts } from "./document-parts.ts";
import type { FindingsDocument } from "./findings-document.ts";

export interface Analysis {
  /** As loaded; of ground planted again the records of the earlier planting count as lifted. */
  field: Field;
  passes: Passes;
  /** Soil zone index of each record (into field.soilZones.names), -1 where none. */
  zoneOfRecord: Int32Array;
  cells: Cells;
  /** Outline of the field: the boundary given, else that of the planted ground. Local metres. */
  outline: LocalPolygon[];
  document: FindingsDocument;
  /** What each finding of the document was drafted from, in its order. */
  findingDrafts: Draft[];
  /** What the document was built from, to build it again in other units. */
  parts: DocumentParts;
}
