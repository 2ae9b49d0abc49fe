/** Before a field is on the page: what to bring, where it stays, and what went wrong if something did. */
import { useEffect, useRef } from "preact/hooks";
import { findKeptFields, forgetField, keptFields } from "../client/kept-fields.ts";
import { openChosenFiles, openKept, openSample, stopWork } from "../client/open-field.ts";
import * as state from "../model/state.ts";
import { groupThousands, plural } from "../words/format.ts";
import { FurrowEmblem } from "./furrow-emblem.tsx";

export function Welcome() {
  const phase = state.phase.value;
  return (
    <section class="welcome" aria-labelledby="welcome-title">
      <FurrowEmblem />
      <h2 id="welcome-title">Where did the stand come up uneven, and why?</h2>
      {phase.kind === "error" && <TroubleSaid {...phase} />}
      <p class="welcome-said" role="status">
        {phase.kind === "empty" && phase.said}
      </p>
      <p>
        Drop the planter's log here, with the soil map, stand counts, digs and boundary if you have them
        (shapefile, zipped or loose, GeoJSON or CSV), or the whole folder of a field with its{" "}
        <code>field.json</code>. The log alone is enough to begin; everything else sharpens the answer.
      </p>
      <div class="welcome-actions">
        <OpenFields title="Choose files" main={true} />
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
      </div>
      <Kept />
      <p class="small">
        Your files stay on this computer: the page works on them itself and sends nothing anywhere. The sample
        is an invented field. A session file saved earlier opens the same way.
      </p>
    </section>
  );
}

/** Fields whose files the user had the browser keep. */
function Kept() {
  const kept = keptFields.value;
  useEffect(() => void findKeptFields(), []);
  if (kept.length === 0) return null;
  return (
    <section class="kept" aria-labelledby="kept-title">
      <h3 id="kept-title">Kept in this browser</h3>
      <ul>
        {kept.map(({ name, files, bytes }) => (
          <li key={name}>
            <button type="button" onClick={() => void openKept(name)}>
              {name}
            </button>
            <span class="small">
              {plural(files, "file")}, {groupThousands((bytes / 1e6).toFixed(1))} MB
            </span>
            <button type="button" class="link" onClick={() => void forgetField(name)}>
              Forget<span class="visually-hidden"> {name}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** The button that lets files be chosen. */
export function OpenFields({ title, main = false }: { title: string; main?: boolean }) {
  const chooser = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" class={main ? "main-action" : undefined} onClick={() => chooser.current?.click()}>
        {title}
      </button>
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
    </>
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
      <p>{message.replace(/^[a-z]+ /, (word) => word.charAt(0).toUpperCase() + word.slice(1))}</p>
      {accepted && !message.includes(accepted) && <p>Accepted would be: {accepted}</p>}
      <p>
        {ours
          ? "Your files are as they were. Try once more, or with the log alone; if it comes again, report it with the words above."
          : "Nothing was changed. Choose other files below, or mend this one and choose it again."}
      </p>
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
      <p class="loading-foot">
        <span class="small">
          Step {phase.step + 1} of {phase.steps}
        </span>
        <button type="button" onClick={stopWork}>
          Cancel
        </button>
      </p>
    </section>
  );
}
