/** Where a finding stands in the ledger, and the way there. */
import { pane } from "../model/prescription-pane.ts";
import * as page from "../model/state.ts";
import { texts } from "../words/texts/texts.ts";

/** @param finding its id: "F5" is the entry that the ledger numbers 5. */
export function InLedger({ finding }: { finding: string }) {
  const number = finding.slice(1);
  return (
    <span class="small">
      {" "}
      <a
        href={`#entry-${finding}`}
        onClick={(event) => {
          event.preventDefault();
          // On the page the ledger stands behind the other tab; a chosen entry scrolls itself into view.
          pane.value = "ledger";
          page.selectFinding(finding);
        }}
      >
        {texts.value.prescription.numberInLedger(number)}
      </a>
    </span>
  );
}
