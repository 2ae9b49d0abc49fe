/**
 * Decides the unit of each recognised quantity: by the manifest, the cells, the name's ending, the size of the values,
 * their relation to other columns, or the units of the other columns. What stays unclear is left to the user.
 */
import { mayBePercentOfTarget, percentOfTarget } from "./percent-of-target.ts";
import {
  type Decided,
  figures,
  isPossible,
  isTypical,
  middleOf,
  shown,
  typicalUnits,
  type UnitAnswer,
  type UnitHints,
  type UnitQuestion,
} from "./unit-question.ts";
import { byRelation, contradiction } from "./unit-relations.ts";
import { unitOfDimension } from "./unit-suffix.ts";

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
/** One system must outweigh the other this much where a file mixes them. */
const OUTWEIGHED_BY = 4;
const WRITTEN_DOWN = 0.95;
/** A middle this many times outside the usual range contradicts the unit in the name. */
const NAME_CONTRADICTED = 3;

/** Quantities that other columns, the positions or the manifest prove better than their size does. */
const AFTER_RELATIONS = new Set(["population", "distance", "swathWidth"]);

/** Answers every question; the result has the same keys. */
export function chooseUnits(questions: Questions, hints: UnitHints): Map<string, UnitAnswer> {
  const answers = new Map<string, UnitAnswer>();
  const open = new Map<string, UnitQuestion>();
  for (const [variable, question] of questions) {
    const answer = byManifestOrName(question) ?? (AFTER_RELATIONS.has(variable) ? null : byRange(question));
    if (answer) answers.set(variable, answer);
    else open.set(variable, question);
  }
  const settle = (decide: (question: UnitQuestion) => UnitAnswer | null) => {
    for (const [variable, question] of open) {
      const answer = decide(question);
      if (!answer) continue;
      answers.set(variable, answer);
      open.delete(variable);
    }
  };
  const decided = () => decidedOf(answers);
  const relate = (question: UnitQuestion) => byRelation(question, questions, decided(), hints);
  settle((question) =>
    question.variable === "population"
      ? populationOf(question, questions, decided(), hints)
      : relate(question),
  );
  settle(relate);
  settle((question) => byRange(question));
  settle(relate);
  settle((question) => bySystem(question, decided()));
  settle(relate);
  for (const [variable, question] of open) answers.set(variable, leftOpen(question));
  for (const [variable, question] of questions) doubt(variable, question, questions, answers, hints);
  return answers;
}

function decidedOf(answers: ReadonlyMap<string, UnitAnswer>): Map<string, Decided> {
  return new Map(
    [...answers].flatMap(([variable, answer]) => ("unit" in answer ? [[variable, answer]] : [])),
  );
}

/** A population may be percent of the target, which its size alone does not tell. */
function populationOf(
  question: UnitQuestion,
  questions: Questions,
  decided: ReadonlyMap<string, Decided>,
  hints: UnitHints,
): UnitAnswer | null {
  const target = questions.get("targetPopulation");
  const known = target ? { question: target, answer: decided.get("targetPopulation") } : null;
  return percentOfTarget(question, known, hints) ?? byRange(question);
}

/** Where a unit told by the name is contradicted by another measure of the same thing, the user has to say. */
function doubt(
  variable: string,
  question: UnitQuestion,
  questions: Questions,
  answers: Map<string, UnitAnswer>,
  hints: UnitHints,
): void {
  const answer = answers.get(variable);
  if (!answer || !("unit" in answer) || answer.confidence < WRITTEN_DOWN) return;
  const other = contradiction(question, answer.unit, questions, decidedOf(answers), hints);
  if (other === null) return;
  const reason = `its values agree with ${other.source} in ${other.unit}, not in ${answer.unit} (${shown(question, other.unit)})`;
  if (question.given !== null) answers.set(variable, { ...answer, note: reason });
  else
    answers.set(variable, { choices: [answer.unit, other.unit], reason: `${answer.reason}, but ${reason}` });
}

function byManifestOrName(question: UnitQuestion): UnitAnswer | null {
  const { given, inCells } = question;
  if (given === "%" && question.description.percentOfTarget) {
    return { unit: given, confidence: 1, reason: "percent of the target population as the manifest says" };
  }
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
  if (inCells !== null) {
    return { unit: inCells, confidence: 1, reason: `unit ${inCells} as written in the cells` };
  }
  return byName(question);
}

function byName(question: UnitQuestion): UnitAnswer | null {
  const { description, split } = question;
  const ofTarget = description.percentOfTarget === true;
  if (ofTarget && split.units.includes("%")) {
    return { unit: "%", confidence: 1, reason: "percent of the target population by its name" };
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
  if (ofTarget && mayBePercentOfTarget(middleOf(question))) better.push("%");
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

/**
 * The unit the name ends with; an ending such as "ac" means plants where plants are counted, one of weight a rate by weight
 * where the size of the seed is known.
 */
function namedUnit({ description, split }: UnitQuestion): string | null {
  const byWeight = description.seedsPerKg === undefined ? null : unitOfDimension(split, "massPerArea");
  if (byWeight !== null) return byWeight;
  const unit = description.dimension === undefined ? null : unitOfDimension(split, description.dimension);
  const counted = description.insideUnit?.startsWith("plants") ? unit?.replace("seeds", "plants") : unit;
  return counted ?? null;
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

function bySystem(question: UnitQuestion, decided: ReadonlyMap<string, Decided>): Decided | null {
  const used = [...decided].filter(([variable]) => variable !== question.variable);
  const us = used.filter(([, { unit }]) => US_UNITS.has(unit));
  const metric = used.filter(([, { unit }]) => METRIC_UNITS.has(unit));
  const weigh = (side: typeof used) =>
    side.reduce((sum, [, { confidence }]) => sum + (confidence >= WRITTEN_DOWN ? 1 : 0.5), 0);
  const [side, others, system] =
    weigh(us) >= weigh(metric) ? [us, metric, US_UNITS] : [metric, us, METRIC_UNITS];
  const evidence = weigh(side);
  if (evidence < EVIDENCE_FOR_A_SYSTEM || weigh(others) * OUTWEIGHED_BY > evidence) return null;
  const fitting = typicalUnits(question).filter((unit) => system.has(unit));
  const unit = fitting[0];
  if (fitting.length !== 1 || unit === undefined) return null;
  const named = side.slice(0, 3).map(([variable, answer]) => `${variable} in ${answer.unit}`);
  return {
    unit,
    confidence: 0.7,
    reason: `unit ${unit}: ${others.length > 0 ? "nearly all" : "the"} other columns of the file are in such units (${named.join(", ")}), and ${shown(question, unit)} is usual`,
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
