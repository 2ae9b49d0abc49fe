/** What the worker is asked for: the choices and the loads set by hand as they stand, one that is being moved among them. */
import type { PrescriptionRequest } from "../protocol/protocol.ts";
import { choices } from "./prescription-choices.ts";
import * as state from "./prescription-state.ts";
import * as page from "./state.ts";

export function requestNow(): PrescriptionRequest {
  const { settings } = choices.value;
  const draft = state.draft.value;
  const edits = draft
    ? { ...state.editsNow.value, [draft.soilZone]: draft.marginN }
    : { ...state.editsNow.value };
  return { settings, edits, writing: page.writing.value };
}
