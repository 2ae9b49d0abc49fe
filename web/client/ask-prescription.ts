/** Keeps the prescription on the page in step with the choices: asks the worker, one question at a time, the latest last. */
import { effect } from "@preact/signals";
import { pane } from "../model/prescription-pane.ts";
import { requestNow } from "../model/prescription-request.ts";
import * as state from "../model/prescription-state.ts";
import * as page from "../model/state.ts";
import type { PrescriptionFiles, PrescriptionRequest } from "../protocol/protocol.ts";
import { engineAtWork } from "./open-field.ts";

let following = false;
let asking = false;
let askedFor: PrescriptionRequest | null = null;
/** What the answer on the page was asked for: a slider let go asks for what it has shown already. */
let answered = "";

/** Starts it, once; it lasts as long as the page. */
export function followChoices(): void {
  if (following) return;
  following = true;
  effect(() => {
    // Another field, or the same one worked out anew: no answer for the one before holds.
    page.ground.value;
    answered = "";
    state.clear();
  });
  effect(() => {
    const ready = page.phase.value.kind === "ready" && page.ground.value !== null;
    const request = requestNow();
    if (ready && pane.value === "prescription") ask(request);
  });
}

async function ask(request: PrescriptionRequest): Promise<void> {
  askedFor = request;
  if (asking) return;
  asking = true;
  try {
    while (askedFor) {
      const now: PrescriptionRequest = askedFor;
      askedFor = null;
      const key = JSON.stringify(now);
      if (key !== answered) await answer(now, key);
    }
  } finally {
    asking = false;
  }
}

async function answer(request: PrescriptionRequest, key: string): Promise<void> {
  const engine = engineAtWork();
  const ground = page.ground.value;
  if (!engine) return;
  const outcome = await engine.prescribe(request);
  // Meanwhile another field may have been opened.
  if (engine !== engineAtWork() || ground !== page.ground.value) return;
  // A load that is being moved shows what has come; else the answer to what was chosen since is waited for.
  if (askedFor && state.draft.value === null) return;
  answered = key;
  if (outcome.ok) {
    state.view.value = outcome.view;
    state.trouble.value = null;
  } else {
    const { message, accepted, field } = outcome.trouble;
    const said = `${message.charAt(0).toUpperCase()}${message.slice(1)}.`;
    const words = accepted && !message.includes(accepted) ? `${said} Accepted would be: ${accepted}.` : said;
    state.trouble.value = { words, field: field ?? null };
  }
}

/** The files of the prescription as it stands. @throws {Error} with the worker's words where they cannot be made. */
export async function filesNow(): Promise<PrescriptionFiles> {
  const engine = engineAtWork();
  if (!engine) throw new Error("No field is open.");
  const outcome = await engine.prescriptionFiles(requestNow());
  if (!outcome.ok) throw new Error(outcome.trouble.message);
  return outcome.view;
}
