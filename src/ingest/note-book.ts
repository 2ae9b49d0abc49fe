/** Gathers the trouble met while reading one file, one entry a kind, in the order of first appearance. */
import type { Note, NoteEffect } from "../errors.ts";

/** What a reader has to say about one record (or the whole file). */
export interface Trouble {
  reason: string;
  effect: NoteEffect;
  /** Column or property, where one value and not the whole record is meant. */
  field?: string | undefined;
  /** 1-based number of the record in the file; left out where the whole file is meant. */
  record?: number | undefined;
  /** The offending value; cut to 60 characters in the note. */
  value?: string | undefined;
  /** Records concerned when one call speaks for several; default 1. */
  count?: number | undefined;
}

const LONGEST_VALUE = 60;

export class NoteBook {
  readonly #notes = new Map<string, Note>();
  readonly #lastRecord = new Map<Note, number | undefined>();

  /**
   * Counts a trouble; the first one of its kind (same reason, field and effect) gives record and value.
   * A kind that strikes one record several times in a row counts it once.
   */
  add(trouble: Trouble): void {
    const key = `${trouble.effect}\n${trouble.field ?? ""}\n${trouble.reason}`;
    const known = this.#notes.get(key);
    const count = trouble.count ?? 1;
    if (known) {
      if (trouble.record === undefined || trouble.record !== this.#lastRecord.get(known))
        known.count += count;
      this.#lastRecord.set(known, trouble.record);
      return;
    }
    const note: Note = {
      reason: trouble.reason,
      effect: trouble.effect,
      count,
      field: trouble.field ?? null,
      firstRecord: trouble.record ?? null,
      value: trouble.value === undefined ? null : shorten(trouble.value),
    };
    this.#notes.set(key, note);
    this.#lastRecord.set(note, trouble.record);
  }

  /** The notes so far, in the order each kind was first met. */
  notes(): Note[] {
    return [...this.#notes.values()];
  }
}

function shorten(value: string): string {
  return value.length > LONGEST_VALUE ? `${value.slice(0, LONGEST_VALUE - 1)}…` : value;
}
