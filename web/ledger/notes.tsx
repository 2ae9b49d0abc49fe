/** The user's own notes, on a finding or on the whole field. */
import { edit } from "../model/history.ts";
import * as state from "../model/state.ts";

/** @param about id of a finding, or "field". */
export function NoteField({ about, title }: { about: string; title: string }) {
  // A report has no place to keep notes in.
  if (state.manifest.value === null) return null;
  const text = state.notes.value[about] ?? "";
  const id = `note-${about}`;
  return (
    <div class={text === "" ? "note blank-note" : "note"}>
      <label for={id}>{title}</label>
      <textarea
        id={id}
        rows={text === "" ? 1 : Math.min(8, Math.max(2, text.split("\n").length))}
        maxLength={20_000}
        value={text}
        onChange={(event) => {
          const written = event.currentTarget.value;
          const { [about]: _before, ...others } = state.notes.value;
          const next = written.trim() === "" ? others : { ...others, [about]: written };
          if (written !== text) edit(title, state.notes, next);
        }}
      />
      <p class="note-printed">{text}</p>
    </div>
  );
}
