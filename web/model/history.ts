/**
 * Undo and redo of what the user edits on the page: notes, and whatever else calls `edit`. A change is
 * remembered as the value before and after; what is only looked at (selection, filter, map) is no change.
 */
import { computed, type Signal, signal } from "@preact/signals";

export interface Change {
  /** What was done, for the button: "Note on place 2". */
  said: string;
  undo(): void;
  redo(): void;
}

/** Changes beyond this many are forgotten, oldest first. */
const LONGEST = 200;

const done = signal<readonly Change[]>([]);
const undone = signal<readonly Change[]>([]);

/** What would be undone or redone next, in words; null for nothing. */
export const nextUndo = computed(() => done.value.at(-1)?.said ?? null);
export const nextRedo = computed(() => undone.value.at(-1)?.said ?? null);

/** Sets a signal and remembers the step. Setting what stands there already is no step. */
export function edit<T>(said: string, target: Signal<T>, next: T): void {
  const before = target.peek();
  if (Object.is(before, next)) return;
  target.value = next;
  remember({
    said,
    undo: () => {
      target.value = before;
    },
    redo: () => {
      target.value = next;
    },
  });
}

/** Remembers a step that has been done already. What had been undone before it can no longer be redone. */
export function remember(change: Change): void {
  done.value = [...done.value, change].slice(-LONGEST);
  undone.value = [];
}

export function undo(): void {
  const change = done.value.at(-1);
  if (!change) return;
  done.value = done.value.slice(0, -1);
  undone.value = [...undone.value, change];
  change.undo();
}

export function redo(): void {
  const change = undone.value.at(-1);
  if (!change) return;
  undone.value = undone.value.slice(0, -1);
  done.value = [...done.value, change];
  change.redo();
}

/** For another field: its steps do not belong to the one before. */
export function forgetChanges(): void {
  done.value = [];
  undone.value = [];
}

/** Ctrl or Command with Z, Shift with it or Y for redo; a text field keeps its own undo. @returns how to stop. */
export function listenForUndoKeys(): () => void {
  const onKey = (event: KeyboardEvent) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    const key = event.key.toLowerCase();
    if (key !== "z" && key !== "y") return;
    if (
      event.target instanceof Element &&
      event.target.matches("textarea, input[type='text'], input:not([type])")
    )
      return;
    event.preventDefault();
    if (key === "y" || event.shiftKey) redo();
    else undo();
  };
  document.addEventListener("keydown", onKey);
  return () => document.removeEventListener("keydown", onKey);
}
