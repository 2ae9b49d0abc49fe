/** Passes by soil zone as a list: sortable, with the difference to the other passes of the same soil and its interval. */
import { signal } from "@preact/signals";
import type { ComparisonRow } from "../../src/compare/tables/comparison.ts";
import { Origin } from "../controls/origin.tsx";
import * as state from "../model/state.ts";
import { formatPercent, formatQuantity } from "../words/format.ts";
import { texts } from "../words/texts/texts.ts";
import { VARIABLES } from "../words/variables.ts";
import { signed } from "./signed.ts";

type SortKey = "pass" | "soilZone" | "areaHa" | "mean" | "sd" | "shareOutside" | "difference";

const sortKey = signal<SortKey>("difference");
const downwards = signal(false);

/** @param all rows of one variable */
export function PassList({ all, longest }: { all: readonly ComparisonRow[]; longest: number | undefined }) {
  const rows = sorted([...all]).slice(0, longest);
  const [first] = rows;
  if (!first) return null;
  const words = VARIABLES[first.variable];
  const system = state.unitSystem.value;
  const { level } = first;
  return (
    <>
      <table class="sortable">
        <caption class="visually-hidden">{texts.value.tables.listCaption(words.title)}</caption>
        <thead>
          <tr>
            <SortHead name="pass" title={texts.value.map.pass} />
            <SortHead name="soilZone" title={texts.value.map.soil} />
            <SortHead name="areaHa" title={texts.value.tables.area} number />
            <SortHead name="mean" title={texts.value.tables.mean} number />
            <SortHead name="sd" title={texts.value.tables.spread} number roomy />
            <SortHead name="shareOutside" title={texts.value.tables.outside} number roomy />
            <SortHead name="difference" title={texts.value.tables.against} number />
            <th scope="col" class="number">
              <Origin of="difference" variable={first.variable}>
                {texts.value.tables.levelInterval(formatPercent(level))}
              </Origin>
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
              <td class="number">{signed(row.difference, row.variable, system)}</td>
              <td class="number">
                {row.low === null || row.high === null
                  ? ""
                  : texts.value.map.between(
                      signed(row.low, row.variable, system),
                      signed(row.high, row.variable, system),
                    )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="small">
        {texts.value.tables.how} <Origin of="mean">{texts.value.tables.howMean}</Origin>,{" "}
        <Origin of="spread">{texts.value.tables.howSpread}</Origin>,{" "}
        <Origin of="outsideTarget">{texts.value.tables.howOutside}</Origin>,{" "}
        <Origin of="difference">{texts.value.tables.howAgainst}</Origin>.
      </p>
    </>
  );
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
