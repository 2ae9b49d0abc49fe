/** Beside the map: the ledger of what went wrong, or the prescription of what to set. The latter is loaded when called for. */
import { useEffect, useState } from "preact/hooks";
import { type Pane, pane } from "../model/prescription-pane.ts";
import * as page from "../model/state.ts";
import { texts } from "../words/texts/texts.ts";

const PANES: Readonly<Record<Pane, "wrong" | "toSet">> = { ledger: "wrong", prescription: "toSet" };

export function PaneSwitch() {
  if (page.phase.value.kind !== "ready") return null;
  const { header } = texts.value;
  return (
    <nav class="pane-switch" aria-label={header.besideMap}>
      {(Object.keys(PANES) as Pane[]).map((name) => (
        <button
          key={name}
          type="button"
          aria-pressed={pane.value === name}
          onClick={() => {
            pane.value = name;
          }}
        >
          {header[PANES[name]]}
        </button>
      ))}
    </nav>
  );
}

type PanelComponent = typeof import("../prescription/panel.tsx").PrescriptionPanel;

export function LazyPrescription() {
  const [panel, setPanel] = useState<{ view: PanelComponent } | null>(null);
  useEffect(() => {
    let wanted = true;
    Promise.all([import("../prescription/panel.tsx"), import("../client/ask-prescription.ts")]).then(
      ([{ PrescriptionPanel: view }, { followChoices }]) => {
        followChoices();
        if (wanted) setPanel({ view });
      },
    );
    return () => {
      wanted = false;
    };
  }, []);
  return panel ? <panel.view /> : null;
}
