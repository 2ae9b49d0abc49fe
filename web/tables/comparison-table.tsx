/** Passes by soil zone: sortable, with the difference to the other passes of the same soil and its interval. */
import { signal } from "@preact/signals";
import type { ComparisonRow } from "../../src/compare/comparison.ts";
import { formatNumber, formatPercent, formatQuantity } from "../../src/report/format.ts";
import * as state from "../app/state.ts";
import { VARIABLES } from "../words/variables.ts";

type SortKey = "pass" | "soilZone" | "areaHa" | "mean" | "sd" | "shareOutside" | "difference";

const chosenVariable = signal<ComparisonRow["variable"] | null>(null);
const sortKey = signal<SortKey>("difference");
const downwards = signal(false);

export function PassZoneTable({ longest }: { longest?: number }) {
  const all = (state.findingsDocument.value?.comparison ?? []).filter(
    (row) => row.pass !== null && row.rowUnit === null && row.soilZone !== null,
  );
  const variables = [...new Set(all.map((row) => row.variable))];
  const variable = variables.find((name) => name === chosenVariable.value) ?? preferred(variables);
  if (!variable) return <p class="none">There are no passes to compare within one soil.</p>;
  const rows = sorted(all.filter((row) => row.variable === variable)).slice(0, longest);
  const words = VARIABLES[variable];
  const system = state.unitSystem.value;
  const level = rows[0]?.level ?? 0.95;
  return (
    <div class="pass-zone">
      <label class="table-choice">
        Passes and soils by{" "}
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
      <table class="sortable">
        <caption class="visually-hidden">
          {words.title} of each pass in each soil zone, and how far it lies from the other passes there
        </caption>
        <thead>
          <tr>
            <SortHead name="pass" title="Pass" />
            <SortHead name="soilZone" title="Soil" />
            <SortHead name="areaHa" title="Area" number />
            <SortHead name="mean" title="Mean" number />
            <SortHead name="sd" title="Spread (SD)" number roomy />
            <SortHead name="shareOutside" title="Outside target" number roomy />
            <SortHead name="difference" title="Against other passes" number />
            <th scope="col" class="number">
              {formatPercent(level)} interval
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr
              key={`${row.pass} ${row.soilZone}`}
              class={row.pass === state.selectedPass.value ? "chosen" : ""}
            >
              <td>
                <button
                  type="button"
                  class="link"
                  onClick={() => {
                    state.selectedPass.value = row.pass;
                  }}
                >
                  {row.pass}
                </button>
              </td>
              <td>{row.soilZone}</td>
              <td class="number">{formatQuantity(row.areaHa, "area", system)}</td>
              <td class="number">{formatQuantity(row.mean, words.kind, system)}</td>
              <td class="number roomy">
                {row.sd === null ? "" : formatQuantity(row.sd, words.kind, system)}
              </td>
              <td class="number roomy">{row.shareOutside === null ? "" : formatPercent(row.shareOutside)}</td>
              <td class="number">{signed(row.difference, row)}</td>
              <td class="number">
                {row.low === null || row.high === null
                  ? ""
                  : `${signed(row.low, row)} to ${signed(row.high, row)}`}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function preferred(variables: ComparisonRow["variable"][]): ComparisonRow["variable"] | undefined {
  const shownOnMap = state.variable.value;
  return variables.find((name) => name === shownOnMap) ?? variables[0];
}

/** A difference in the shown unit with its sign; offsets do not matter because no shown unit has one. */
function signed(value: number | null, row: ComparisonRow): string {
  if (value === null) return "";
  const text = formatNumber(value, VARIABLES[row.variable].kind, state.unitSystem.value);
  return value > 0 ? `+${text}` : text;
}

function sorted(rows: ComparisonRow[]): ComparisonRow[] {
  const key = sortKey.value;
  const sign = downwards.value ? -1 : 1;
  return rows.sort((a, b) => {
    const [first, second] = [a[key], b[key]];
    if (first === null || second === null) return first === second ? 0 : first === null ? 1 : -1;
    const order =
      typeof first === "string" ? first.localeCompare(String(second), "en") : first - (second as number);
    return sign * order || (a.pass ?? 0) - (b.pass ?? 0);
  });
}

/** @param roomy left out where the screen is narrow. */
function SortHead(props: { name: SortKey; title: string; number?: boolean; roomy?: boolean }) {
  const { name, title, number, roomy } = props;
  const active = sortKey.value === name;
  return (
    <th
      scope="col"
      class={`${number ? "number" : ""}${roomy ? " roomy" : ""}`}
      aria-sort={active ? (downwards.value ? "descending" : "ascending") : "none"}
    >
      <button
        type="button"
        class="sort"
        onClick={() => {
          downwards.value = active ? !downwards.value : false;
          sortKey.value = name;
        }}
      >
        {title}
        <span aria-hidden="true">{active ? (downwards.value ? " ↓" : " ↑") : ""}</span>
      </button>
    </th>
  );
}
