/**
 * Decides the unit of each recognised quantity: by the manifest, the name's ending, the size of the values, their
 * relation to other columns, or the units of the other columns. What stays unclear is left to the user.
 */
import { convert, UNITS } from "../units.ts";
import type { ColumnSummary } from "./column-summary.ts";
import type { SplitName } from "./unit-suffix.ts";
import { unitOfDimension } from "./unit-suffix.ts";
import type { VariableDescription } from "./variable-description.ts";

export interface UnitQuestion {
  variable: string;
  description: VariableDescription;
  split: SplitName;
  summary: ColumnSummary;
  /** Unit the manifest gives, null where it gives none. */
  given: string | null;
}

/** What is known beside the columns. */
export interface UnitHints {
  /** Expected middle of a variable, inside unit, from the manifest's targets or planter. */
  expected: Readonly<Record<string, { value: number; source: string }>>;
  /** Median distance between successive records, metres; null where not known. */
  stepMetres: number | null;
  crop: "corn" | "soybean" | "other";
}

export type UnitAnswer =
  | { unit: string; confidence: number; reason: string; note?: string }
  /** Several units are left (or none fits well); the user has to say. */
  | { choices: string[]; reason: string };

type Decided = { unit: string; confidence: number; reason: string; note?: string };
type Questions = ReadonlyMap<string, UnitQuestion>;

const US_UNITS = new Set([
  "in",
  "ft",
  "lbf",
  "lb",
  "mi/h",
  "mph",
  "seeds/ac",
  "1000 seeds/ac",
  "plants/ac",
  "1000 plants/ac",
  "F",
]);
const METRIC_UNITS = new Set([
  "mm",
  "cm",
  "m",
  "N",
  "daN",
  "kgf",
  "km/h",
  "m/s",
  "seeds/ha",
  "1000 seeds/ha",
  "plants/ha",
  "C",
]);

/**
 * How much the units of other columns must say before they decide one: a unit that is written down counts 1, one
 * that was itself told from values counts half.
 */
const EVIDENCE_FOR_A_SYSTEM = 2;
const WRITTEN_DOWN = 0.95;
/** A middle this many times outside the usual range contradicts the unit in the name. */
const NAME_CONTRADICTED = 3;
/** How near two measures of one thing must be: speed against distance over time. */
const SAME_MEASURE = 0.15;
/** How near a value must be to its target; units differ by more. */
const NEAR_TARGET = 0.35;

/** Answers every question; the result has the same keys. */
export function chooseUnits(questions: Questions, hints: UnitHints): Map<string, UnitAnswer> {
  const answers = new Map<string, UnitAnswer>();
  const open = new Map<string, UnitQuestion>();
  for (const [variable, question] of questions) {
    const answer = byManifestOrName(question) ?? byRange(question);
    if (answer) answers.set(variable, answer);
    else open.set(variable, question);
  }
  const settle = (decide: (question: UnitQuestion) => Decided | null) => {
    for (const [variable, question] of open) {
      const answer = decide(question);
      if (!answer) continue;
      answers.set(variable, answer);
      open.delete(variable);
    }
  };
  const decided = () => decidedOf(answers);
  settle((question) => byRelation(question, questions, decided(), hints));
  settle((question) => byRelation(question, questions, decided(), hints));
  settle((question) => bySystem(question, decided()));
  settle((question) => byRelation(question, questions, decided(), hints));
  for (const [variable, question] of open) answers.set(variable, leftOpen(question));
  return answers;
}

function decidedOf(answers: ReadonlyMap<string, UnitAnswer>): Map<string, Decided> {
  return new Map(
    [...answers].flatMap(([variable, answer]) => ("unit" in answer ? [[variable, answer]] : [])),
  );
}

/** The figure of a column that its usual range speaks of. */
function middleOf({ description, summary }: UnitQuestion): number {
  if (description.middle === "p95") return Math.max(Math.abs(summary.p5), Math.abs(summary.p95));
  return Number.isNaN(summary.medianNonZero) ? summary.median : summary.medianNonZero;
}

