/** What the page knows of the prescription: the user's choices, the worker's answer, and what is looked at. */
import { computed, signal } from "@preact/signals";
import { editRefusal } from "../../src/prescription/edit-refusal.ts";
import type { PrescriptionSettings, ZoneEdits } from "../../src/prescription/prescription.ts";
import type { PrescriptionView } from "../../src/report/prescription-view.ts";
import { MOISTURES, type Moisture } from "../../src/vocabulary/moisture.ts";
import { edit } from "./history.ts";
import { choices, NO_CHOICES } from "./prescription-choices.ts";
import { pane } from "./prescription-pane.ts";
import * as page from "./state.ts";

/** What the map shows of the loads. */
export const MAP_MODES = ["today", "prescribed", "change"] as const;
export type MapMode = (typeof MAP_MODES)[number];
export const mapMode = signal<MapMode>("prescribed");

/** A load while its slider is being moved: asked for, but no step to undo yet. */
export const draft = signal<{ soilZone: string; marginN: number } | null>(null);

/** The worker's answer. */
export const view = signal<PrescriptionView | null>(null);
/** True while what is shown is older than a choice that cannot be: it is greyed until that is put right. */
export const isStale = computed(() => trouble.value !== null && view.value !== null);
/** True where the map shows loads instead of findings. */
export const loadsShown = computed(() => pane.value === "prescription" && view.value !== null);
/** Why there is no prescription, or not with these choices; null where there is one. */
export const trouble = signal<{ words: string; field: string | null } | null>(null);
/** The soil zone that was chosen on the map or in the cards. */
export const chosenZone = signal<string | null>(null);

export const moisture = computed<Moisture>(
  () => choices.value.settings.moisture ?? view.value?.settings.moisture ?? moistureOfManifest() ?? "fit",
);

/** As the field's own manifest has it: what holds before the worker has answered. */
function moistureOfManifest(): Moisture | undefined {
  const { moisture: written } = (page.manifest.value?.prescription ?? {}) as { moisture?: unknown };
  return MOISTURES.find((each) => each === written);
}

/** Loads set by hand in the picked state of the ground. */
export const editsNow = computed<ZoneEdits>(() => choices.value.edits[moisture.value] ?? {});

/** True where anything differs from what the field itself asks for. */
export const anythingChosen = computed(() => choices.value !== NO_CHOICES);

export function change(said: string, settings: Partial<PrescriptionSettings>): void {
  edit(said, choices, { ...choices.value, settings: { ...choices.value.settings, ...settings } });
}

/** Sets a load by hand, or takes it back where `marginN` is null. @returns why it may not be set, null where it was. */
export function setLoad(soilZone: string, marginN: number | null): string | null {
  const current = view.value;
  if (!current) return null;
  draft.value = null;
  if (marginN !== null) {
    const refusal = editRefusal(current, soilZone, marginN, page.writing.value);
    if (refusal) return refusal;
  }
  const { [soilZone]: before, ...others } = editsNow.value;
  if (marginN === (before ?? null)) return null;
  const edits = marginN === null ? others : { ...others, [soilZone]: marginN };
  edit(`Load of ${soilZone}`, choices, {
    ...choices.value,
    edits: { ...choices.value.edits, [moisture.value]: edits },
  });
  return null;
}

/** Back to what the field asks for; a step that can be undone. */
export function reset(): void {
  edit("Back to the advice", choices, NO_CHOICES);
}

/** For another field; what was chosen goes with the field itself. */
export function clear(): void {
  draft.value = null;
  view.value = null;
  trouble.value = null;
  chosenZone.value = null;
  mapMode.value = "prescribed";
}
