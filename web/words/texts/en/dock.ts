/** The parts under the map, and what shows one part at a time. */
export const dock = {
  label: "Passes and row units",
  furrow: "Furrow",
  furrowWhole: "Furrow in long section",
  furrowSaid:
    "One dot a piece of the pass about 12 m long: mean depth over all row units, with the spread of depth within a row as a line.",
  rows: "Row units",
  passes: "Passes by soil",
  firstRows: (count: number) =>
    `The ${count} rows that come first in this order; all of them are in passes.csv.`,
  counts: "Counts and digs",
  money: "Stand and money",
  seasons: "Another season",
  parts: "Parts of the page",
  ledger: "Ledger",
  map: "Map",
  drawings: "Furrow and rows",
  tapMap: "Tap the map: what lies there is read out here.",
  tapDrawing: "Tap the drawing: what lies there is read out here.",
  pointMap: "Point at the map: what lies there is read out here.",
  pointBoth: "Point at the map or the drawing: what lies there is read out here.",
  understood: "Understood",
  mapLabel: "Map of the field",
};
