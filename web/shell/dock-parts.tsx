/** The parts under the map, and those of them that the report shows too: one entry a part, all in one place. */
import type { ComponentChildren } from "preact";
import { FurrowStrip, PassChooser } from "../furrow/furrow-strip.tsx";
import * as state from "../model/state.ts";
import { SeasonsPanel } from "../seasons/seasons-panel.tsx";
import { StandAndMoney } from "../stand-and-money/panel.tsx";
import { CountsTable } from "../tables/counts-table.tsx";
import { PassZone } from "../tables/pass-zone.tsx";
import { RowUnitCharts } from "../tables/row-unit-chart.tsx";

/** Rows of the pass table a report prints; the whole table is in passes.csv. */
const LONGEST_TABLE = 40;

interface DockPart {
  /** On its button and as its heading. */
  title: string;
  body: () => ComponentChildren;
  /** Beside the buttons while it is shown. */
  tools?: () => ComponentChildren;
  /** As the report shows it, null where the report leaves it out; `body` says null where there is nothing to show. */
  inReport: { title: string; body: () => ComponentChildren | null } | null;
}

export const DOCK_PARTS: Readonly<Record<state.Dock, DockPart>> = {
  furrow: {
    title: "Furrow",
    body: () => <FurrowStrip />,
    tools: () => <PassChooser />,
    inReport: {
      title: "Furrow in long section",
      body: () =>
        state.layers.value!.passLines.features.length > 0 && (
          <>
            <p class="small">
              One dot a piece of the pass about 12 m long: mean depth over all row units, with the spread of
              depth within a row as a line.
            </p>
            <FurrowStrip chooser={true} />
          </>
        ),
    },
  },
  rows: {
    title: "Row units",
    body: () => <RowUnitCharts />,
    inReport: { title: "Row units", body: () => <RowUnitCharts /> },
  },
  passes: {
    title: "Passes by soil",
    body: () => <PassZone />,
    inReport: {
      title: "Passes by soil",
      body: () => (
        <>
          <PassZone longest={LONGEST_TABLE} />
          <p class="small">
            The {LONGEST_TABLE} rows that come first in this order; all of them are in passes.csv.
          </p>
        </>
      ),
    },
  },
  counts: { title: "Counts and digs", body: () => <CountsTable />, inReport: null },
  money: {
    title: "Stand and money",
    body: () => <StandAndMoney />,
    inReport: { title: "Stand and money", body: () => <StandAndMoney /> },
  },
  seasons: { title: "Another season", body: () => <SeasonsPanel />, inReport: null },
};