function inside(value: number, unit: string, description: VariableDescription): number {
  return convert(value, unit, description.insideUnit ?? unit);
}

function isTypical(question: UnitQuestion, unit: string, slack = 1): boolean {
  const [low, high] = question.description.typical ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  const middle = inside(middleOf(question), unit, question.description);
  const lowest = low > 0 ? low / slack : low * slack;
  return middle >= lowest && middle <= high * slack && isPossible(question, unit);
}

/** Nine tenths of the values (for shares: all of them) are possible in this unit. */
function isPossible({ description, summary }: UnitQuestion, unit: string): boolean {
  const [low, high] = description.possible ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  const largest = description.dimension === "share" ? summary.maximum : summary.p95;
  return (
    inside(largest, unit, description) <= high * (1 + 1e-9) && inside(summary.p5, unit, description) >= low
  );
}

function byManifestOrName(question: UnitQuestion): UnitAnswer | null {
  const { given, description, split } = question;
  if (given !== null) {
    const unusual = !isTypical(question, given, NAME_CONTRADICTED);
    return {
      unit: given,
      confidence: 1,
      reason: `unit ${given} as the manifest says`,
      ...(unusual
        ? {
            note: `in ${given} as the manifest says, the middle of the column is unusual: ${shown(question, given)}`,
          }
        : {}),
    };
  }
  const named = namedUnit(question);
  if (named === null) return null;
  if (isTypical(question, named, NAME_CONTRADICTED)) {
    return {
      unit: named,
      confidence: 1,
      reason: `unit ${named} by the ending "${split.ending}" of the name`,
    };
  }
  const better = (description.candidateUnits ?? []).filter(
    (unit) => unit !== named && isTypical(question, unit),
  );
  if (better.length > 0) {
    return {
      choices: [named, ...better],
      reason: `the name ends with "${split.ending}", but ${shown(question, named)} is unusual`,
    };
  }
  return {
    unit: named,
    confidence: 0.9,
    reason: `unit ${named} by the ending "${split.ending}" of the name`,
    note: `the middle of the column is unusual: ${shown(question, named)}`,
  };
}

/** The unit the name ends with; an ending such as "ac" means plants where plants are counted. */
function namedUnit({ description, split }: UnitQuestion): string | null {
  const unit = description.dimension === undefined ? null : unitOfDimension(split, description.dimension);
  const counted = description.insideUnit?.startsWith("plants") ? unit?.replace("seeds", "plants") : unit;
  return counted ?? null;
}

function typicalUnits(question: UnitQuestion): string[] {
  return (question.description.candidateUnits ?? []).filter((unit) => isTypical(question, unit));
}

function byRange(question: UnitQuestion): Decided | null {
  const candidates = question.description.candidateUnits ?? [];
  const fitting = typicalUnits(question);
  const unit = fitting[0];
  if (fitting.length !== 1 || unit === undefined) return null;
  const why =
    candidates.length === 1 ? "the only unit it can have" : "the only unit in which the values are usual";
  return { unit, confidence: 0.85, reason: `unit ${unit}: ${why} (${shown(question, unit)})` };
}

function byRelation(
  question: UnitQuestion,
  questions: Questions,
  decided: ReadonlyMap<string, Decided>,
  hints: UnitHints,
): Decided | null {
  const expectation = expectationOf(question, questions, decided, hints);
  if (expectation) {
    const fitting = (question.description.candidateUnits ?? []).filter((unit) => {
      const ratio = inside(middleOf(question), unit, question.description) / expectation.value;
      return ratio > 1 - expectation.tolerance && ratio < 1 / (1 - expectation.tolerance);
    });
    const unit = fitting[0];
    if (fitting.length === 1 && unit !== undefined) {
      return {
        unit,
        confidence: 0.9,
        reason: `unit ${unit}: it agrees with ${expectation.source} (${shown(question, unit)})`,
      };
    }
  }
  return bySibling(question, decided);
}

