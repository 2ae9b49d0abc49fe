/** Before a field is on the page: what to bring, where it stays, and what went wrong if something did. */
import { useEffect, useRef } from "preact/hooks";
import { findKeptFields, forgetField, keptFields } from "../client/kept-fields.ts";
import { openChosenFiles, openKept, openSample, stopWork } from "../client/open-field.ts";
import * as state from "../model/state.ts";
import { groupThousands } from "../words/format.ts";
import { texts } from "../words/texts/texts.ts";
import { FurrowEmblem } from "./furrow-emblem.tsx";

export function Welcome() {
  const phase = state.phase.value;
  const said = texts.value.welcome;
  return (
    <section class="welcome" aria-labelledby="welcome-title">
      <FurrowEmblem />
      <h2 id="welcome-title">{said.title}</h2>
      {phase.kind === "error" && <TroubleSaid {...phase} />}
      <p class="welcome-said" role="status">
        {phase.kind === "empty" && phase.said}
      </p>
      <p>{said.drop(<code>field.json</code>)}</p>
      <div class="welcome-actions">
        <OpenFields title={said.choose} main={true} />
        <button type="button" onClick={() => openSample()}>
          {said.sample}
        </button>
        {state.findingsDocument.value && (
          <button
            type="button"
            onClick={() => {
              state.phase.value = { kind: "ready" };
            }}
          >
            {said.backTo(state.findingsDocument.value.field.name)}
          </button>
        )}
      </div>
      <Kept />
      <p class="small">{said.privacy}</p>
    </section>
  );
}

/** Fields whose files the user had the browser keep. */
function Kept() {
  const kept = keptFields.value;
  useEffect(() => void findKeptFields(), []);
  if (kept.length === 0) return null;
  const said = texts.value.welcome;
  return (
    <section class="kept" aria-labelledby="kept-title">
      <h3 id="kept-title">{said.kept}</h3>
      <ul>
        {kept.map(({ name, files, bytes }) => (
          <li key={name}>
            <button type="button" onClick={() => void openKept(name)}>
              {name}
            </button>
            <span class="small">
              {said.size(files, groupThousands(String(files)), groupThousands((bytes / 1e6).toFixed(1)))}
            </span>
            <button type="button" class="link" onClick={() => void forgetField(name)}>
              {said.forget}
              <span class="visually-hidden"> {name}</span>
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
        aria-label={texts.value.welcome.filesOfField}
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
  const said = texts.value.welcome;
  return (
    <div class="trouble" role="alert">
      <p>
        <strong>{ours ? said.ourFault : said.unusable}</strong>
      </p>
      <p>{message.replace(/^[a-z]+ /, (word) => word.charAt(0).toUpperCase() + word.slice(1))}</p>
      {accepted && !message.includes(accepted) && <p>{said.accepted(accepted)}</p>}
      <p>{ours ? said.afterOurs : said.afterTheirs}</p>
    </div>
  );
}

export function Loading() {
  const phase = state.phase.value;
  if (phase.kind !== "loading") return null;
  const said = texts.value.welcome;
  return (
    <section class="loading" aria-label={said.atWork}>
      <p role="status">{phase.said}…</p>
      <progress max={phase.steps} value={phase.step} aria-label={said.howFar} />
      <p class="loading-foot">
        <span class="small">{said.step(phase.step + 1, phase.steps)}</span>
        <button type="button" onClick={stopWork}>
          {said.cancel}
        </button>
      </p>
    </section>
  );
}
