/** The sentences of the open field as the page needs them now. */
import { choices, NO_CHOICES } from "../model/prescription-choices.ts";
import * as state from "../model/state.ts";
import { engineAtWork } from "./open-field.ts";

/**
 * Fetches the sentences as the page writes them where the worker has written them otherwise only, and those of the loads
 * that were still to come or were chosen since.
 */
export async function fetchWords(): Promise<void> {
  const engine = engineAtWork();
  if (!engine || !state.wordsMissing.value) return;
  const chosen = choices.value;
  const writing = state.writing.value;
  const request =
    chosen === NO_CHOICES
      ? { settings: {}, edits: {}, writing }
      : (await import("../model/prescription-request.ts")).requestNow();
  const outcome = await engine.documentIn(request);
  // Meanwhile another field may have been opened, or more been chosen, which is asked for by itself.
  if (engine !== engineAtWork() || chosen !== choices.value) return;
  if (outcome.ok) state.addDocument(writing, outcome.view, chosen);
  else state.phase.value = { kind: "error", ...outcome.trouble };
}
