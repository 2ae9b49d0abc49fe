/** Populations that are percent of the target: "Population" 98 where 35,000 seeds an acre were asked for. */
import type { Trouble } from "../../ingest/note-book.ts";
import { insideValue } from "../../vocabulary/variable-description.ts";
import type { ColumnGroup } from "../column-groups.ts";
import { relativeSpread, summarise } from "../column-summary.ts";
import type { FoundVariable } from "../recognition.ts";
import {
  type Decided,
  figures,
  middleOf,
  type UnitAnswer,
  type UnitHints,
  type UnitQuestion,
} from "./unit-question.ts";

/** Middles of a percentage of the target lie here (our judgement); thousands of seeds a hectare may, too. */
const [LOWEST_PERCENT, HIGHEST_PERCENT] = [80, 120];
/** One reading must be this much nearer to the target than the other, as a share. */
const CLEARLY_NEARER = 0.05;
/** A target that varies at least this much tells by itself (spread of the middle nine tenths over the median). */
const VARIES = 0.03;

/** The middle of a percentage of the target, whatever else it could be. */
export function mayBePercentOfTarget(middle: number): boolean {
  return middle >= LOWEST_PERCENT && middle <= HIGHEST_PERCENT;
}

/**
 * Decides whether a population without a written unit is percent of its target; null where it is not, or its middle
 * is none of a percentage. Where there is no target to tell, or both readings lie about equally near, it is the user's to choose.
 */
export function percentOfTarget(
  question: UnitQuestion,
  target: { question: UnitQuestion; answer: Decided | undefined } | null,
  hints: UnitHints,
): UnitAnswer | null {
  const middle = middleOf(question);
  if (!mayBePercentOfTarget(middle)) return null;
  const candidates = question.description.candidateUnits ?? [];
  const wanted = target?.answer
    ? insideValue(middleOf(target.question), target.answer.unit, target.question.description)
    : (hints.expected.population?.value ?? null);
  const seeds = candidates.filter((unit) => {
    const [low, high] = question.description.typical ?? [0, Number.POSITIVE_INFINITY];
    const value = insideValue(middle, unit, question.description);
    return value >= low && value <= high;
  });
  if (target && isShareOf(question.values, target.question.values) === "percent")
    return percent(question, "the target varies, and its values do not follow it");
  if (target && isShareOf(question.values, target.question.values) === "seeds") return null;
  if (wanted === null) {
    const choices = target ? [...seeds, "%"] : seeds;
    const where = target ? "the target" : "a target that is not in the file";
    return choices.length === 0
      ? null
      : { choices, reason: `its values (${figures(question)}) may be percent of ${where}` };
  }
  const off = (value: number) => Math.abs(Math.log(value / wanted));
  const asSeeds = Math.min(
    Number.POSITIVE_INFINITY,
    ...seeds.map((unit) => off(insideValue(middle, unit, question.description))),
  );
  const asPercent = Math.abs(Math.log(middle / 100));
  if (asPercent + CLEARLY_NEARER < asSeeds) return percent(question, "so it comes nearest to the target");
  if (asSeeds + CLEARLY_NEARER < asPercent) return null;
  return {
    choices: [...seeds, "%"],
    reason: `its values (${figures(question)}) may be percent of the target, too`,
  };
}

function percent(question: UnitQuestion, why: string): Decided {
  return {
    unit: "%",
    confidence: 0.85,
    reason: `percent of the target population: ${why} (median ${middleOf(question)})`,
  };
}

/** Whether values follow a target that varies ("seeds") or keep beside 100 whatever it is ("percent"); null where it does not tell. */
function isShareOf(values: Float64Array, target: Float64Array): "percent" | "seeds" | null {
  if (relativeSpread(target.filter((value) => value > 0)) < VARIES) return null;
  const own = relativeSpread(values.filter((value) => value > 0));
  const ratios = values.map((value, record) => value / target[record]!);
  const ratio = relativeSpread(ratios.filter((value) => value > 0 && Number.isFinite(value)));
  if (own < 0.8 * ratio) return "percent";
  return ratio < 0.8 * own ? "seeds" : null;
}

/** Percentages are rounded, to a whole percent at worst. */
const ROUNDING = 0.03;

/** True where one column is, record by record, another one in percent of the target; in whatever units they are. */
export function isPercentOfTarget(one: ColumnGroup, other: ColumnGroup, target: Float64Array): boolean {
  const [share, whole] = [one.columns[0], other.columns[0]];
  if (share?.kind !== "number" || whole?.kind !== "number") return false;
  const { median } = summarise(share.values);
  if (!mayBePercentOfTarget(median) || mayBePercentOfTarget(summarise(whole.values).median)) return false;
  const ratio = share.values.map((value, record) => (value * target[record]!) / whole.values[record]!);
  return relativeSpread(ratio.filter((value) => Number.isFinite(value))) < ROUNDING;
}

/**
 * A percentage of the target needs the target: what to say of it, and the variable is dropped where nothing gives one.
 * @param expected true where the manifest gives the target
 */
export function tieToTarget(
  found: Map<string, FoundVariable>,
  population: FoundVariable,
  expected: boolean,
  count: number,
): Trouble {
  const known = expected || found.has("targetPopulation");
  if (!known) found.delete(population.variable);
  return {
    reason: known
      ? "is percent of the target: population = target population x percent / 100"
      : 'is percent of the target, but nothing gives the target; write "targets": { "population": "34000 seeds/ac" }; not used',
    effect: known ? "converted" : "left out",
    field: population.group.label,
    count,
  };
}
