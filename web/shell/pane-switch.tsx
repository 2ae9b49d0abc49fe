/** Beside the map: the ledger of what went wrong, or the prescription of what to set. The latter is loaded when called for. */
import { useEffect, useState } from "preact/hooks";
import { type Pane, pane } from "../model/prescription-pane.ts";
import * as page from "../model/state.ts";

const PANES: readonly (readonly [Pane, string])[] = [
  ["ledger", "What went wrong"],
  ["prescription", "What to set"],
];

export function PaneSwitch() {
  if (page.phase.value.kind !== "ready") return null;
  return (
    <nav class="pane-switch" aria-label="Beside the map">
      {PANES.map(([name, title]) => (
        <button
          key={name}
          type="button"
          aria-pressed={pane.value === name}
          onClick={() => {
            pane.value = name;
          }}
        >
          {title}
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
