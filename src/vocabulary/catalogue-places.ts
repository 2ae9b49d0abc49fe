/** The variables of the layers about the ground and the season: zones, seed lots, weather, yield. */
import { LOG_CATALOGUE } from "./catalogue-log.ts";
import { type Catalogue, pattern, type VariableDescription } from "./variable-description.ts";

export const WEATHER_CATALOGUE: Catalogue = {
  date: {
    kind: "time",
    patterns: [pattern("date time", 0.96), pattern("date", 0.95), pattern("time", 0.85)],
  },
  rain: {
    kind: "quantity",
    dimension: "length",
    insideUnit: "mm",
    candidateUnits: ["mm", "in"],
    patterns: [pattern("rain", 0.95)],
    typical: [0.3, 30],
    possible: [0, 500],
  },
  minimumTemperature: { ...temperature("minimum", "soil"), possible: [-60, 45] },
  maximumTemperature: { ...temperature("maximum", "soil"), possible: [-60, 60] },
  soilTemperature: {
    ...temperature("soil"),
    patterns: [pattern("soil temperature", 0.97), pattern("soil", 0.7, "temperature")],
    not: ["moisture"],
    possible: [-30, 60],
  },
};

/** Kelvin aside, a spring day's Celsius stays below 31 and its Fahrenheit above 33 (0.6 C). */
function temperature(which: string, not?: string): VariableDescription {
  return {
    kind: "quantity",
    dimension: "temperature",
    insideUnit: "C",
    candidateUnits: ["C", "F"],
    patterns: [
      pattern(`${which} temperature`, 0.97),
      pattern(which, 0.75),
      pattern(`${which} air temperature`, 0.98),
    ],
    not: not === undefined ? [] : [not],
    typical: [0.6, 31],
  };
}

export const ZONE_CATALOGUE: Catalogue = {
  zone: {
    kind: "label",
    patterns: [
      pattern("texture", 0.96),
      pattern("texture class", 0.96),
      pattern("soil texture", 0.97),
      pattern("zone", 0.95),
      pattern("soil zone", 0.96),
      pattern("zone name", 0.96),
      pattern("soil name", 0.92),
      pattern("soil type", 0.9),
      pattern("soil class", 0.9),
      pattern("soil", 0.85),
      pattern("symbol", 0.8),
      pattern("name", 0.8),
      pattern("class", 0.7),
      pattern("type", 0.65),
    ],
    not: ["depth", "moisture", "temperature", "area", "drainage"],
  },
  drainage: {
    kind: "label",
    patterns: [pattern("drainage class", 0.97), pattern("drainage", 0.95)],
  },
};

export const SEED_LOT_CATALOGUE: Catalogue = {
  zone: {
    kind: "label",
    patterns: [...LOG_CATALOGUE.seedLot!.patterns, pattern("name", 0.7), pattern("zone", 0.7)],
  },
};

export const YIELD_CATALOGUE: Catalogue = {
  yield: {
    kind: "number",
    patterns: [
      pattern("yield", 0.9),
      pattern("yield volume dry", 0.95),
      pattern("dry yield", 0.95),
      ...["bu", "t", "kg"].map((mass) => pattern(`yield ${mass}`, 0.93, "density")),
    ],
    not: ["target", "moisture"],
  },
};
