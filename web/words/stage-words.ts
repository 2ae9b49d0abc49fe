/** What the page says while a field is worked out. */
import type { Stage } from "../../src/jobs/analyse.ts";

export const STAGES_SAID: Readonly<Record<Stage, string>> = {
  passes: "Telling the passes apart",
  compare: "Comparing passes, row units and soils",
  cells: "Laying the field out in pieces",
  causes: "Looking for places that group together, and what could have caused them",
  report: "Writing the ledger",
};
