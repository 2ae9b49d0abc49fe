/** What is said while a field is worked out. */
export const work = {
  passes: "Telling the passes apart",
  compare: "Comparing passes, row units and soils",
  cells: "Laying the field out in pieces",
  causes: "Looking for places that group together, and what could have caused them",
  report: "Writing the ledger",
};
