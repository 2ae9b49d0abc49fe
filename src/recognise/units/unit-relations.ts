/** What other columns, the positions and the manifest lead one to expect of a quantity, in its inside unit. */
import { insideValue } from "../../vocabulary/variable-description.ts";
import {
  type Decided,
  isTypical,
  middleOf,
  shown,
  type UnitHints,
  type UnitQuestion,
} from "./unit-question.ts";

type Questions = ReadonlyMap<string, UnitQuestion>;
type Answers = ReadonlyMap<string, Decided>;

/** How near two measures of one thing must be: speed against distance over time. */
const SAME_MEASURE = 0.15;
/** How near a value must be to its target; units differ by more. */
const NEAR_TARGET = 0.35;
/** A heading this near to the direction of the way is that direction; further off it is not, degrees (our judgement). */
const [SAME_DIRECTION_DEG, OTHER_DIRECTION_DEG] = [20, 45];

/** A full turn in radians, with its rounding. */
const FULL_TURN = 2 * Math.PI + 0.01;

interface Expectation {
  value: number;
  tolerance: number;
  source: string;
}

const PARTNERS: Readonly<Record<string, { variable: string; source: string }>> = {
  population: { variable: "targetPopulation", source: "the target population" },
  targetPopulation: { variable: "population", source: "the population" },
  seedingDepth: { variable: "targetDepth", source: "the target depth" },
  targetDepth: { variable: "seedingDepth", source: "the seeding depth" },
};

/** Variables that one device writes in one unit. */
const SIBLINGS: readonly (readonly string[])[] = [
  ["downForce", "downForceMargin"],
  ["swathWidth", "lateralOffset"],
  ["singulation", "groundContact", "multiples", "misses", "spacingVariation"],
  ["minimumTemperature", "maximumTemperature", "soilTemperature"],
  ["seedDepth", "mesocotylLength"],
];

/** The unit that agrees with what is known from elsewhere, null where none or several do. */
export function byRelation(
  question: UnitQuestion,
  questions: Questions,
  decided: Answers,
  hints: UnitHints,
): Decided | null {
  if (question.variable === "heading") return byDirection(question, hints);
  for (const expectation of expectationsOf(question, questions, decided, hints)) {
    const fitting = unitsThatFit(question, expectation);
    const unit = fitting[0];
    if (fitting.length !== 1 || unit === undefined) continue;
    return {
      unit,
      confidence: 0.9,
      reason: `unit ${unit}: it agrees with ${expectation.source} (${shown(question, unit)})`,
    };
  }
  return bySibling(question, decided);
}

/**
 * A unit the name tells, contradicted by a measure of the same thing that agrees with just one other unit: a speed
 * against distance over time, a distance against speed times time, a heading against the way. Null where nothing
 * contradicts it.
 */
export function contradiction(
  question: UnitQuestion,
  unit: string,
  questions: Questions,
  decided: Answers,
  hints: UnitHints,
): { unit: string; source: string } | null {
  if (question.variable === "heading") {
    const better = hints.turnDeg ? byDirection(question, hints) : null;
    if (!better || better.unit === unit) return null;
    const off = hints.turnDeg!(question.values, insideValue(1, unit, question.description));
    return off > OTHER_DIRECTION_DEG
      ? { unit: better.unit, source: "the direction between the positions" }
      : null;
  }
  const others = new Map([...decided].filter(([variable]) => variable !== question.variable));
  for (const expectation of measuresOf(question, questions, others, hints)) {
    const fitting = unitsThatFit(question, expectation);
    if (fitting.some((one) => sameSize(question, one, unit))) return null;
    if (fitting.length === 1) return { unit: fitting[0]!, source: expectation.source };
  }
  return null;
}

/** Two names of one unit, such as lb and lbf. */
function sameSize({ description }: UnitQuestion, one: string, other: string): boolean {
  return insideValue(1, one, description) === insideValue(1, other, description);
}

function unitsThatFit(question: UnitQuestion, { value, tolerance }: Expectation): string[] {
  const { candidateUnits = [], rareUnits = [] } = question.description;
  return [...candidateUnits, ...rareUnits].filter((unit) => {
    const ratio = insideValue(middleOf(question), unit, question.description) / value;
    return ratio > 1 - tolerance && ratio < 1 / (1 - tolerance);
  });
}

