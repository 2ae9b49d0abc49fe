/** What the user chose about the prescription. Apart from the rest, so that a session can hold it without loading it. */
import { signal } from "@preact/signals";
import type { PrescriptionSettings, ZoneEdits } from "../../src/prescription/prescription.ts";
import type { Moisture } from "../../src/vocabulary/moisture.ts";

export interface Choices {
  settings: Partial<PrescriptionSettings>;
  /** Loads set by hand, N, for the state of the ground each was set in. */
  edits: Partial<Record<Moisture, ZoneEdits>>;
}

export const NO_CHOICES: Readonly<Choices> = { settings: {}, edits: {} };
export const choices = signal<Readonly<Choices>>(NO_CHOICES);
