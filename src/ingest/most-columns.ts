/** How many columns a layer may have: a file made to exhaust the memory has one for each of its records. */
import type { NoteBook } from "./note-book.ts";

/** Values of a layer (256 MiB of numbers) beyond which it may have no more columns than a log has (our judgement). */
const FREE_VALUES = 2 ** 25;
const COLUMNS_OF_ANY_LOG = 64;
/** No table of a field has more (our judgement). */
export const MOST_COLUMNS = 10_000;

export function mostColumns(records: number): number {
  return Math.min(MOST_COLUMNS, Math.max(COLUMNS_OF_ANY_LOG, Math.floor(FREE_VALUES / Math.max(1, records))));
}

/** Tells of columns that are not read for their number. */
export function noteTooManyColumns(notes: NoteBook, value: string, count = 1): void {
  notes.add({
    reason: `more columns than would be read of so many records (${COLUMNS_OF_ANY_LOG} always, ${MOST_COLUMNS} at most); those met last are not read`,
    effect: "left out",
    value,
    count,
  });
}
