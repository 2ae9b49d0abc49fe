/** Which of the columns that fit a variable is used. */
import type { VariableDescription } from "../vocabulary/variable-description.ts";
import type { ColumnGroup } from "./column-groups.ts";
import { samePartition, sameValues } from "./same-columns.ts";
import { isPercentOfTarget } from "./units/percent-of-target.ts";

export interface Candidate {
  group: ColumnGroup;
  /** How well the name fits, 0..1. */
  score: number;
  /** The name says that the value is sensed. */
  sensed: boolean;
}

export interface PickedColumn {
  picked: Candidate;
  /** Columns not used, with why, in words that follow the column's name. */
  passedOver: { group: ColumnGroup; why: string }[];
}

/** Two columns whose scores differ by less fit about equally. */
const ABOUT_EQUAL = 0.1;

/**
 * Picks the column whose name fits best. Of columns that say the same the one is taken that names its unit; a
 * population that is percent of its target gives way to one in seeds.
 * @param target values of the target population, null where there is none
 * @param hasUnit whether the name or the cells of a group give its unit
 * @returns the groups to choose from where several differ; null where there is no candidate
 */
export function pickColumn(
  variable: string,
  description: VariableDescription,
  candidates: readonly Candidate[],
  target: Float64Array | null,
  hasUnit: (group: ColumnGroup) => boolean,
): PickedColumn | { groups: ColumnGroup[] } | null {
  const passedOver: PickedColumn["passedOver"] = [];
  const left = candidates.filter((one) => {
    const whole =
      variable === "population" && target !== null && !hasUnit(one.group)
        ? candidates.find((other) => other !== one && isPercentOfTarget(one.group, other.group, target))
        : undefined;
    if (whole)
      passedOver.push({ group: one.group, why: `is "${whole.group.label}" in percent of the target` });
    return whole === undefined;
  });
  left.sort((a, b) => b.score - a.score);
  const best = left[0];
  if (!best) return null;
  const rivals = left.slice(1).filter((one) => best.score - one.score < ABOUT_EQUAL);
  const isLabel = description.kind === "label";
  const different = rivals.filter((one) =>
    isLabel
      ? !samePartition(one.group, best.group)
      : !sameValues(one.group, best.group, description.candidateUnits),
  );
  if (different.length > 0) return { groups: [best, ...different].map(({ group }) => group) };
  const picked = [best, ...rivals].find((one) => hasUnit(one.group)) ?? best;
  for (const { group } of [best, ...rivals]) {
    if (group === picked.group) continue;
    const how = isLabel ? "tells the records apart just as" : "holds the same measure as";
    passedOver.push({ group, why: `${how} "${picked.group.label}", which is used as ${variable}` });
  }
  return { picked, passedOver };
}
