/** The report in reading order: answer, ledger, map, strip, row units, passes, what it rests on, field sheet. */
import notices from "../../THIRD-PARTY-NOTICES.md?raw";
import { OriginDialog } from "../controls/origin.tsx";
import { FarmSummary } from "../ledger/farm-summary.tsx";
import { Inputs } from "../ledger/inputs.tsx";
import { Ledger } from "../ledger/ledger.tsx";
import { view } from "../model/prescription-state.ts";
import * as state from "../model/state.ts";
import { PrescriptionSection } from "../prescription/report-section.tsx";
import { DOCK_PARTS } from "../shell/dock-parts.tsx";
import { Header } from "../shell/header.tsx";
import { Maps } from "../shell/maps.tsx";
import { texts } from "../words/texts/texts.ts";
import { FieldSheet } from "./field-sheet.tsx";
import { Methods } from "./methods.tsx";
import { Part } from "./part.tsx";

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
      <Header onOpen={null} report={true} />
      <main>
        <FarmSummary />
        <section class="report-map" aria-label={texts.value.short.mapAndReadout}>
          <Maps signsOpen={true} />
          <p class="readout" role="status">
            {state.readout.value}
          </p>
        </section>
        <Ledger openAll={true} />
        {state.DOCKS.map((name) => {
          const { inReport } = DOCK_PARTS[name];
          const body = inReport?.body();
          return body ? (
            <Part key={name} title={inReport!.title()}>
              {body}
            </Part>
          ) : null;
        })}
        {view.value && (
          <Part title={texts.value.header.toSet}>
            <PrescriptionSection />
          </Part>
        )}
        <FieldSheet />
        <Part title={texts.value.short.howWorked}>
          <Methods />
        </Part>
        <Part title={texts.value.ledger.restsOn}>
          <Inputs />
        </Part>
      </main>
      <OriginDialog />
      <footer class="report-foot">
        <p>
          Colours around a target: color specifications and designs developed by Cynthia Brewer
          (http://colorbrewer.org/). Colours in one direction: cividis, Nuñez, Anderton and Renslow 2018, PLoS
          ONE 13(7):e0199239.
        </p>
        <details>
          <summary>{texts.value.short.notices}</summary>
          <pre>{notices}</pre>
        </details>
      </footer>
    </div>
  );
}
