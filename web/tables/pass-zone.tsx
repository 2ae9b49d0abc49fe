/** Passes by soil zone for one variable: the heat table and the list beside it. */
import { signal } from "@preact/signals";
import type { ComparisonRow } from "../../src/compare/tables/comparison.ts";
import * as state from "../model/state.ts";
import { texts } from "../words/texts/texts.ts";
import { VARIABLES } from "../words/variables.ts";
import { PassList } from "./comparison-table.tsx";
import { HeatTable } from "./heat-table.tsx";

const chosenVariable = signal<ComparisonRow["variable"] | null>(null);

/** @param longest rows of the list at most, as on paper, where the heat table is left out; otherwise both whole. */
export function PassZone({ longest }: { longest?: number }) {
  const all = (state.findingsDocument.value?.comparison ?? []).filter(
    (row) => row.pass !== null && row.rowUnit === null && row.soilZone !== null,
  );
  const variables = [...new Set(all.map((row) => row.variable))];
  const variable = variables.find((name) => name === chosenVariable.value) ?? preferred(variables);
  if (!variable) return <p class="none">{texts.value.tables.noPasses}</p>;
  const rows = all.filter((row) => row.variable === variable);
  return (
    <div class="pass-zone">
      <label class="table-choice">
        {texts.value.tables.by}{" "}
        <select
          value={variable}
          onChange={(event) => {
            const wanted = event.currentTarget.value;
            chosenVariable.value = variables.find((name) => name === wanted) ?? null;
          }}
        >
          {variables.map((name) => (
            <option key={name} value={name}>
              {VARIABLES[name].title}
            </option>
          ))}
        </select>
      </label>
      <div class="pass-zone-parts">
        {longest === undefined && <HeatTable rows={rows} variable={variable} />}
        {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region has to be reachable by keyboard */}
        <section class="pass-list" tabIndex={0} aria-label={texts.value.tables.asList}>
          <PassList all={rows} longest={longest} />
        </section>
      </div>
    </div>
  );
}

function preferred(variables: ComparisonRow["variable"][]): ComparisonRow["variable"] | undefined {
  const shownOnMap = state.variable.value;
  return variables.find((name) => name === shownOnMap) ?? variables[0];
}
