/** What the map shows in words and numbers, for those who do not see it. */
import * as state from "../../model/state.ts";
import type { ValueName } from "../../protocol/ground.ts";
import { formatQuantity, plural } from "../../words/format.ts";
import { VARIABLES } from "../../words/variables.ts";
import { shownSaid } from "./filter-panel.tsx";

export function mapSummary(variable: ValueName | null): string {
  const layers = state.layers.value;
  if (!layers) return "No field is open.";
  const parts = [
    plural(layers.passLines.features.length, "pass", "passes"),
    `${plural(layers.zoneNames.length, "soil zone")}${layers.zoneNames.length > 0 ? ` (${layers.zoneNames.join(", ")})` : ""}`,
    layers.countsInAll === undefined
      ? plural(layers.counts.features.length, "stand count")
      : `${layers.counts.features.length} of ${layers.countsInAll} stand counts`,
    plural(layers.digs.features.length, "dig"),
  ];
  const groups = state.findings.value.map(
    ({ number, finding }) =>
      `${number}: ${finding.words.title}, ${finding.words.place}, ${formatQuantity(finding.where.areaHa, "area", state.unitSystem.value)}`,
  );
  const coloured = variable ? ` The passes are coloured by ${VARIABLES[variable].named}.` : "";
  return `The map shows ${parts.join(", ")}.${coloured} ${shownSaid()}${groups.length > 0 ? ` Groups outlined: ${groups.join("; ")}.` : ""}`;
}
