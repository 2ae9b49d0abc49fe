import type { ComparisonRow } from "../../src/compare/tables/comparison.ts";
import type { UnitSystem } from "../../src/quantities/format.ts";
import { formatNumber } from "../words/format.ts";
import { VARIABLES } from "../words/variables.ts";

/** A difference in the shown unit with its sign; offsets do not matter because no shown unit has one. */
export function signed(
  value: number | null,
  variable: ComparisonRow["variable"],
  system: UnitSystem,
): string {
  if (value === null) return "";
  const text = formatNumber(value, VARIABLES[variable].kind, system);
  return value > 0 ? `+${text}` : text;
}