function expectationsOf(
  question: UnitQuestion,
  questions: Questions,
  decided: Answers,
  hints: UnitHints,
): Expectation[] {
  const { variable } = question;
  const given = hints.expected[variable];
  if (given) return [{ value: given.value, tolerance: NEAR_TARGET, source: given.source }];
  const partner = PARTNERS[variable];
  const value = partner === undefined ? null : knownMiddle(partner.variable, questions, decided);
  if (value !== null && value > 0) return [{ value, tolerance: NEAR_TARGET, source: partner!.source }];
  return measuresOf(question, questions, decided, hints);
}

function knownMiddle(variable: string, questions: Questions, decided: Answers): number | null {
  const question = questions.get(variable);
  const answer = decided.get(variable);
  return question && answer && answer.unit !== "%"
    ? insideValue(middleOf(question), answer.unit, question.description)
    : null;
}

/** Other measures of a speed or a distance. */
function measuresOf(
  { variable }: UnitQuestion,
  questions: Questions,
  decided: Answers,
  hints: UnitHints,
): Expectation[] {
  const found: Expectation[] = [];
  const add = (value: number | null, source: string) => {
    if (value !== null && value > 0) found.push({ value, tolerance: SAME_MEASURE, source });
  };
  const duration = knownMiddle("duration", questions, decided);
  if (variable === "distance") {
    const speed = knownMiddle("speed", questions, decided);
    if (speed !== null && duration !== null) add(speed * duration, "speed times duration");
    add(hints.stepMetres, "the distance between the positions");
  }
  if (variable === "speed") {
    const distance = knownMiddle("distance", questions, decided);
    if (duration !== null && distance !== null) add(distance / duration, "distance divided by duration");
    add(hints.metresPerSecond, "the distance between the positions divided by their times");
    if (duration !== null && hints.stepMetres !== null)
      add(hints.stepMetres / duration, "the distance between the positions divided by duration");
  }
  return found;
}

/** Degrees or radians: by the direction between the positions, else by how far the values reach. */
function byDirection(question: UnitQuestion, hints: UnitHints): Decided | null {
  const turnOf = (unit: string) =>
    hints.turnDeg?.(question.values, insideValue(1, unit, question.description)) ?? Number.POSITIVE_INFINITY;
  const [nearest] = (question.description.candidateUnits ?? [])
    .map((unit) => ({ unit, turn: turnOf(unit) }))
    .sort((a, b) => a.turn - b.turn || 0);
  const first = nearest && nearest.turn <= SAME_DIRECTION_DEG ? nearest.unit : undefined;
  if (first !== undefined) {
    return {
      unit: first,
      confidence: 0.9,
      reason: `unit ${first}: it agrees with the direction between the positions`,
    };
  }
  const { minimum, maximum, p5, p95 } = question.summary;
  if (minimum === 0 && maximum === 0)
    return { unit: "deg", confidence: 0.85, reason: "unit deg: 0 is north in any unit" };
  if (Math.max(maximum, -minimum) > FULL_TURN) {
    return {
      unit: "deg",
      confidence: 0.85,
      reason: "unit deg: in radians the values would go past a full turn",
    };
  }
  // A field driven in several directions spans far more than a few degrees.
  if (p95 - p5 <= 1) return null;
  return {
    unit: "rad",
    confidence: 0.8,
    reason: "unit rad: in degrees the whole field would have been driven within a few degrees",
  };
}

function bySibling(question: UnitQuestion, decided: Answers): Decided | null {
  const family = SIBLINGS.find((names) => names.includes(question.variable));
  for (const sibling of family ?? []) {
    const unit = sibling === question.variable ? undefined : decided.get(sibling)?.unit;
    if (unit === undefined || !isTypical(question, unit, 2)) continue;
    return {
      unit,
      confidence: 0.8,
      reason: `unit ${unit} as the column of the ${sibling} (${shown(question, unit)})`,
    };
  }
  return null;
}
