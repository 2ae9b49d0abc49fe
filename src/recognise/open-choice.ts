/** What recognition leaves to the user, with the manifest lines that settle it. */
import { ChoiceNeededError, type OpenChoice } from "../errors.ts";
import type { ColumnGroup } from "./column-groups.ts";

function manifestLine(variable: string, group: ColumnGroup, unit: string | null): string {
  const names = group.columns.map((column) => column.name);
  const column = names.length === 1 ? names[0] : names;
  return `${JSON.stringify(variable)}: ${JSON.stringify(unit === null ? column : { column, unit })}`;
}

/** Two or more columns fit a variable about equally. */
export function openColumnChoice(role: string, variable: string, groups: readonly ColumnGroup[]): OpenChoice {
  const names = groups.map((group) => `"${group.label}"`).join(" and ");
  return {
    role,
    variable,
    question: `the columns ${names} fit ${variable} about equally`,
    lines: [...groups.map((group) => manifestLine(variable, group, null)), `"${variable}": null`],
  };
}

/** A column whose unit cannot be told. */
export function openUnitChoice(
  role: string,
  variable: string,
  group: ColumnGroup,
  units: readonly string[],
  reason: string,
): OpenChoice {
  return {
    role,
    variable,
    question: `the unit of the column "${group.label}" (${variable}) cannot be told: ${reason}`,
    lines: [...units.map((unit) => manifestLine(variable, group, unit)), `"${variable}": null`],
  };
}

/** A column that is only vaguely named or sized like the variable it is taken for. */
export function openUnsureChoice(
  role: string,
  variable: string,
  group: ColumnGroup,
  unit: string | null,
  reason: string,
): OpenChoice {
  return {
    role,
    variable,
    question: `the column "${group.label}" may be ${variable}, but it is not sure: ${reason}`,
    lines: [manifestLine(variable, group, unit), `"${variable}": null`],
  };
}

/** Dates of which no value tells whether the day or the month comes first. */
export function openDayOrderChoice(
  role: string,
  variable: string,
  group: ColumnGroup,
  value: string,
): OpenChoice {
  return {
    role,
    variable,
    question: `the dates of the column "${group.label}" (such as ${value}) may have the day or the month first`,
    lines: [...["m/d/y", "d/m/y"].map((unit) => manifestLine(variable, group, unit)), `"${variable}": null`],
  };
}

/**
 * Stops where something is left open.
 * @throws {ChoiceNeededError} naming each choice and the manifest lines that settle it.
 */
export function requireClear(file: string, open: readonly OpenChoice[]): void {
  const first = open[0];
  if (!first) return;
  const parts = open.map(
    ({ question, lines }) => `${question}\n${lines.map((line) => `  ${line}`).join("\n")}`,
  );
  throw new ChoiceNeededError(
    `${file}: ${open.length === 1 ? "one choice is" : `${open.length} choices are`} yours. Put one line of each into "columns" of "${first.role}" in the manifest; null leaves the variable out.\n${parts.join("\n")}`,
    {
      file,
      field: open.map(({ variable }) => variable).join(", "),
      accepted: open.flatMap(({ lines }) => lines).join("\n"),
      choices: open,
    },
  );
}
