/** Under the map: the furrow strip, the row units, the passes by soil, the counts, stand and money, or another season; one at a time. */
import { FurrowStrip, PassChooser } from "../furrow/furrow-strip.tsx";
import { paneSizes, setPane } from "../model/panes.ts";
import * as state from "../model/state.ts";
import { SeasonsPanel } from "../seasons/seasons-panel.tsx";
import { StandAndMoney } from "../stand-and-money/panel.tsx";
import { CountsTable } from "../tables/counts-table.tsx";
import { PassZone } from "../tables/pass-zone.tsx";
import { RowUnitCharts } from "../tables/row-unit-chart.tsx";

const CHOICES: readonly (readonly [state.Dock, string])[] = [
  ["furrow", "Furrow"],
  ["rows", "Row units"],
  ["passes", "Passes by soil"],
  ["counts", "Counts and digs"],
  ["money", "Stand and money"],
  ["seasons", "Another season"],
];

export function DockPanel() {
  const chosen = state.dock.value;
  const title = CHOICES.find(([name]) => name === chosen)![1];
  return (
    <section class="dock" data-shows={chosen} aria-label="Passes and row units">
      <div class="dock-choice">
        {CHOICES.map(([name, words]) => (
          <button
            key={name}
            type="button"
            aria-pressed={chosen === name}
            onClick={() => {
              state.dock.value = name;
              const { dock } = paneSizes.value;
              if (dock.shut) setPane("dock", { ...dock, shut: false });
            }}
          >
            {words}
          </button>
        ))}
        {chosen === "furrow" && <PassChooser />}
      </div>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region has to be reachable by keyboard */}
      <section class="dock-body" tabIndex={0} aria-label={title}>
        <h2 class="visually-hidden">{title}</h2>
        {chosen === "furrow" && <FurrowStrip />}
        {chosen === "rows" && <RowUnitCharts />}
        {chosen === "passes" && <PassZone />}
        {chosen === "counts" && <CountsTable />}
        {chosen === "money" && <StandAndMoney />}
        {chosen === "seasons" && <SeasonsPanel />}
      </section>
    </section>
  );
}
