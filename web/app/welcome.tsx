/** Before a field is on the page: what to bring, where it stays, and what went wrong if something did. */
import { useRef } from "preact/hooks";
import { openChosenFiles, openSample } from "../engine/open-field.ts";
import { FurrowEmblem } from "./furrow-emblem.tsx";
import * as state from "./state.ts";

export function Welcome() {
  const chooser = useRef<HTMLInputElement>(null);
  const phase = state.phase.value;
  return (
    <section class="welcome" aria-labelledby="welcome-title">
      <FurrowEmblem />
      <h2 id="welcome-title">Where did the stand come up uneven, and why?</h2>
      {phase.kind === "error" && <TroubleSaid {...phase} />}
      <p>
        Drop the planter's log here, with the soil map, stand counts, digs and boundary if you have them
        (shapefile, zipped or loose, GeoJSON or CSV), or the whole folder of a field with its{" "}
        <code>field.json</code>. The log alone is enough to begin; everything else sharpens the answer.
      </p>
      <div class="welcome-actions">
        <button type="button" class="main-action" onClick={() => chooser.current?.click()}>
          Choose files
        </button>
        <button type="button" onClick={() => openSample()}>
          Open the sample
        </button>
        {state.findingsDocument.value && (
          <button
            type="button"
            onClick={() => {
              state.phase.value = { kind: "ready" };
            }}
          >
            Back to {state.findingsDocument.value.field.name}
          </button>
        )}
        <input
          ref={chooser}
          class="visually-hidden"
          type="file"
          multiple
          tabIndex={-1}
          aria-label="Files of one field"
          onChange={(event) => {
            const files = [...(event.currentTarget.files ?? [])];
            event.currentTarget.value = "";
            if (files.length > 0) openChosenFiles(files);
          }}
        />
      </div>
      <p class="small">
        Your files stay on this computer: the page works on them itself and sends nothing anywhere. The sample
        is an invented field.
      </p>
    </section>
  );
}

function TroubleSaid({
  message,
  accepted,
  ours,
}: {
  message: string;
  accepted: string | null;
  ours: boolean;
}) {
  return (
    <div class="trouble" role="alert">
      <p>
        <strong>{ours ? "Evenstand met a fault of its own." : "These files could not be used."}</strong>
      </p>
      <p>{message}</p>
      {accepted && <p>Accepted would be: {accepted}</p>}
    </div>
  );
}

export function Loading() {
  const phase = state.phase.value;
  if (phase.kind !== "loading") return null;
  return (
    <section class="loading" aria-label="At work">
      <p role="status">{phase.said}…</p>
      <progress max={phase.steps} value={phase.step} aria-label="How far the work is" />
    </section>
  );
}
