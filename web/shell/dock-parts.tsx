/** The parts under the map, and those of them that the report shows too: one entry a part, all in one place. */
import type { ComponentChildren } from "preact";
import { FurrowStrip, PassChooser } from "../furrow/furrow-strip.tsx";
import * as state from "../model/state.ts";
import { SeasonsPanel } from "../seasons/seasons-panel.tsx";
import { StandAndMoney } from "../stand-and-money/panel.tsx";
import { CountsTable } from "../tables/counts-table.tsx";
import { PassZone } from "../tables/pass-zone.tsx";
import { RowUnitCharts } from "../tables/row-unit-chart.tsx";
import { texts } from "../words/texts/texts.ts";

/** Rows of the pass table a report prints; the whole table is in passes.csv. */
const LONGEST_TABLE = 40;

interface DockPart {
  /** On its button and as its heading. */
  title: () => string;
  body: () => ComponentChildren;
  /** Beside the buttons while it is shown. */
  tools?: () => ComponentChildren;
  /** As the report shows it, null where the report leaves it out; `body` says null where there is nothing to show. */
  inReport: { title: () => string; body: () => ComponentChildren | null } | null;
}

export const DOCK_PARTS: Readonly<Record<state.Dock, DockPart>> = {
  furrow: {
    title: () => texts.value.dock.furrow,
    body: () => <FurrowStrip />,
    tools: () => <PassChooser />,
    inReport: {
      title: () => texts.value.dock.furrowWhole,
      body: () =>
        state.layers.value!.passLines.features.length > 0 && (
          <>
            <p class="small">{texts.value.dock.furrowSaid}</p>
            <FurrowStrip chooser={true} />
          </>
        ),
    },
  },
  rows: {
    title: () => texts.value.dock.rows,
    body: () => <RowUnitCharts />,
    inReport: { title: () => texts.value.dock.rows, body: () => <RowUnitCharts /> },
  },
  passes: {
    title: () => texts.value.dock.passes,
    body: () => <PassZone />,
    inReport: {
      title: () => texts.value.dock.passes,
      body: () => (
        <>
          <PassZone longest={LONGEST_TABLE} />
          <p class="small">{texts.value.dock.firstRows(LONGEST_TABLE)}</p>
        </>
      ),
    },
  },
  counts: { title: () => texts.value.dock.counts, body: () => <CountsTable />, inReport: null },
  money: {
    title: () => texts.value.dock.money,
    body: () => <StandAndMoney />,
    inReport: { title: () => texts.value.dock.money, body: () => <StandAndMoney /> },
  },
  seasons: { title: () => texts.value.dock.seasons, body: () => <SeasonsPanel />, inReport: null },
};
