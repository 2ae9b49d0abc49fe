/** Whether the values of a column can be those of a variable at all. */
import type { VariableDescription } from "../vocabulary/variable-description.ts";
import type { ColumnGroup } from "./column-groups.ts";
import type { ColumnSummary } from "./column-summary.ts";
import { tidy } from "./units/unit-question.ts";

/** Why a flag that is never set is not used, unless the user chose it. */
export const OFF_THROUGHOUT = "is off throughout, so that it says nothing";

/** The first text of a group of columns that should hold numbers, null where all are numbers. */
export function textAmongNumbers(description: VariableDescription, group: ColumnGroup): string | null {
  if (description.kind !== "quantity" && description.kind !== "number") return null;
  const text = group.columns.find((column) => column.kind === "text");
  return text?.kind === "text" ? (text.labels[0] ?? "") : null;
}

/**
 * Why a group of columns cannot be the variable, in words that follow the column's name; null where it can.
 * @param chosen the user named the column, so values that look odd are believed
 */
export function whyUnusable(
  description: VariableDescription,
  group: ColumnGroup,
  summarise: () => ColumnSummary,
  chosen: boolean,
): string | null {
  const { kind } = description;
  if (kind === "label" || kind === "list" || kind === "category") return null;
  if (kind === "flag") {
    if (group.columns.some((column) => column.kind === "text")) return null;
    if (!isFlag(summarise())) return "is not 0 or 1 throughout";
    return isZero(summarise()) && !chosen ? OFF_THROUGHOUT : null;
  }
  const text = textAmongNumbers(description, group);
  if (text !== null) return `is text where numbers are expected (first value "${text}")`;
  const summary = summarise();
  if (summary.count === 0) return "has no values";
  if (chosen) return null;
  if (description.zeroMeansAbsent && isZero(summary)) {
    return "is zero throughout, as from a sensor that is not there";
  }
  if (kind === "number" && description.possible) {
    const [low, high] = description.possible;
    if (summary.p5 < low || summary.p95 > high) {
      return `has values (${tidy(summary.minimum)} to ${tidy(summary.maximum)}) that are not within ${low} to ${high}`;
    }
  }
  return null;
}

/** True where every value is zero. */
export function isZero({ minimum, maximum }: ColumnSummary): boolean {
  return minimum === 0 && maximum === 0;
}

function isFlag({ minimum, maximum, distinct }: ColumnSummary): boolean {
  return distinct <= 2 && minimum >= 0 && maximum <= 1;
}