interface Expectation {
  value: number;
  tolerance: number;
  source: string;
}

function expectationOf(
  { variable }: UnitQuestion,
  questions: Questions,
  decided: ReadonlyMap<string, Decided>,
  hints: UnitHints,
): Expectation | null {
  const known = (other: string): number | null => {
    const question = questions.get(other);
    const answer = decided.get(other);
    return question && answer ? inside(middleOf(question), answer.unit, question.description) : null;
  };
  const given = hints.expected[variable];
  if (given) return { value: given.value, tolerance: NEAR_TARGET, source: given.source };
  if (variable === "distance" && hints.stepMetres !== null) {
    return { value: hints.stepMetres, tolerance: SAME_MEASURE, source: "the distance between the positions" };
  }
  if (variable === "speed") {
    const duration = known("duration");
    const distance = known("distance") ?? hints.stepMetres;
    if (duration === null || distance === null || duration <= 0) return null;
    return { value: distance / duration, tolerance: SAME_MEASURE, source: "distance divided by duration" };
  }
  const partner = PARTNERS[variable];
  const value = partner === undefined ? null : known(partner.variable);
  return value === null || value <= 0 ? null : { value, tolerance: NEAR_TARGET, source: partner!.source };
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

function bySibling(question: UnitQuestion, decided: ReadonlyMap<string, Decided>): Decided | null {
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

function bySystem(question: UnitQuestion, decided: ReadonlyMap<string, Decided>): Decided | null {
  const used = [...decided].filter(([variable]) => variable !== question.variable);
  const us = used.filter(([, { unit }]) => US_UNITS.has(unit));
  const metric = used.filter(([, { unit }]) => METRIC_UNITS.has(unit));
  const [side, others, system] = us.length > 0 ? [us, metric, US_UNITS] : [metric, us, METRIC_UNITS];
  const evidence = side.reduce((sum, [, { confidence }]) => sum + (confidence >= WRITTEN_DOWN ? 1 : 0.5), 0);
  if (evidence < EVIDENCE_FOR_A_SYSTEM || others.length > 0) return null;
  const fitting = typicalUnits(question).filter((unit) => system.has(unit));
  const unit = fitting[0];
  if (fitting.length !== 1 || unit === undefined) return null;
  const named = side.slice(0, 3).map(([variable, answer]) => `${variable} in ${answer.unit}`);
  return {
    unit,
    confidence: 0.7,
    reason: `unit ${unit}: the other columns of the file are in such units (${named.join(", ")}), and ${shown(question, unit)} is usual`,
  };
}

function leftOpen(question: UnitQuestion): UnitAnswer {
  const usual = typicalUnits(question);
  if (usual.length > 0) {
    return {
      choices: usual,
      reason: `its values (${figures(question)}) are usual in each of ${usual.join(", ")}`,
    };
  }
  const possible = (question.description.candidateUnits ?? []).filter((unit) => isPossible(question, unit));
  return { choices: possible, reason: `its values (${figures(question)}) are usual in no unit` };
}

function figures({ summary }: UnitQuestion): string {
  return `${tidy(summary.minimum)} to ${tidy(summary.maximum)}, median ${tidy(summary.median)}`;
}

function shown(question: UnitQuestion, unit: string): string {
  const { description } = question;
  const middle = middleOf(question);
  const insideUnit = description.insideUnit ?? unit;
  const own = `${tidy(middle)} ${unit}`;
  const name = description.middle === "p95" ? "95 % of values up to" : "median";
  if (insideUnit === unit || UNITS[unit]?.dimension === "share") return `${name} ${own}`;
  return `${name} ${own} = ${tidy(inside(middle, unit, description))} ${insideUnit}`;
}

/** A number in at most four significant digits. */
export function tidy(value: number): string {
  if (!Number.isFinite(value)) return "none";
  const size = Math.abs(value);
  if (size >= 1000) return String(Math.round(value));
  return String(Number(value.toPrecision(4)));
}
