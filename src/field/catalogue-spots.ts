/** The variables of stand counts and digs. */
import { leafStagesBehind } from "./leaf-stages.ts";
import { type Catalogue, DEPTH, OTHER_STATISTIC, pattern, SHARE } from "./variable-description.ts";

export const COUNT_CATALOGUE: Catalogue = {
  plants: {
    kind: "number",
    patterns: [
      pattern("plant count", 0.96),
      pattern("plant", 0.92),
      pattern("stand count", 0.85),
      pattern("count", 0.75),
    ],
    not: ["late", "population", "date", "row", "rows", "spacing", "target", "stage", "leaf", "method"],
    possible: [0, 10_000],
  },
  rowLength: {
    kind: "quantity",
    dimension: "length",
    insideUnit: "m",
    candidateUnits: ["ft", "m"],
    patterns: [pattern("row length", 0.97), pattern("length", 0.85)],
    not: ["leaf", "mesocotyl"],
    typical: [0.9, 60],
    possible: [0.01, 1000],
  },
  rowsCounted: {
    kind: "number",
    patterns: [pattern("rows count", 0.96), pattern("rows", 0.88), pattern("row count", 0.8)],
    not: ["length", "spacing"],
    possible: [1, 96],
  },
  hoopDiameter: {
    kind: "quantity",
    dimension: "length",
    insideUnit: "m",
    candidateUnits: ["in", "cm", "m"],
    patterns: [pattern("hoop diameter", 0.97), pattern("hoop", 0.85), pattern("diameter", 0.8)],
    typical: [0.3, 1.2],
    possible: [0.1, 5],
  },
  rowSpacing: {
    kind: "quantity",
    dimension: "length",
    insideUnit: "m",
    candidateUnits: ["in", "cm", "m", "mm"],
    patterns: [pattern("row spacing", 0.97), pattern("rows spacing", 0.95), pattern("row width", 0.9)],
    not: OTHER_STATISTIC,
    typical: [0.17, 1.05],
    possible: [0.05, 2],
  },
  stand: {
    kind: "quantity",
    dimension: "density",
    insideUnit: "plants/ha",
    candidateUnits: ["plants/ac", "1000 plants/ac", "plants/ha"],
    patterns: [
      pattern("plant stand", 0.95),
      pattern("stand", 0.9),
      pattern("plant population", 0.92),
      pattern("population", 0.85),
      pattern("plant density", 0.92),
      pattern("plant", 0.93, "density"),
      pattern("stand", 0.96, "density"),
    ],
    not: ["count", "target", "late"],
    possible: [0, 2_500_000],
  },
  latePlants: {
    kind: "number",
    patterns: [pattern("late plant", 0.97), pattern("late count", 0.92), pattern("late", 0.8)],
    not: ["share", "stage", "leaf"],
    possible: [0, 10_000],
  },
  lateShare: {
    ...SHARE,
    patterns: [
      pattern("late share", 0.97),
      pattern("late", 0.93, "share"),
      pattern("late plant", 0.98, "share"),
    ],
    typical: [0.0001, 1],
  },
  leafStages: {
    kind: "number",
    patterns: [
      pattern("leaf stage behind", 0.98),
      pattern("leaf stage", 0.95),
      pattern("stage behind", 0.95),
      pattern("leaf behind", 0.95),
    ],
    possible: [0, 20],
    readCell: leafStagesBehind,
  },
  spacingSd: {
    kind: "quantity",
    dimension: "length",
    insideUnit: "mm",
    candidateUnits: ["in", "cm", "mm"],
    patterns: [pattern("spacing deviation", 0.97), pattern("plant spacing deviation", 0.98)],
    typical: [15, 150],
    possible: [0, 1000],
  },
  spacings: {
    kind: "list",
    dimension: "length",
    insideUnit: "mm",
    candidateUnits: ["in", "cm", "mm"],
    patterns: [pattern("spacings", 0.95)],
    typical: [50, 400],
  },
  date: {
    kind: "time",
    patterns: [pattern("date time", 0.95), pattern("date", 0.95), pattern("time", 0.85)],
  },
  rowUnit: {
    kind: "number",
    patterns: [pattern("row unit", 0.97), pattern("row number", 0.95), pattern("row", 0.75)],
    not: ["spacing", "width", "length", "count"],
    possible: [0, 96],
  },
  method: { kind: "label", patterns: [pattern("method", 0.92)] },
};

export const DIG_CATALOGUE: Catalogue = {
  rowUnit: {
    ...COUNT_CATALOGUE.rowUnit!,
    patterns: [...COUNT_CATALOGUE.rowUnit!.patterns, pattern("unit", 0.7)],
  },
  seedDepth: {
    ...DEPTH,
    patterns: [pattern("seed depth", 0.96), pattern("depth", 0.9)],
    not: ["target", "soil", ...OTHER_STATISTIC],
  },
  mesocotylLength: {
    kind: "quantity",
    dimension: "length",
    insideUnit: "mm",
    candidateUnits: ["in", "mm", "cm"],
    patterns: [pattern("mesocotyl length", 0.97), pattern("mesocotyl", 0.92)],
    typical: [10, 75],
    possible: [0, 230],
  },
  smear: {
    kind: "category",
    patterns: [pattern("sidewall smear", 0.97), pattern("smear", 0.95), pattern("sidewall", 0.8)],
  },
  furrow: { kind: "category", patterns: [pattern("furrow", 0.9)], not: ["residue", "moisture"] },
  moisture: { kind: "category", patterns: [pattern("soil moisture", 0.95), pattern("moisture", 0.92)] },
  seedState: {
    kind: "category",
    patterns: [pattern("seed state", 0.97), pattern("seed condition", 0.92), pattern("seed", 0.7)],
    not: ["depth", "lot"],
  },
};
