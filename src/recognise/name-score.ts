/** How well a column's name fits a variable. */
import type { NamePattern, VariableDescription } from "../vocabulary/variable-description.ts";
import { readWords } from "./column-words.ts";
import { groundInName } from "./units/ground-in-name.ts";
import { splitUnit, unitOfDimension } from "./units/unit-suffix.ts";

/** Words that say nothing about which variable it is. */
const NEUTRAL_WORDS = new Set([
  "actual",
  "mean",
  "applied",
  "sensed",
  "value",
  "number",
  "planter",
  "seed",
  "plant",
  "per",
  "vehicle",
]);
/** Factor for each word of the name that the pattern does not explain. */
const UNEXPLAINED = 0.6;
/** A least or greatest value of the interval is the variable, but less surely so. */
const EXTREME = 0.85;

const GROUND_BONUS = 0.05;

export interface NameScore {
  /** 0..1; 0 where the name does not fit. */
  score: number;
  /** True where the name says that the value is sensed. */
  sensed: boolean;
}

/**
 * Scores a name against a variable.
 * @param fullName the name as written, to know whether the format may have cut it
 * @param wide the name is that of a family with one column per row unit; as in names of quantities the words row and
 * unit say nothing then
 */
export function scoreName(
  name: string,
  description: VariableDescription,
  fullName = name,
  wide = false,
): NameScore {
  const ground = description.groundInName ? groundInName(name) : null;
  const split = splitUnit(ground?.rest ?? name);
  const places = readWords(split.parts, fullName);
  const unitTaken =
    (description.dimension !== undefined && unitOfDimension(split, description.dimension) !== null) ||
    (description.seedsPerKg !== undefined && unitOfDimension(split, "massPerArea") !== null);
  // An ending that is a unit of another dimension is a word like any other ("Plants_ac" is no count of plants).
  const foreignUnit = split.units.length > 0 && !unitTaken && description.kind !== "label";
  if (
    (description.not ?? []).some(
      (word) =>
        !(wide && description.family === "sum" && word === "row") &&
        places.some((place) => place.words.size === 1 && place.words.has(word)),
    )
  ) {
    return { score: 0, sensed: false };
  }
  let best = 0;
  for (const pattern of description.patterns) {
    if (pattern.familyOnly && !wide) continue;
    if (
      pattern.needs !== undefined &&
      !split.units.some((unit) => unitOfDimension({ ...split, units: [unit] }, pattern.needs!))
    )
      continue;
    best = Math.max(
      best,
      scorePattern(places, pattern, wide || description.kind === "quantity") *
        (foreignUnit && pattern.needs === undefined ? UNEXPLAINED : 1),
    );
  }
  // A name that says how much ground was counted is that of a count.
  if (ground && best > 0) best = Math.min(1, best + GROUND_BONUS);
  return { score: best, sensed: places.some((place) => place.words.has("sensed")) };
}

function scorePattern(places: ReturnType<typeof readWords>, pattern: NamePattern, wide: boolean): number {
  const free = new Set(places.keys());
  for (const word of pattern.words) {
    const place = [...free].find((index) => places[index]!.words.has(word));
    if (place === undefined) return 0;
    free.delete(place);
  }
  let score = pattern.weight;
  for (const index of free) {
    const { words } = places[index]!;
    if ([...words].some((word) => NEUTRAL_WORDS.has(word) || (wide && (word === "row" || word === "unit"))))
      continue;
    score *= [...words].some((word) => word === "minimum" || word === "maximum") ? EXTREME : UNEXPLAINED;
  }
  return score;
}
