/** The report in reading order: answer, ledger, map, strip, row units, passes, what it rests on, field sheet. */
import notices from "../../THIRD-PARTY-NOTICES.md?raw";
import { Header } from "../app/header.tsx";
import { Inputs } from "../app/inputs.tsx";
import { Ledger } from "../app/ledger.tsx";
import { OriginDialog } from "../app/origin.tsx";
import * as state from "../app/state.ts";
import { FurrowStrip } from "../furrow/furrow-strip.tsx";
import { Maps } from "../map/maps.tsx";
import { PrescriptionSection } from "../prescription/report-section.tsx";
import { StandAndMoney } from "../stand-and-money/panel.tsx";
import { PassZone } from "../tables/pass-zone.tsx";
import { RowUnitCharts } from "../tables/row-unit-chart.tsx";
import { FieldSheet } from "./field-sheet.tsx";
import { Methods } from "./methods.tsx";
import { FarmSummary } from "./summary.tsx";

/** Rows of the pass table a report prints; the whole table is in passes.csv. */
const LONGEST_TABLE = 40;

export function Report() {
  const findings = state.findingsDocument.value;
  if (!findings) {
    return (
      <main class="report">
        <p>This is the empty template of a report; `evenstand analyse` fills it.</p>
      </main>
    );
  }
  return (
    <div class="report">
      <Header onOpen={null} />
      <main>
        <FarmSummary />
        <Ledger openAll={true} />
        <section class="report-map" aria-label="Map and readout">
          <Maps signsOpen={true} />
          <p class="readout" role="status">
            {state.readout.value}
          </p>
        </section>
        {state.layers.value!.passLines.features.length > 0 && (
          <section aria-labelledby="furrow-title">
            <h2 id="furrow-title">Furrow in long section</h2>
            <p class="small">
              One dot a piece of the pass about 12 m long: mean depth over all row units, with the spread of
              depth within a row as a line.
            </p>
            <FurrowStrip chooser={true} />
          </section>
        )}
        <section aria-labelledby="units-title">
          <h2 id="units-title">Row units</h2>
          <RowUnitCharts />
        </section>
        <section aria-labelledby="passes-title">
          <h2 id="passes-title">Passes by soil</h2>
          <PassZone longest={LONGEST_TABLE} />
          <p class="small">
            The {LONGEST_TABLE} rows that come first in this order; all of them are in passes.csv.
          </p>
        </section>
        <section aria-labelledby="stand-money-title">
          <h2 id="stand-money-title">Stand and money</h2>
          <StandAndMoney />
        </section>
        <PrescriptionSection />
        <FieldSheet />
        <Methods />
        <section aria-labelledby="inputs-title">
          <h2 id="inputs-title">What it rests on</h2>
          <Inputs />
        </section>
      </main>
      <OriginDialog />
      <footer class="report-foot">
        <p>
          Colours around a target: color specifications and designs developed by Cynthia Brewer
          (http://colorbrewer.org/). Colours in one direction: cividis, Nuñez, Anderton and Renslow 2018, PLoS
          ONE 13(7):e0199239.
        </p>
        <details>
          <summary>Notices of the software in this file</summary>
          <pre>{notices}</pre>
        </details>
      </footer>
    </div>
  );
}
